"""What is measured at the table and typed: marks for a calibration, motif points of the print, readings of a tape."""

from __future__ import annotations

from pathlib import Path as FilePath

from calibration.height import LensPosition
from calibration.marks import CAREFUL, Mark, Placing, TapeCheck, TapeClass, TapeReading
from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import Log
from jobs.io.nodes import Node
from jobs.model.choices import Unit
from jobs.model.problems import Path
from jobs.model.records import dataclass
from projector.files import readers
from projector.files.codes import FileCode


@dataclass(frozen=True)
class MarksFile:
    """What a marks file says: places in inches, whatever ``unit`` it was written in.

    ``marks`` are to be fitted, ``checks`` are marks that must not be.
    """

    width_px: int
    height_px: int
    gamma: float
    unit: Unit
    marks: tuple[Mark, ...]
    checks: tuple[Mark, ...] = ()
    lens_position: LensPosition | None = None
    placing: Placing = CAREFUL


def read_marks(path: FilePath) -> MarksFile:
    """Read a marks file; raises FileRefused. How many marks a fit needs, and how they must lie, the fit says."""
    return readers.read_file(path, _marks_file)


def _marks_file(fields: Fields, log: Log) -> MarksFile:
    unit = readers.units(fields)
    width_px, height_px, gamma = fields.need("projector", readers.frame, (0, 0, 2.2))
    marks: tuple[tuple[Mark, bool], ...] = fields.need("marks", values.list_of(_mark(unit), least=1, thing="mark"), ())
    position = fields.take("lens_position", readers.lens_position(unit), None)
    placing = fields.take("placing", readers.placing(unit), CAREFUL)
    fields.close()
    fitted = tuple(mark for mark, is_check in marks if not is_check)
    checks = tuple(mark for mark, is_check in marks if is_check)
    return MarksFile(width_px, height_px, gamma, unit, fitted, checks, position, placing)


def _mark(unit: Unit) -> values.Reader[tuple[Mark, bool]]:
    def read(node: Node, path: Path, log: Log) -> tuple[Mark, bool]:
        fields = Fields(node, path, log)
        table = fields.need("table", readers.place(unit), (0.0, 0.0))
        pixel = fields.need("pixel", readers.pixel, (0.0, 0.0))
        is_check = fields.take("check", values.yes_no, False)
        fields.close()
        return fields.whole((Mark(table, pixel), is_check))

    return read


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
    return readers.read_file(path, _points_file)


def _points_file(fields: Fields, log: Log) -> PointsFile:
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


NEAREST = 1 / 16


def read_readings(path: FilePath) -> TapeCheck:
    """Read a readings file into a proof that is not yet judged and has no date; raises FileRefused."""
    return readers.read_file(path, _readings_file)


def _readings_file(fields: Fields, log: Log) -> TapeCheck:
    unit = readers.units(fields)
    tape, nearest_in = fields.take("tape", _tape(unit), (TapeClass.II, NEAREST))
    readings: tuple[TapeReading, ...] = fields.need(
        "readings", values.list_of(tape_reading(unit), least=1, thing="reading"), ()
    )
    fields.close()
    return TapeCheck(readings, tape, nearest_in)


def _tape(unit: Unit) -> values.Reader[tuple[TapeClass, float]]:
    def read(node: Node, path: Path, log: Log) -> tuple[TapeClass, float]:
        fields = Fields(node, path, log)
        tape = fields.take("class", values.choice(TapeClass), TapeClass.II)
        nearest_in = fields.take("reading", readers.inches(unit, above_zero=True), NEAREST)
        fields.close()
        return fields.whole((tape, nearest_in))

    return read


def tape_reading(unit: Unit) -> values.Reader[TapeReading]:
    """A reader of ``{from: [0, 0], to: [48, 0], tape: 48 1/16}``."""

    def read(node: Node, path: Path, log: Log) -> TapeReading:
        fields = Fields(node, path, log)
        start = fields.need("from", readers.place(unit), (0.0, 0.0))
        end = fields.need("to", readers.place(unit), (1.0, 0.0))
        tape_in = fields.need("tape", readers.inches(unit, above_zero=True), 1.0)
        fields.close()
        if fields.sound("from", "to") and start == end:
            fields.refuse("to", FileCode.SAME_PLACE)
        return fields.whole(TapeReading(start, end, tape_in))

    return read
