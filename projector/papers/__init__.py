"""Pictures and papers: shapes recorded once, then written as PNG, SVG or PDF."""
