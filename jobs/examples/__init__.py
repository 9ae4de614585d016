"""Jobs a person can run."""
