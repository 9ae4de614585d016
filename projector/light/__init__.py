"""From marks in table inches to light: warp, analytic raster, letters, looks."""
