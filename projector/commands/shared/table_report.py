"""What a calibration says, as a document for other programs and as lines for the person."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from calibration.advice import (
    LensUncertainty,
    MarkAdvice,
    first_targets,
    lens_shows,
    lens_uncertainty,
    next_mark,
    untested,
)
from calibration.checking import Check, check_against
from calibration.height import LensTooLow, possible_shift_in
from calibration.homography import OutOfReach
from calibration.marks import Mark
from calibration.photographed import Photographed
from calibration.table import Table
from calibration.uncertainty import Uncertainty
from jobs.model.numbers import show_number
from projector.files.table_file import Stored
from projector.session.cutting.doubts import age_days, age_in_words
from projector.words.findings import DISAGREE, describe_check, describe_lens, describe_untested, format_spot
from projector.words.measures import MM_PER_INCH, format_error, format_length, format_read

Point = tuple[float, float]

FIRST_MARKS = "Set the first four marks near the four corners of the lit area: between them the light is surest."
CROWDED = 1.5
"""Marks that leave this many times the error that marks near the corners would leave are worth setting anew."""
THIN_IN = 1 / 16
FINEST_TAPE = 64
UNSEEN_IN = 1000.0
"""A slip that shows only beyond this never shows."""
LISTED, WORST_LISTED = 16, 5
"""Up to so many marks are listed each; of more only those that fit worst."""


def document(stored: Stored, points: Sequence[Point], today: date) -> dict[str, Any]:
    """What ``table --json`` prints. Raises OutOfReach when a point cannot be lit."""
    table = stored.table
    uncertainty = Uncertainty(table)
    worst, lens = uncertainty.worst(), table.lens
    residuals = zip(table.marks, table.residuals_px.tolist(), table.residuals_in.tolist(), strict=True)
    return {
        "width_px": table.width_px,
        "height_px": table.height_px,
        "gamma": table.gamma,
        "date": table.date,
        "age_days": age_days(table.date, today),
        "display": stored.display,
        "matrix": table.matrix.tolist(),
        "lens": {"k1": lens.k1, "k2": lens.k2, "decentring": list(lens.decentring)} if lens else None,
        "lens_doubt": _lens(lens_uncertainty(uncertainty)),
        "lens_shows": lens_shows(uncertainty),
        "lens_position": _lens_position(table),
        "marks": [
            {
                "table": list(mark.table),
                "pixel": list(mark.pixel),
                "residual_px": off_px,
                "residual_in": off_in,
                "unseen_slip_in": [None if size > UNSEEN_IN else size for size in unseen],
            }
            for (mark, off_px, off_in), unseen in zip(residuals, uncertainty.smallest_slips_in().tolist(), strict=True)
        ],
        "rms_px": table.rms_px,
        "photographs": _photographs(table.photographed),
        "worst_in": max(uncertainty.everywhere_in(), worst.error_in),
        "worst_place_in": worst.error_in,
        "worst_at": list(worst.at_in),
        "hand": uncertainty.scale,
        "disagree": uncertainty.disagree,
        "advice": _advice(next_mark(table), table),
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


def _lens(doubt: LensUncertainty | None) -> dict[str, Any] | None:
    if doubt is None:
        return None
    return {
        "k1": doubt.k1,
        "error_in": doubt.error_in,
        "at_in": list(doubt.at_in),
        "told_by_marks": doubt.by_marks,
    }


def _photographs(made: Photographed | None) -> dict[str, Any] | None:
    return {"count": made.photographs, "sigma_px": made.sigma_px} if made else None


def _lens_position(table: Table) -> dict[str, Any] | None:
    position = table.lens_position
    return {"height_in": position.height_in, "foot_in": list(position.foot_in)} if position else None


def _advice(advice: MarkAdvice | None, table: Table) -> dict[str, Any] | None:
    if advice is None:
        return None
    return {
        "at_in": list(advice.at_in),
        "pixel": list(advice.pixel),
        "where": format_spot(advice.at_in, table.lit_area()),
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
    proof = table.tape_check
    return {"date": proof.date, "accepted": proof.accepted, "readings": len(proof.readings)} if proof else None


def lines(stored: Stored, found: dict[str, Any], today: date, unit: str = "in") -> Iterator[str]:
    """The same for a person who measures in ``unit``: lengths as a tape shows them, pixels to hundredths."""
    table = stored.table
    yield f"Projector {table.width_px} x {table.height_px} pixels{f', calibrated {table.date}' if table.date else ''}"
    if table.photographed is None:
        yield f"{len(table.marks)} marks, disagreement {found['rms_px']:.2f} px on the whole"
        yield from _mark_lines(found["marks"], unit)
    else:
        yield from _photographed_lines(table, table.photographed, unit)
    if len(table.marks) == 4:
        yield "Four marks always agree with each other, which proves nothing. A fifth mark would test them."
    unseen = untested(Uncertainty(table))
    if unseen is not None:
        yield describe_untested(unseen, unit)
    xs, ys = (sorted(values) for values in zip(*found["lit_area"], strict=True))
    across = f"{_rough(ys[0], unit)} to {_rough(ys[-1], unit)} {unit} across"
    yield f"Lit: from {_rough(xs[0], unit)} to {_rough(xs[-1], unit)} {unit} along, from {across}"
    yield from _error_lines(table, found, unit)
    yield from _lens_lines(table, unit)
    yield from _check_lines(stored, unit)
    yield _height_line(table, unit)
    yield from _proof_lines(table)
    age = age_in_words(table.date, today)
    if age:
        yield age
    for point in found["at"]:
        (x, y), (u, v) = point["table"], point["pixel"]
        within = f"within {format_error(point['error_in'], unit)} in 95 of 100"
        yield f"  at {_place(x, unit)}, {_place(y, unit)} {unit}: pixel {u:.2f}, {v:.2f}; {within}"


def _photographed_lines(table: Table, made: Photographed, unit: str) -> Iterator[str]:
    yield f"From {made.photographs} photographs, their corners off by {made.sigma_px:.2f} px on the whole"
    apart = format_read(math.dist(table.marks[0].table, table.marks[1].table), unit)
    yield f"Zero is the first cross, the second one lies {apart} from it along the table"


def _mark_lines(marks: Sequence[dict[str, Any]], unit: str) -> Iterator[str]:
    numbered = list(enumerate(marks, 1))
    if len(numbered) > LISTED:
        worst = sorted(numbered, key=lambda one: -one[1]["residual_in"])[:WORST_LISTED]
        yield f"Of these the {WORST_LISTED} that fit worst:"
        numbered = sorted(worst, key=lambda one: one[0])
    for number, mark in numbered:
        (x, y), (u, v) = mark["table"], mark["pixel"]
        off = f"off by {mark['residual_px']:.2f} px, {format_length(mark['residual_in'], unit)}"
        yield f"  mark {number}: {_place(x, unit):>9}, {_place(y, unit):>9} {unit}   pixel {u:8.2f}, {v:8.2f}   {off}"


def _place(value_in: float, unit: str) -> str:
    """A number of a place as a tape shows it: in inches a fraction where it is one."""
    if unit != "in":
        return f"{value_in * MM_PER_INCH / (10 if unit == 'cm' else 1):.{2 if unit == 'cm' else 1}f}"
    exact = Fraction(value_in)
    return show_number(exact) if exact.denominator <= FINEST_TAPE else f"{value_in:.3f}"


def _rough(value_in: float, unit: str) -> str:
    return f"{value_in * {'in': 1.0, 'cm': 2.54, 'mm': 25.4}[unit]:.1f}"


def _error_lines(table: Table, found: dict[str, Any], unit: str) -> Iterator[str]:
    where = format_spot(found["worst_at"], table.lit_area())
    yield f"Expected error: the whole lit area at once within {format_error(found['worst_in'], unit)}, in 95 of 100."
    yield f"A single place: within {format_error(found['worst_place_in'], unit)} where it is largest, {where}."
    if found["disagree"]:
        yield DISAGREE
    advice = found["advice"]
    if advice is not None:
        before, after = format_error(advice["before_in"], unit), format_error(advice["after_in"], unit)
        at = ", ".join(_rough(value, unit) for value in advice["at_in"])
        yield f"One more mark near {at} {unit} ({advice['where']}) brings {before} down to {after}."
    best = best_four_in(table)
    if found["worst_in"] > CROWDED * best:
        yield f"{FIRST_MARKS} There, four would bring it to {format_error(best, unit)}."


def best_four_in(table: Table) -> float:
    """Worst 95 % error (inches) that four marks near the corners of the lit area would leave; inf past the horizon."""
    pixels = first_targets(table.width_px, table.height_px)
    try:
        places = table.to_table(pixels).tolist()
    except OutOfReach:
        return float("inf")
    marks = tuple(Mark((x, y), (u, v)) for (x, y), (u, v) in zip(places, pixels.tolist(), strict=True))
    return Uncertainty(replace(table, marks=marks, lens=None, photographed=None)).everywhere_in()


def _lens_lines(table: Table, unit: str) -> Iterator[str]:
    made = Uncertainty(table)
    doubt = lens_uncertainty(made)
    if doubt is not None:
        yield describe_lens(doubt, table.lit_area(), unit)
    elif lens_shows(made) and table.lens is not None:
        yield f"The lens bends straight lines; the marks show it and it is taken out (k1 {table.lens.k1:+.4f})."


def _check_lines(stored: Stored, unit: str) -> Iterator[str]:
    check = checked(stored)
    if check is None:
        if stored.checks:
            yield "A check mark lies beyond what this calibration can light: calibrate again."
        return
    for number, one in enumerate(check.marks, 1):
        (x, y), missed = one.mark.table, format_length(one.missed_in, unit)
        at = f"{_place(x, unit):>9}, {_place(y, unit):>9} {unit}"
        yield f"  check mark {number}: {at}   missed by {missed}, expected within {format_error(one.expected_in, unit)}"
    yield describe_check(check, unit)


def _height_line(table: Table, unit: str) -> str:
    position = table.lens_position
    if position:
        x, y = (_rough(value, unit) for value in position.foot_in)
        return f"Lens: {format_length(position.height_in, unit)} above the table, over {x}, {y} {unit}"
    try:
        shift = format_error(possible_shift_in(table.lit_area(), THIN_IN), unit)
    except LensTooLow:
        return "Where the lens is was not measured."
    return (
        f"Where the lens is was not measured: on cloth {format_length(THIN_IN, unit)} thick the light may shift "
        f"by up to {shift}, twice that on twice the thickness. See calibrate --lens-height."
    )


def _proof_lines(table: Table) -> Iterator[str]:
    proof = table.tape_check
    if proof is None:
        yield "No tape proof yet. See: lightchalk tape"
    else:
        outcome = "accepted" if proof.accepted else "not accepted"
        yield f"Tape proof of {proof.date or 'an unknown date'}: {len(proof.readings)} lengths, {outcome}"
