"""What the addresses of jobs answer, a module for each kind of page."""
