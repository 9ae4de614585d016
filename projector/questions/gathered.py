"""The job that the answers so far make: they are written at their places and read as a job file."""

from __future__ import annotations

import json
from copy import deepcopy
from functools import lru_cache
from typing import Any

from jobs.io.reader import parse_job
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.problems import Path
from jobs.model.schema import Group, Groups, Kind, Two, key_at, keys_of
from jobs.model.window import Window
from projector.questions.answers import in_file
from projector.questions.said import SKIPPED, Said

_STAND_INS: dict[type, dict[str, Any]] = {
    Job: {"job": "not asked yet", "windows": [{"name": "not asked yet"}], "cloth": {}},
    Cloth: {"width": "400 in"},
    Window: {"panels": "whole", "finished_length": "1 in"},
}
"""What stands for the keys that must be there and were not asked yet."""


@lru_cache(maxsize=4)
def job_of(said: Said) -> Job:
    """The job of these answers, complete or not. A job without a window yet gets one that stands in for it.

    Raises FileRefused where the answers do not go together.
    """
    root: dict[str, Any] = {}
    for path, answer in said.answers:
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
