"""From marks in table inches to light: warp, exact coverage, letters, styles."""
