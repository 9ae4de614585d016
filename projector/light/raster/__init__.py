"""Straight lines and filled outlines to the pixels of a frame, by exact coverage."""
