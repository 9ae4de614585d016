"""What has been cut: an append-only journal beside the job, one event a line, that survives a power cut."""

from jobs.journal.cannot import CannotRecord
from jobs.journal.events import BadLine, Event, Journal, fingerprint, of_another_plan, parse_journal, progress
from jobs.journal.file import JournalFile, journal_path, read_journal
from jobs.journal.lock import AlreadyOpen

__all__ = [
    "AlreadyOpen",
    "BadLine",
    "CannotRecord",
    "Event",
    "Journal",
    "JournalFile",
    "fingerprint",
    "journal_path",
    "of_another_plan",
    "parse_journal",
    "progress",
    "read_journal",
]
