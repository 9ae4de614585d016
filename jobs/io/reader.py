"""A job file, read strictly: its keys are those the model declares, and every problem is found before any is reported.

First each key is read by its kind, a stand-in in the place of whatever is refused or missing; then the rules that hold
between keys are asked, each only about values that were read soundly. The stand-ins never get out.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path as FilePath
from typing import Any, TypeVar

from jobs.cutting.cloths import jobs_of_cloths
from jobs.cutting.rows import unlevel_rooms
from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import Log, Unusable
from jobs.io.nodes import Mapping, Node, Sequence, Spoilt, parse
from jobs.io.rules import settled
from jobs.io.sheet import Sheet
from jobs.io.source import read_text
from jobs.model.choices import Unit
from jobs.model.groups import group_name
from jobs.model.job import Job
from jobs.model.problems import Code, Path
from jobs.model.schema import (
    SIDES,
    Choice,
    Colour,
    Count,
    EachSide,
    Group,
    Groups,
    Key,
    Kind,
    Length,
    Number,
    PlaneGroup,
    Several,
    Share,
    Text,
    Two,
    YesNo,
    keys_of,
)

Model = TypeVar("Model")


def read_job(path: FilePath) -> Job:
    """The job in this file; raises FileRefused with all that is wrong with it."""
    return parse_job(read_text(path), str(path))


def parse_job(text: str, file: str) -> Job:
    """The job in this text; ``file`` is the name shown in problems. Raises FileRefused."""
    log = Log(file)
    root = parse(text, log)
    sheet = Sheet(root, log)
    try:
        log.unit = _unit_of(root, log)
        job = _Reader(sheet, log.unit).model(Job, root, ())
    except Unusable:
        raise log.all() from None
    job = settled(job, sheet)
    log.raise_if_any()
    unlevel = (
        replace(notice, path=one.frame.in_file(notice.path))
        for one in jobs_of_cloths(job)
        for notice in unlevel_rooms(one.job)
    )
    return replace(job, notices=(*job.notices, *unlevel))


def _unit_of(root: Node, log: Log) -> Unit:
    """The unit of bare numbers, read before anything else; a wrong one is reported with the other keys."""
    if not isinstance(root, Mapping):
        return Unit.INCH
    return Fields(root, (), Log(log.file)).take("units", values.choice(Unit), Unit.INCH)


class _Reader:
    """Reads mappings into frozen classes by the declarations of their keys."""

    def __init__(self, sheet: Sheet, unit: Unit) -> None:
        self.sheet = sheet
        self.unit = unit

    def model(self, model: type[Model], node: Node, path: Path) -> Model:
        """The frozen class with every key read or stood in for. Raises Unusable where no mapping is there."""
        fields = Fields(node, path, self.sheet.log)
        given = {key.field: self._field(fields, key, path) for key in keys_of(model)}
        fields.close()
        return model(**given)

    def _field(self, fields: Fields, key: Key, path: Path) -> Any:
        at = (*path, key.name)
        if fields.has(key.name):
            self.sheet.given.add(at)
        stand_in = _stand_in(key.kind) if key.needed else key.taken
        take = fields.need if key.needed and not (key.instead and fields.has(key.instead)) else fields.take
        value = take(key.name, self._of_kind(key.kind), stand_in)
        if not fields.sound(key.name):
            self.sheet.unsound.add(at)
        return value

    def _of_kind(self, kind: Kind) -> values.Reader[Any]:
        match kind:
            case Length(sides=True):
                return self._each_side
            case Length():
                return values.length(self.unit, above_zero=kind.above_zero)
            case Share():
                return _share(kind)
            case Number():
                return _number(kind)
            case Count():
                return values.count(kind.least, kind.most)
            case Text():
                return values.text
            case YesNo():
                return values.yes_no
            case Colour():
                return values.colour
            case Choice():
                return values.choice(kind.words)
            case PlaneGroup():
                return _group
            case Several():
                return values.list_of(self._of_kind(kind.of), thing=kind.thing)
            case Two():
                return values.pair_of(self._of_kind(kind.of))
            case Group():
                return lambda node, path, log: self.model(kind.of, node, path)
            case Groups():
                return self._list(kind)

    def _each_side(self, node: Node, path: Path, log: Log) -> Fraction | EachSide:
        """One length for both sides, or a mapping with one for each."""
        one = values.length(self.unit)
        if not isinstance(node, Mapping):
            return one(node, path, log)
        fields = Fields(node, path, log)
        near, far = (fields.need(name, one, Fraction(0)) for name in SIDES)
        fields.close()
        return fields.whole(near if near == far else EachSide(near, far))

    def _list(self, kind: Groups) -> values.Reader[tuple[Any, ...]]:
        def read(node: Node, path: Path, log: Log) -> tuple[Any, ...]:
            if isinstance(node, Spoilt):
                raise Unusable
            if not isinstance(node, Sequence):
                raise log.refuse(node.place, path, Code.LIST_BELONGS_HERE, thing=kind.thing)
            if len(node.items) < kind.least:
                raise log.refuse(node.place, path, Code.LIST_TOO_SHORT, count=len(node.items), least=kind.least)
            return tuple(self._item(kind, item, (*path, number)) for number, item in enumerate(node.items))

        return read

    def _item(self, kind: Groups, node: Node, path: Path) -> Any:
        try:
            return self.model(kind.of, node, path)
        except Unusable:
            self.sheet.unsound.add(path)
            return stand_in_of(kind.of)


def stand_in_of(model: type[Model]) -> Model:
    """A frozen class in which every key that must be given is stood in for."""
    return model(**{key.field: _stand_in(key.kind) if key.needed else key.taken for key in keys_of(model)})


def _stand_in(kind: Kind) -> Any:
    match kind:
        case Length():
            return Fraction(1)
        case Choice():
            return next(iter(kind.words))
        case Two():
            return Fraction(1), Fraction(1)
        case Group():
            return stand_in_of(kind.of)
        case Groups():
            return ()
        case _:
            return ""


def _share(kind: Share) -> values.Reader[Fraction]:
    def read(node: Node, path: Path, log: Log) -> Fraction:
        value = values.share(node, path, log)
        if value >= kind.below and kind.below < 1:
            raise log.refuse(node.place, path, Code.SHARE_TOO_LARGE, most=kind.below)
        return value

    return read


def _number(kind: Number) -> values.Reader[Fraction]:
    bounded = values.within(values.fraction, kind.least, kind.most, below=kind.below)

    def read(node: Node, path: Path, log: Log) -> Fraction:
        value = bounded(node, path, log)
        if kind.halves and (2 * value).denominator != 1:
            raise log.refuse(node.place, path, Code.NOT_HALVES)
        return value

    return read


def _group(node: Node, path: Path, log: Log) -> str:
    value = values.written(node, path, log, "group")
    name = group_name(value)
    if name is None:
        raise log.refuse(node.place, path, Code.NOT_A_GROUP, text=value)
    return name
