"""The print of a cloth: which pairs it allows, and what a photograph tells of it."""
