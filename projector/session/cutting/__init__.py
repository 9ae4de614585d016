"""The session at the table with its light and its record beside the job."""
