"""The text of a table file."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence

from calibration.height import LensPosition
from calibration.lens import Lens
from calibration.marks import Mark, TapeCheck
from projector.files.stored import Stored

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
    lines += _lens(table.lens)
    lines.append(f"placing: {{tape: {_number(table.placing.tape_in)}, pointing: {_number(table.placing.pointing_px)}}}")
    lines += _lens_position(table.lens_position)
    lines += _proof(table.tape_check)
    lines += _checks(stored.checks)
    if stored.display:
        lines.append(f"display: {json.dumps(stored.display, ensure_ascii=False)}")
    return "\n".join(lines) + "\n"


def _lens(lens: Lens | None) -> Iterable[str]:
    if lens is not None:
        terms = f"k1: {_number(lens.k1)}, k2: {_number(lens.k2)}, decentring: {_row(lens.decentring)}"
        yield f"lens: {{{terms}, centre: {_row(lens.centre_px)}, focal: {_number(lens.focal_px)}}}"


def _lens_position(position: LensPosition | None) -> Iterable[str]:
    if position is not None:
        yield f"lens_position: {{height: {_number(position.height_in)}, foot: {_row(position.foot_in)}}}"


def _proof(proof: TapeCheck | None) -> Iterable[str]:
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


def _checks(checks: Sequence[Mark]) -> Iterable[str]:
    if checks:
        yield "checks:"
    for mark in checks:
        yield f"  - {{table: {_row(mark.table)}, pixel: {_row(mark.pixel)}}}"


def _number(value: float) -> str:
    return repr(float(value))


def _row(numbers: Sequence[float]) -> str:
    return f"[{', '.join(map(_number, numbers))}]"
