"""What is asked of the process that works jobs out: known to the server, which loads nothing that draws or searches."""

from __future__ import annotations

from typing import Any

from jobs.model.records import dataclass

HOUSE = -1
"""In place of the number of a window: all windows of the job as they hang."""

Answer = dict[str, Any]


@dataclass(frozen=True)
class Asked:
    """A job to be worked out: its text, and which ``windows`` (from 0) are to be seen as they hang.

    ``part`` is ``look`` for what hangs alone, or ``all`` for order, plan, piece and what would save cloth as well.
    ``folder`` is where the job file lies, so that the picture of its print is found. ``file`` is the name of the job
    file in it where it shall be told how far the job is cut.
    """

    number: int
    text: str
    windows: tuple[int, ...] = (0,)
    part: str = "all"
    folder: str = ""
    file: str = ""
