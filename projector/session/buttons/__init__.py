"""Buttons for the mouse: each stands for a key, so that a session can be run by clicks alone."""
