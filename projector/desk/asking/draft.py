"""The draft beside a job file: the answers so far, one a line, written whole after each of them."""

from __future__ import annotations

import json
from pathlib import Path

from jobs.io.source import read_text
from projector.desk.asking.said import Said
from projector.files.write import write_own

HEAD = "# Answers of lightchalk new, kept until the job file is written."


class NotADraft(Exception):  # noqa: N818 - says what the file is
    """The file beside the job is no draft of this program."""


def draft_of(path: Path) -> Path:
    """Where the answers for this job file are kept."""
    return path.with_name(path.name + ".draft")


def keep(path: Path, said: Said) -> None:
    """Bring the answers to the disk. Raises CannotWrite, also for a file of somebody else's there."""
    lines = [HEAD, *(json.dumps(answer, ensure_ascii=False) for answer in said.answers)]
    write_own(path, "\n".join(lines) + "\n", lambda found: not found or found.startswith(HEAD.encode()))


def kept(path: Path) -> tuple[tuple[str, str], ...]:
    """The answers of a draft, not yet checked. Raises NotADraft, and Problems where the file cannot be read."""
    head, *lines = read_text(path).splitlines() or [""]
    if head != HEAD:
        raise NotADraft
    answers = []
    for line in lines:
        try:
            key, answer = json.loads(line)
        except (ValueError, TypeError):
            raise NotADraft from None
        if not isinstance(key, str) or not isinstance(answer, str):
            raise NotADraft
        answers.append((key, answer))
    return tuple(answers)
