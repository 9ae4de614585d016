"""The draft beside a job file: the answers so far, one a line, written whole after each of them."""

from __future__ import annotations

import json
from pathlib import Path as FilePath

from jobs.io.source import read_text
from jobs.model.problems import Path
from projector.files.write import write_own
from projector.questions.said import Said

HEAD = "# Answers of lightchalk new, kept until the job file is written."


class NotADraft(Exception):  # noqa: N818 - says what the file is
    """The file beside the job is no draft of this program."""


def draft_of(path: FilePath) -> FilePath:
    """Where the answers for this job file are kept."""
    return path.with_name(path.name + ".draft")


def keep(path: FilePath, said: Said) -> None:
    """Bring the answers to the disk. Raises CannotWrite, also for a file of somebody else's there."""
    lines = [HEAD, *(json.dumps(answer, ensure_ascii=False) for answer in said.answers)]
    write_own(path, "\n".join(lines) + "\n", lambda found: not found or found.startswith(HEAD.encode()))


def kept(file: FilePath) -> tuple[tuple[Path, str], ...]:
    """The answers of a draft, not yet checked. Raises NotADraft, and FileRefused where the file cannot be read."""
    head, *lines = read_text(file).splitlines() or [""]
    if head != HEAD:
        raise NotADraft
    answers = []
    for line in lines:
        try:
            path, answer = json.loads(line)
        except (ValueError, TypeError):
            raise NotADraft from None
        if not isinstance(path, str | list) or not isinstance(answer, str):
            raise NotADraft
        answers.append((tuple(path) if isinstance(path, list) else (path,), answer))
    return tuple(answers)
