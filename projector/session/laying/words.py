"""What is said while the cloth is laid: the cross in hand, what was measured, what is still off, what to pull."""

from __future__ import annotations

import math
from fractions import Fraction

from calibration import words
from calibration.print_fit import PrintFit
from calibration.print_laying import Laying
from calibration.print_measures import largest_difference_in, measured, square_mismatch
from calibration.print_terms import Term
from jobs.job import Follow, Job, Unit
from jobs.lengths import show_length
from jobs.plan import Stop
from projector.session.controls.actions import Action
from projector.session.controls.keys import Keys, spoken
from projector.session.state.marking import Marking

Lines = tuple[tuple[str, float], ...]
CM_PER_IN = 2.54
LONGER_IN = 1 / 16
"""A cut that comes out longer or shorter by less than this is as planned."""


def nothing_to_lay_by() -> str:
    """Why key L does nothing on this cloth."""
    return (
        "This cloth has no print to lay it by, or its repeat across is not known.\n"
        "Lay it by its selvedge and move the light with the arrow keys, or give the repeat in the job."
    )


def marking_lines(marking: Marking, keys: Keys, unit: Unit) -> Lines:
    """The words beside the cross in hand."""
    row, column = marking.proposed
    enter, back = spoken(Action.CUT_DONE, keys), spoken(Action.PREVIOUS_STOP, keys)
    forward = spoken(Action.NEXT_STOP, keys)
    number = len(marking.points) + 1
    if marking.known and not marking.points:
        title = "Is the cloth where it was? Confirm one motif point"
    else:
        title = f"Motif point {number}: move the cross onto it"
    rows = f"{spoken(Action.TURN_LEFT, keys)} {spoken(Action.TURN_RIGHT, keys)}"
    columns = f"{spoken(Action.THINNER, keys)} {spoken(Action.WIDER, keys)}"
    said = [
        (title, 1.5),
        (f"Row {row}, column {column} ({rows} count rows, {columns} columns)", 1.0),
        ("Arrow keys 1/16 in, with Shift 1/2, with Ctrl 1/64, or the mouse. Any motif point will do.", 1.0),
        (f"{enter} or {forward}: it lies on the motif", 1.2),
        (f"{back}: take the last point back" if marking.points else f"{back}: leave the light as it is", 1.0),
    ]
    if marking.points:
        said.append((f"{spoken(Action.LAY, keys)}: enough, see what they say", 1.0))
    other = "move the light to the cloth" if marking.to_light else "move the cloth to the light instead"
    said.append((f"{spoken(Action.MATCH_MARKS, keys)}: {other}", 0.9))
    if marking.to_light:
        said.insert(1, (still_off(marking, unit), 1.2))
    said += [(text, 1.1) for text in (marking.refused, *_doubts(marking.laying)) if text]
    return tuple(said)


def laid_lines(marking: Marking, job: Job, keys: Keys, plan_says: str = "", *, may_replan: bool = False) -> Lines:
    """What the points say of the cloth, with the verdict, and what to do next."""
    laying, unit = marking.laying, job.unit
    if laying is None:
        return ()
    enter, lay_key = spoken(Action.CUT_DONE, keys), spoken(Action.LAY, keys)
    back = spoken(Action.PREVIOUS_STOP, keys)
    said: list[tuple[str, float]] = [("How the cloth lies", 1.6)]
    said += [(text, 1.0) for text in _sizes(laying, job)]
    said += [(text, 1.0) for text in _verdicts(laying, job)]
    off = words.length(largest_difference_in(laying.fit, *marking.cut), unit.value)
    said.append((f"Cut by the plan's numbers alone, this cut would miss the print by up to {off}", 1.0))
    said += [(text, 1.1) for text in _longer(laying, marking, unit)]
    if job.cloth.follow is Follow.SELVEDGE:
        said.append((_square(laying, job), 1.0))
    if marking.to_light:
        said.append((still_off(marking, unit), 1.2))
    if plan_says:
        said.append((plan_says, 1.2))
    if laying.doubts:
        said += [(text, 1.2) for text in _doubts(laying)]
        said.append((f"{back}: take the last point back; {lay_key}: mark on", 1.2))
    else:
        said.append((f"{enter}: the light follows this", 1.3))
        if may_replan:
            said.append((f"{spoken(Action.REPLAN, keys)}: plan anew with this repeat, nothing is cut yet", 1.0))
        said.append((f"{lay_key}: one more point; {back}: take the last one back", 1.0))
    return tuple(said)


def _longer(laying: Laying, marking: Marking, unit: Unit) -> list[str]:
    """How much longer or shorter than planned the cut is lit, because it keeps to the print."""
    more = (marking.cut[1] - marking.cut[0]) * (laying.fit.stretch_along - 1)
    if abs(more) < LONGER_IN:
        return []
    way = "longer" if more > 0 else "shorter"
    size = words.length(abs(more), unit.value)
    return [f"This cut is lit {size} {way} than planned, for it keeps to the print: see to it at the hem"]


def _doubts(laying: Laying | None) -> tuple[str, ...]:
    return tuple(doubt.sentence() for doubt in laying.doubts) if laying else ()


def _sizes(laying: Laying, job: Job) -> list[str]:
    cloth, planned = measured(laying), laying.fit.lattice
    if cloth.along_uncertainty_in is None:
        return ["The repeat was not measured: it is taken as before"]
    known = _fine(cloth.along_uncertainty_in, job.unit)
    found, ticket = _fine(cloth.along_in, job.unit), _fine(planned.along_in, job.unit)
    return [f"Repeat along {found}, planned {ticket}, give or take {known}"]


def _verdicts(laying: Laying, job: Job) -> list[str]:
    cloth = measured(laying)
    said = []
    for name, term, pct, limit in (
        ("Skew", Term.SKEW, cloth.skew_pct, 100 * float(job.limits.skew)),
        ("Bow", Term.BOW, cloth.bow_pct, 100 * float(job.limits.bow)),
    ):
        if term in laying.measured:
            fits = "within" if abs(pct) <= limit + 1e-9 else "OVER"
            said.append(f"{name} {abs(pct):.2f} %, {fits} the limit of {limit:g} %")
    if any("OVER" in text for text in said):
        said.append("That is more than was agreed: ask the supplier first. No claim is taken once cloth is cut.")
    return said


def _square(laying: Laying, job: Job) -> str:
    mismatch = square_mismatch(laying.fit, float(job.cloth.selvedge + job.allowances.seam))
    seam, row = (words.length(size, job.unit.value) for size in (mismatch.seam_in, mismatch.row_in))
    return f"Cut lines stand square to the selvedge: the print will miss by {seam} at a seam, by up to {row} in a cut"


def still_off(marking: Marking, unit: Unit) -> str:
    """By how much the cloth is to be slid so that it lies where the light wants it."""
    if not marking.points:
        return "Slide the motif onto the lit targets, then confirm where it came to lie."
    last = marking.points[-1]
    wanted = marking.plain.expected(last.motif)
    x, y = (want - lies for want, lies in zip(wanted, last.table_in, strict=True))
    parts = [*_way(x, "right", "left", unit), *_way(y, "away", "nearer", unit)]
    turn = marking.plain.turn_deg - marking.fit.turn_deg
    told = marking.laying.measured if marking.laying else ()
    # Two points across the cloth cannot tell turn from skew: turning by them would make it worse.
    if (Term.SKEW in told or Term.STRETCH_ALONG in told) and abs(turn) >= 0.02:
        parts.append(f"turn it {abs(turn):.2f} degrees {'left' if turn > 0 else 'right'}")
    return f"Slide the cloth: {', '.join(parts)}" if parts else "The cloth lies where the light wants it"


def _way(size_in: float, onward: str, back: str, unit: Unit) -> list[str]:
    return (
        [] if abs(size_in) < 1 / 64 else [f"{words.length(abs(size_in), unit.value)} {onward if size_in > 0 else back}"]
    )


def pull_words(before: Stop, now: Stop, job: Job, fit: PrintFit | None = None) -> str:
    """What is pulled from one stop to the next: repeats, length as the cloth lies, and which way."""
    by = now.cloth_at_left - before.cloth_at_left
    way = "left" if by > 0 else "right"
    really = Fraction(abs(by)) if fit is None else Fraction(float(abs(by)) * fit.stretch_along)
    size = show_length(abs(by), job.unit) if fit is None else words.length(float(really), job.unit.value)
    repeat = job.cloth.repeat
    if repeat is None or (abs(by) / repeat.along).denominator != 1:
        return f"Pull the cloth {size} to the {way}"
    count = abs(by) // repeat.along
    return f"Pull {count} {'repeat' if count == 1 else 'repeats'}, {size}, to the {way}"


def unsure_note(keys: Keys) -> str:
    """Beside a stop to which the cloth was pulled since it was laid."""
    return f"the cloth was pulled since it was laid: {spoken(Action.LAY, keys)} confirms one motif point"


def _fine(value_in: float, unit: Unit) -> str:
    if unit is Unit.INCH:
        return f"{math.floor(value_in * 1000 + 0.5) / 1000:.3f} in"
    return f"{value_in * CM_PER_IN:.3f} cm" if unit is Unit.CENTIMETRE else f"{value_in * CM_PER_IN * 10:.2f} mm"
