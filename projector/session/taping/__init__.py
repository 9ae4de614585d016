"""The proof of the light with a tape."""
