"""What is wrong with a job, as data: every problem at once, in words a sewing person understands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from jobs.job import Place


@dataclass(frozen=True)
class Problem:
    """One thing that stands in the way: where it is, what is wrong, what to write or do instead."""

    where: str
    what: str
    advice: str
    place: Place | None = None


class JobRefused(Exception):  # noqa: N818 - says what happened to the job
    """The job cannot be cut as written; ``problems`` holds one or more of what stands in the way."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("; ".join(f"{one.where}: {one.what}; {one.advice}" for one in self.problems))
