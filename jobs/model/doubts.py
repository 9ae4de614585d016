"""What a job says that is legal but hardly meant: a digit too many, another unit. It is told and never refused."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from jobs.model import schema
from jobs.model.choices import Run
from jobs.model.job import Job, allowances_of
from jobs.model.problems import Code, Path, Problem, problem
from jobs.model.schema import Key, Kind, keys_of
from jobs.model.window import Window

SHORTEST_CUT = Fraction(6)
"""Inches. Common practice, no source, as are the limits beside the keys."""
_CODES = {schema.Length: Code.DOUBTFUL_LENGTH, schema.Share: Code.DOUBTFUL_SHARE}


def doubts(job: Job) -> tuple[Problem, ...]:
    """Everything in the job that is worth a second look, in the order of its keys, then between its keys."""
    return (*_values(job, ()), *_between(job))


def _values(model: Any, path: Path) -> Iterator[Problem]:
    for key in keys_of(type(model)):
        value, at = getattr(model, key.field), (*path, key.name)
        if value is None:
            continue
        if isinstance(key.kind, schema.Group):
            yield from _values(value, at)
        elif isinstance(key.kind, schema.Groups):
            for number, item in enumerate(value):
                yield from _values(item, (*at, number))
        elif isinstance(value, schema.EachSide):
            for side in schema.SIDES:
                yield from _beyond(key, getattr(value, side), (*at, side))
        elif key.doubt is not None:
            yield from _beyond(key, value, at)


def _beyond(key: Key, value: Fraction | int, path: Path) -> Iterator[Problem]:
    least, most = key.doubt or (None, None)
    code = _code(key.kind)
    if most is not None and value > most:
        yield problem(path, code, value=Fraction(value), limit=most, much=1)
    elif least is not None and value < least:
        yield problem(path, code, value=Fraction(value), limit=least, much=0)


def _code(kind: Kind) -> Code:
    return _CODES.get(type(kind), Code.DOUBTFUL_NUMBER)


def _between(job: Job) -> Iterator[Problem]:
    """Doubts that no value raises alone; ``lengths`` are those of the cuts before what the wash takes is added."""
    lengths = [_cut_length(window, job) for window in job.windows]
    for number, (window, length) in enumerate(zip(job.windows, lengths, strict=True)):
        path: Path = ("windows", number, "finished_length")
        if window.top_height is not None and window.finished_length > window.top_height:
            yield problem(path, Code.LONGER_THAN_ITS_HEIGHT, over=window.finished_length - window.top_height)
        if length < SHORTEST_CUT:
            yield problem(path, Code.SHORT_CUT, length=length)
    for number, cloth in enumerate(job.every_cloth):
        mine = [
            length for window, length in zip(job.windows, lengths, strict=True) if _is_cut_from(window, number, job)
        ]
        repeat = cloth.repeat
        if repeat is not None and cloth.run is Run.UP and repeat.along > max(mine, default=repeat.along):
            path = (*job.place_of_cloth(number), "repeat", "along")
            yield problem(path, Code.REPEAT_BEYOND_CUTS, repeat=repeat.along)


def _cut_length(window: Window, job: Job) -> Fraction:
    allowances = allowances_of(window, job.allowances)
    return window.finished_length + allowances.heading + allowances.hem


def _is_cut_from(window: Window, number: int, job: Job) -> bool:
    """Whether the face of a window is cut from the cloth of this number."""
    named = job.every_cloth[number].name.casefold()
    return window.cloth.casefold() == named or (not window.cloth and number == 0)
