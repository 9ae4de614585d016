"""What a calibration says, as a document for other programs and as lines for the person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from calibration import words
from calibration.advice import FIRST_MARKS, MarkAdvice, first_targets, next_mark
from calibration.checking import Check, check_against
from calibration.height import LensTooLow, possible_shift_in
from calibration.lens_doubt import LensDoubt, lens_doubt
from calibration.marks import Mark
from calibration.reach import OutOfReach
from calibration.table import Table
from calibration.uncertainty import Uncertainty
from projector.files.stored import Stored
from projector.session.saying.notices import age_days, age_in_words

Point = tuple[float, float]

CROWDED = 1.5
"""Marks that leave this many times the error that marks near the corners would leave are worth setting anew."""
THIN_IN = 1 / 16


def document(stored: Stored, points: Sequence[Point], today: date) -> dict[str, Any]:
    """What ``table --json`` prints. Raises OutOfReach when a point cannot be lit."""
    table = stored.table
    uncertainty = Uncertainty(table)
    worst = uncertainty.worst()
    residuals = zip(table.marks, table.residuals_px.tolist(), table.residuals_in.tolist(), strict=True)
    return {
        "width_px": table.width_px,
        "height_px": table.height_px,
        "gamma": table.gamma,
        "date": table.date,
        "age_days": age_days(table.date, today),
        "display": stored.display,
        "matrix": table.matrix.tolist(),
        "lens": {"k1": table.lens.k1, "k2": table.lens.k2} if table.lens else None,
        "lens_doubt": _lens(lens_doubt(table)),
        "lens_position": _lens_position(table),
        "marks": [
            {"table": list(mark.table), "pixel": list(mark.pixel), "residual_px": off_px, "residual_in": off_in}
            for mark, off_px, off_in in residuals
        ],
        "rms_px": table.rms_px,
        "worst_in": worst.error_in,
        "worst_at": list(worst.at_in),
        "advice": _advice(next_mark(table)),
        "checks": _checks(checked(stored)),
        "proof": _proof(table),
        "lit_area": table.lit_area().tolist(),
        "at": [_at(table, uncertainty, point) for point in points],
    }


def checked(stored: Stored) -> Check | None:
    """The check marks held against the fit; None without any, or where one lies past what the light reaches."""
    try:
        return check_against(stored.table, stored.checks) if stored.checks else None
    except OutOfReach:
        return None


def _at(table: Table, uncertainty: Uncertainty, point: Point) -> dict[str, Any]:
    pixel = table.to_frame([point])[0].tolist()
    return {"table": list(point), "pixel": pixel, "error_in": float(uncertainty.error_in([point])[0])}


def _lens(doubt: LensDoubt | None) -> dict[str, Any] | None:
    if doubt is None:
        return None
    return {
        "k1": doubt.k1,
        "error_in": doubt.error_in,
        "at_in": list(doubt.at_in),
        "told_by_marks": doubt.told_by_marks,
    }


def _lens_position(table: Table) -> dict[str, Any] | None:
    position = table.lens_position
    return {"height_in": position.height_in, "foot_in": list(position.foot_in)} if position else None


def _advice(advice: MarkAdvice | None) -> dict[str, Any] | None:
    if advice is None:
        return None
    return {
        "at_in": list(advice.at_in),
        "pixel": list(advice.pixel),
        "where": advice.where,
        "before_in": advice.before_in,
        "after_in": advice.after_in,
    }


def _checks(check: Check | None) -> dict[str, Any] | None:
    if check is None:
        return None
    marks = [
        {
            "table": list(one.mark.table),
            "pixel": list(one.mark.pixel),
            "missed_in": one.missed_in,
            "expected_in": one.expected_in,
            "verdict": one.verdict.value,
        }
        for one in check.marks
    ]
    return {"verdict": check.verdict.value, "tolerance_in": check.tolerance_in, "marks": marks}


def _proof(table: Table) -> dict[str, Any] | None:
    proof = table.proof
    return {"date": proof.date, "accepted": proof.accepted, "readings": len(proof.readings)} if proof else None


def lines(stored: Stored, found: dict[str, Any], today: date) -> Iterator[str]:
    """The same for a person: inches to hundredths, pixels to tenths."""
    table = stored.table
    yield f"Projector {table.width_px} x {table.height_px} pixels{f', calibrated {table.date}' if table.date else ''}"
    yield f"{len(table.marks)} marks, disagreement {found['rms_px']:.2f} px on the whole"
    for number, mark in enumerate(found["marks"], 1):
        (x, y), (u, v) = mark["table"], mark["pixel"]
        off = f"off by {mark['residual_px']:.2f} px, {mark['residual_in']:.3f} in"
        yield f"  mark {number}: {x:8.3f}, {y:8.3f} in   pixel {u:9.2f}, {v:9.2f}   {off}"
    if len(table.marks) == 4:
        yield "Four marks always agree with each other, which proves nothing. A fifth mark would test them."
    xs, ys = zip(*found["lit_area"], strict=True)
    yield f"Lit: from {min(xs):.1f} to {max(xs):.1f} in along, from {min(ys):.1f} to {max(ys):.1f} in across"
    yield from _error_lines(table, found)
    yield _lens_line(table)
    yield from _check_lines(stored, found)
    yield _height_line(table)
    yield from _proof_lines(table)
    age = age_in_words(table.date, today)
    if age:
        yield age
    for point in found["at"]:
        (x, y), (u, v) = point["table"], point["pixel"]
        yield f"  at {x:.3f}, {y:.3f} in: pixel {u:.2f}, {v:.2f}; expected error {point['error_in']:.3f} in"


def _error_lines(table: Table, found: dict[str, Any]) -> Iterator[str]:
    x, y = found["worst_at"]
    where = words.spot((x, y), table.lit_area())
    within = words.error(found["worst_in"])
    yield f"Expected error: within {within} everywhere (95 of 100), largest at {where}, near {x:.0f}, {y:.0f} in"
    advice = next_mark(table)
    if advice is not None:
        yield f"{advice.sentence()} Set it near {advice.at_in[0]:.0f}, {advice.at_in[1]:.0f} in."
    best = best_four_in(table)
    if found["worst_in"] > CROWDED * best:
        yield f"{FIRST_MARKS} There, four would bring it to {words.error(best)}."


def best_four_in(table: Table) -> float:
    """Worst 95 % error (inches) that four marks near the corners of the lit area would leave; inf past the horizon."""
    pixels = first_targets(table.width_px, table.height_px)
    try:
        places = table.to_table(pixels).tolist()
    except OutOfReach:
        return float("inf")
    marks = tuple(Mark((x, y), (u, v)) for (x, y), (u, v) in zip(places, pixels.tolist(), strict=True))
    return Uncertainty(replace(table, marks=marks, lens=None)).worst().error_in


def _lens_line(table: Table) -> str:
    doubt = lens_doubt(table)
    if doubt is None:
        assert table.lens is not None
        return f"The lens bends straight lines; the marks show it and it is taken out (k1 {table.lens.k1:+.4f})."
    return doubt.sentence()


def _check_lines(stored: Stored, found: dict[str, Any]) -> Iterator[str]:
    check = checked(stored)
    if check is None:
        if stored.checks:
            yield "A check mark lies beyond what this calibration can light: calibrate again."
        return
    for number, one in enumerate(check.marks, 1):
        (x, y), missed, expected = one.mark.table, words.length(one.missed_in), words.error(one.expected_in)
        yield f"  check mark {number}: {x:8.3f}, {y:8.3f} in   missed by {missed}, expected within {expected}"
    yield check.sentence()


def _height_line(table: Table) -> str:
    position = table.lens_position
    if position:
        x, y = position.foot_in
        return f"Lens: {words.length(position.height_in)} above the table, over {x:.1f}, {y:.1f} in"
    try:
        shift = words.error(possible_shift_in(table.lit_area(), THIN_IN))
    except LensTooLow:
        return "Where the lens is was not measured."
    return (
        f"Where the lens is was not measured: on cloth {words.length(THIN_IN)} thick the light may shift by up to "
        f"{shift}, twice that on twice the thickness. See calibrate --lens-height."
    )


def _proof_lines(table: Table) -> Iterator[str]:
    proof = table.proof
    if proof is None:
        yield "No tape proof yet. See: lightchalk tape"
    else:
        outcome = "accepted" if proof.accepted else "not accepted"
        yield f"Tape proof of {proof.date or 'an unknown date'}: {len(proof.readings)} lengths, {outcome}"
