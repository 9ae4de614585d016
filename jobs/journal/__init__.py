"""What has been cut: an append-only journal beside the job, one event a line, that survives a power cut."""

from jobs.journal.cannot import CannotRecord
from jobs.journal.events import BadLine, Event, Journal, parse_journal
from jobs.journal.file import JournalFile, journal_path, read_journal
from jobs.journal.history import History, Made, history_of, progress
from jobs.journal.lock import AlreadyOpen
from jobs.journal.placed import fingerprint

__all__ = [
    "AlreadyOpen",
    "BadLine",
    "CannotRecord",
    "Event",
    "History",
    "Journal",
    "JournalFile",
    "Made",
    "fingerprint",
    "history_of",
    "journal_path",
    "parse_journal",
    "progress",
    "read_journal",
]
