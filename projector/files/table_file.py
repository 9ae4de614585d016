"""The table file: a calibration on disk, read back bit for bit and refused when it was damaged or edited."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path as FilePath

import numpy as np

from calibration.height import LensPosition
from calibration.lens import Lens
from calibration.mark_checks import check_marks
from calibration.marks import CAREFUL, Mark, TapeCheck, TapeClass
from calibration.photographed import Photographed
from calibration.table import Table
from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import Log
from jobs.io.nodes import Node, Scalar
from jobs.model.choices import Unit
from jobs.model.problems import Path
from jobs.model.records import dataclass
from projector.files import readers
from projector.files.codes import FileCode
from projector.files.measurements import NEAREST, tape_reading
from projector.files.write import write_whole

SIMULATED = "simulated"
"""The screen of a calibration that was practised on the simulated table."""


@dataclass(frozen=True)
class Stored:
    """``checks`` are marks that were kept out of the fit; ``display`` names the screen it was made on, if any."""

    table: Table
    checks: tuple[Mark, ...] = ()
    display: str = ""


HEADER = """\
# A calibrated table: which pixel of the projector lights which place. Written by `lightchalk calibrate`.
# Do not change the numbers: calibrate again instead. Places in inches, pixels from the frame's top left corner.
"""


def table_text(stored: Stored) -> str:
    """The file's text. Every number is written so that reading gives the same one back, bit for bit."""
    table = stored.table
    lines = [
        HEADER.rstrip(),
        "units: in",
        f"date: {json.dumps(table.date, ensure_ascii=False)}",
        f"projector: {{width: {table.width_px}, height: {table.height_px}, gamma: {_number(table.gamma)}}}",
        "marks:",
    ]
    for mark, residual in zip(table.marks, table.residuals_px.tolist(), strict=True):
        lines.append(f"  - {{table: {_row(mark.table)}, pixel: {_row(mark.pixel)}, residual_px: {_number(residual)}}}")
    lines += ["matrix:", *(f"  - {_row(row)}" for row in table.matrix.tolist())]
    lines += _lens_lines(table.lens)
    lines.append(f"placing: {{tape: {_number(table.placing.tape_in)}, pointing: {_number(table.placing.pointing_px)}}}")
    lines += _lens_position_lines(table.lens_position)
    lines += _photographed_lines(table.photographed)
    lines += _proof_lines(table.tape_check)
    lines += _checks_lines(stored.checks)
    if stored.display:
        lines.append(f"display: {json.dumps(stored.display, ensure_ascii=False)}")
    return "\n".join(lines) + "\n"


def _lens_lines(lens: Lens | None) -> Iterable[str]:
    if lens is not None:
        terms = f"k1: {_number(lens.k1)}, k2: {_number(lens.k2)}, decentring: {_row(lens.decentring)}"
        yield f"lens: {{{terms}, centre: {_row(lens.centre_px)}, focal: {_number(lens.focal_px)}}}"


def _lens_position_lines(position: LensPosition | None) -> Iterable[str]:
    if position is not None:
        yield f"lens_position: {{height: {_number(position.height_in)}, foot: {_row(position.foot_in)}}}"


def _photographed_lines(photographed: Photographed | None) -> Iterable[str]:
    if photographed is not None:
        yield f"photographed: {{count: {photographed.photographs}, sigma_px: {_number(photographed.sigma_px)}}}"
        yield "spread:"
        yield from (f"  - {_row(row)}" for row in photographed.spread.tolist())


def _proof_lines(proof: TapeCheck | None) -> Iterable[str]:
    if proof is None:
        return
    yield "proof:"
    yield f"  date: {json.dumps(proof.date, ensure_ascii=False)}"
    yield f"  tape: {proof.tape.value}"
    yield f"  nearest: {_number(proof.nearest_in)}"
    yield f"  accepted: {'yes' if proof.accepted else 'no'}"
    yield "  readings:"
    for reading in proof.readings:
        ends = f"from: {_row(reading.start_in)}, to: {_row(reading.end_in)}"
        yield f"    - {{{ends}, tape: {_number(reading.tape_in)}}}"


def _checks_lines(checks: Sequence[Mark]) -> Iterable[str]:
    if checks:
        yield "checks:"
    for mark in checks:
        yield f"  - {{table: {_row(mark.table)}, pixel: {_row(mark.pixel)}}}"


def _number(value: float) -> str:
    return repr(float(value))


def _row(numbers: Sequence[float]) -> str:
    return f"[{', '.join(map(_number, numbers))}]"


SAME_PX = 1e-6
"""Residuals computed anew agree to far better than this many pixels; no edit that matters hides below it."""

LARGEST_ENTRY = 1e15
"""The map of a rig whose zero lies near the horizon has large entries; beyond this they carry nothing."""

Rows = tuple[tuple[float, ...], ...]


@dataclass(frozen=True)
class _Fitted:
    """A mark with the residual that was stored for it."""

    mark: Mark
    residual_px: float


def write_stored(path: FilePath, stored: Stored) -> None:
    """Write a calibration with its check marks; raises CannotWrite."""
    write_whole(path, table_text(stored))


def read_stored(path: FilePath) -> Stored:
    """Read a calibration; raises FileRefused, also when its map does not give the residuals beside its marks."""
    return readers.read_file(path, _read)


def _read(fields: Fields, log: Log) -> Stored:
    unit = readers.units(fields)
    date = fields.take("date", _maybe_text, "")
    width_px, height_px, gamma = fields.need("projector", readers.frame, (0, 0, 2.2))
    fitted: tuple[_Fitted, ...] = fields.need("marks", values.list_of(_mark(unit), least=4, thing="mark"), ())
    matrix: Rows = fields.need("matrix", _matrix, ())
    lens = fields.take("lens", _lens, None)
    placing = fields.take("placing", readers.placing(unit), CAREFUL)
    position = fields.take("lens_position", readers.lens_position(unit), None)
    photographed = fields.take("photographed", _photographed, None)
    spread: Rows = fields.take("spread", _rows, ())
    proof = fields.take("proof", _proof(unit), None)
    checks: tuple[Mark, ...] = fields.take("checks", values.list_of(_check(unit), thing="check mark"), ())
    display = fields.take("display", _maybe_text, "")
    fields.close()
    log.raise_if_any()
    marks = tuple(one.mark for one in fitted)
    table = Table(width_px, height_px, np.array(matrix), marks, gamma, date, lens, placing, position, proof)
    if photographed is not None:
        try:
            table = replace(table, photographed=Photographed(*photographed, np.array(spread)))
        except ValueError:
            fields.refuse("spread", FileCode.MAP_DOES_NOT_FIT)
    if not _reproduces(table, tuple(one.residual_px for one in fitted)):
        fields.refuse("matrix", FileCode.MAP_DOES_NOT_FIT)
    return Stored(table, checks, display)


def _reproduces(table: Table, residuals_px: tuple[float, ...]) -> bool:
    try:
        check_marks(table.marks)
        anew = table.residuals_px
    except ValueError:
        return False
    return bool((np.abs(anew - np.array(residuals_px)) <= SAME_PX).all())


def _maybe_text(node: Node, path: Path, log: Log) -> str:
    return "" if isinstance(node, Scalar) and not node.text else values.text(node, path, log)


def _mark(unit: Unit) -> values.Reader[_Fitted]:
    def read(node: Node, path: Path, log: Log) -> _Fitted:
        fields = Fields(node, path, log)
        table = fields.need("table", readers.place(unit), (0.0, 0.0))
        pixel = fields.need("pixel", readers.pixel, (0.0, 0.0))
        residual_px = fields.need("residual_px", readers.not_below_zero, 0.0)
        fields.close()
        return fields.whole(_Fitted(Mark(table, pixel), residual_px))

    return read


def _check(unit: Unit) -> values.Reader[Mark]:
    def read(node: Node, path: Path, log: Log) -> Mark:
        fields = Fields(node, path, log)
        mark = Mark(
            fields.need("table", readers.place(unit), (0.0, 0.0)), fields.need("pixel", readers.pixel, (0.0, 0.0))
        )
        fields.close()
        return fields.whole(mark)

    return read


def _photographed(node: Node, path: Path, log: Log) -> tuple[int, float]:
    fields = Fields(node, path, log)
    count = fields.need("count", readers.not_below_zero, 0.0)
    sigma_px = fields.need("sigma_px", readers.not_below_zero, 0.0)
    fields.close()
    return fields.whole((int(count), sigma_px))


def _rows(node: Node, path: Path, log: Log) -> Rows:
    row = values.list_of(readers.number_to(LARGEST_ENTRY), thing="number")
    rows: Rows = values.list_of(row, thing="row")(node, path, log)
    return rows


def _matrix(node: Node, path: Path, log: Log) -> Rows:
    rows = _rows(node, path, log)
    if [len(one) for one in rows] != [3, 3, 3] or rows[2][2] != 1.0:
        raise log.refuse(node.place, path, FileCode.NOT_A_MAP)
    return rows


def _lens(node: Node, path: Path, log: Log) -> Lens | None:
    fields = Fields(node, path, log)
    lens = Lens(
        k1=fields.need("k1", readers.number, 0.0),
        k2=fields.need("k2", readers.number, 0.0),
        centre_px=fields.need("centre", readers.pixel, (0.0, 0.0)),
        focal_px=fields.need("focal", readers.number, 1.0),
        decentring=fields.take("decentring", readers.pixel, (0.0, 0.0)),
    )
    fields.close()
    if lens.focal_px <= 0:
        raise log.refuse(fields.place_of("focal"), path, FileCode.FOCAL_NOT_ABOVE_ZERO)
    return fields.whole(lens)


def _proof(unit: Unit) -> values.Reader[TapeCheck | None]:
    def read(node: Node, path: Path, log: Log) -> TapeCheck | None:
        fields = Fields(node, path, log)
        proof = TapeCheck(
            readings=fields.need("readings", values.list_of(tape_reading(unit), thing="reading"), ()),
            tape=fields.take("tape", values.choice(TapeClass), TapeClass.II),
            nearest_in=fields.take("nearest", readers.inches(unit, above_zero=True), NEAREST),
            date=fields.take("date", _maybe_text, ""),
            accepted=fields.take("accepted", values.yes_no, False),
        )
        fields.close()
        return fields.whole(proof)

    return read
