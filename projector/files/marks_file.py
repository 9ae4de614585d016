"""A marks file: marked points of the table and the pixels that light them, for a calibration without a window."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path as FilePath

from calibration.height import LensPosition
from calibration.marks import CAREFUL, Mark, Placing
from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import Log
from jobs.io.nodes import Node
from jobs.model.choices import Unit
from jobs.model.problems import Path
from projector.files import readers


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
    return readers.read_file(path, _read)


def _read(fields: Fields, log: Log) -> MarksFile:
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
