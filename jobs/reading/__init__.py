"""Reading job files: YAML nodes with their places, then a Job; every problem of a file at once."""
