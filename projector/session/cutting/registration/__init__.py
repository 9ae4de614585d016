"""Registering: the print marked by motif points in light; what is marked, its light and its words."""
