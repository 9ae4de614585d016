"""Which way a panel lies when it does not lie upright: asked before its first cut, in words and a picture in light."""
