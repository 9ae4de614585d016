"""Files of a job: read strictly, written whole, changed in place; what keys there are is declared in ``jobs.model``."""
