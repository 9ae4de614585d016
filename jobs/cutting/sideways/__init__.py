"""Cloth run sideways: the height of a panel lies across the cloth, its flat width along the piece, without a seam."""
