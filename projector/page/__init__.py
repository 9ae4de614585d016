"""The page in a browser: the server of it, the form of a job made from its schema, and the light seen from there."""
