"""A readings file: what a tape says of lit lengths."""

from __future__ import annotations

from pathlib import Path as FilePath

from calibration.marks import TapeCheck, TapeClass, TapeReading
from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import Log
from jobs.io.nodes import Node
from jobs.model.choices import Unit
from jobs.model.problems import Path
from projector.files import readers
from projector.files.codes import FileCode

NEAREST = 1 / 16


def read_readings(path: FilePath) -> TapeCheck:
    """Read a readings file into a proof that is not yet judged and has no date; raises FileRefused."""
    return readers.read_file(path, _read)


def _read(fields: Fields, log: Log) -> TapeCheck:
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
