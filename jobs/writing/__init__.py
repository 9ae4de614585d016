"""A job as the text of a job file, which reads back as the same job."""

from jobs.writing.job_text import job_text

__all__ = ["job_text"]
