"""Disk at the rim: marks, table, points and readings files, read strictly and written whole."""
