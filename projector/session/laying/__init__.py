"""Laying the cloth at the table: motif points marked with the light, the fit they give, and how long it holds."""
