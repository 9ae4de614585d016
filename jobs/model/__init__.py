"""The job as frozen data, and the one declaration of each of its keys."""
