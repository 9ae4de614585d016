"""A points file: motif points of the print as they lie on the table, by row and column."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path as FilePath

from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import Log
from jobs.io.nodes import Node
from jobs.model.choices import Unit
from jobs.model.problems import Path
from projector.files import readers

MOST_REPEATS = 10_000


@dataclass(frozen=True)
class MotifPoint:
    """The same point of the motif in one repeat: rows count along, columns across; ``table`` in inches."""

    row: int
    column: int
    table: tuple[float, float]


@dataclass(frozen=True)
class PointsFile:
    """What a points file says: places in inches, whatever ``unit`` it was written in."""

    unit: Unit
    points: tuple[MotifPoint, ...]


def read_points(path: FilePath) -> PointsFile:
    """Read a points file of two or more points; raises FileRefused."""
    return readers.read_file(path, _read)


def _read(fields: Fields, log: Log) -> PointsFile:
    unit = readers.units(fields)
    points: tuple[MotifPoint, ...] = fields.need("points", values.list_of(_point(unit), least=2, thing="point"), ())
    fields.close()
    return PointsFile(unit, points)


def _point(unit: Unit) -> values.Reader[MotifPoint]:
    def read(node: Node, path: Path, log: Log) -> MotifPoint:
        fields = Fields(node, path, log)
        repeats = values.count(-MOST_REPEATS, MOST_REPEATS)
        point = MotifPoint(
            row=fields.need("row", repeats, 0),
            column=fields.need("column", repeats, 0),
            table=fields.need("table", readers.place(unit), (0.0, 0.0)),
        )
        fields.close()
        return fields.whole(point)

    return read
