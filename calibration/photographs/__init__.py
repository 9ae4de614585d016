"""Where the inches are, found from photographs of a lit pattern: what is lit, what a camera saw of it, the fit."""
