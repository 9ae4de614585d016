"""``lightchalk measure``: the scale, the photograph, what was found, and that put into a job."""
