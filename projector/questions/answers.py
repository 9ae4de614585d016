"""The answers given so far, kept in a draft beside the job file, and the job that they make."""

from __future__ import annotations

import json
from copy import deepcopy
from fractions import Fraction
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any

from jobs.io.reader import parse_job
from jobs.io.source import read_text
from jobs.model.choices import Unit
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.lengths import parse_length
from jobs.model.problems import Path
from jobs.model.records import dataclass
from jobs.model.schema import Group, Groups, Kind, Two, key_at, keys_of
from jobs.model.window import Window
from projector.files.write import write_own
from projector.questions.typed import SKIPPED, in_file


@dataclass(frozen=True)
class Answers:
    """Pairs of path and answer. Answers were accepted, so they can be read again.

    A path is that of a key of the job, or of a question that is none: whether there is another window, for instance.
    """

    pairs: tuple[tuple[Path, str], ...] = ()

    def has(self, path: Path) -> bool:
        """Whether this question was answered."""
        return any(path == answered for answered, _ in self.pairs)

    def text(self, path: Path, stand_in: str = "") -> str:
        """The answer as it was accepted, ``stand_in`` where there is none."""
        return dict(self.pairs).get(path, stand_in)

    def yes(self, path: Path) -> bool:
        """Whether the answer is yes."""
        return self.text(path) == "yes"

    def given(self, path: Path) -> bool:
        """Whether there is an answer other than ``skip``."""
        return self.text(path, SKIPPED[0]) not in SKIPPED

    @property
    def unit(self) -> Unit:
        """The unit of bare numbers."""
        return Unit(self.text(("units",), Unit.INCH.value))

    def length(self, path: Path) -> Fraction:
        """The answer as inches, 0 where there is none."""
        return parse_length(self.text(path), self.unit) if self.given(path) else Fraction(0)

    def plus(self, path: Path, answer: str) -> Answers:
        """The same with one answer more."""
        return Answers((*self.pairs, (path, answer)))

    def back(self) -> Answers:
        """The same without the last answer."""
        return Answers(self.pairs[:-1])


HEAD = "# Answers of lightchalk new, kept until the job file is written."


class NotADraft(Exception):  # noqa: N818 - says what the file is
    """The file beside the job is no draft of this program."""


def draft_of(path: FilePath) -> FilePath:
    """Where the answers for this job file are kept."""
    return path.with_name(path.name + ".draft")


def keep_draft(path: FilePath, answers: Answers) -> None:
    """Bring the answers to the disk. Raises CannotWrite, also for a file of somebody else's there."""
    lines = [HEAD, *(json.dumps(answer, ensure_ascii=False) for answer in answers.pairs)]
    write_own(path, "\n".join(lines) + "\n", lambda found: not found or found.startswith(HEAD.encode()))


def kept_draft(file: FilePath) -> tuple[tuple[Path, str], ...]:
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


_STAND_INS: dict[type, dict[str, Any]] = {
    Job: {"job": "not asked yet", "windows": [{"name": "not asked yet"}], "cloth": {}},
    Cloth: {"width": "400 in"},
    Window: {"panels": "whole", "finished_length": "1 in"},
}
"""What stands for the keys that must be there and were not asked yet."""


@lru_cache(maxsize=4)
def job_of(answers: Answers) -> Job:
    """The job of these answers, complete or not. A job without a window yet gets one that stands in for it.

    Raises FileRefused where the answers do not go together.
    """
    root: dict[str, Any] = {}
    for path, answer in answers.pairs:
        key = key_at(Job, path)
        if key is not None and answer not in SKIPPED:
            _put(root, path, in_file(key, answer))
    _complete(Job, root)
    return parse_job(json.dumps(root), "answers")


def _put(root: dict[str, Any], path: Path, value: str) -> None:
    """Write the value at its place; the items of a list are answered in their order."""
    node: Any = root
    for name, following in zip(path, (*path[1:], None), strict=True):
        new: Any = value if following is None else [] if isinstance(following, int) else {}
        if isinstance(node, list):
            if name == len(node):
                node.append(new)
        elif name not in node:
            node[name] = new
        node = node[name]


def _complete(model: type, node: dict[str, Any]) -> bool:
    """Stand in for what must be there and leave out what is answered by half; whether all is there then."""
    for name, value in _STAND_INS.get(model, {}).items():
        node.setdefault(name, deepcopy(value))
    for key in keys_of(model):
        inner = node.get(key.name)
        if inner is not None and not _whole(key.kind, inner):
            del node[key.name]
    return all(key.name in node for key in keys_of(model) if key.needed)


def _whole(kind: Kind, inner: Any) -> bool:
    if isinstance(kind, Group):
        return _complete(kind.of, inner)
    if isinstance(kind, Groups):
        inner[:] = [item for item in inner if _complete(kind.of, item)]
        return bool(inner)
    return not isinstance(kind, Two) or len(inner) == 2
