"""Slips of typing and reading in a set of marks: all that could be, how well each explains them, which is named."""
