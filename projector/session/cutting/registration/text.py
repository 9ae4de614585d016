"""The words of registering the print: the cross in hand, what was measured, what is still off."""

from __future__ import annotations

from fractions import Fraction

from calibration.registration.fitting import Term
from calibration.registration.measures import largest_difference_in, measured, square_mismatch
from calibration.registration.registering import Registration
from jobs.cutting.columns import seams
from jobs.model.choices import Follow, Unit
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.numbers import counted, show_number
from projector.session.actions import Action
from projector.session.cutting.registration.marking import Marking
from projector.session.keys import Keys, spoken
from projector.session.layout import Lines
from projector.words.edges import lies_said
from projector.words.findings import describe_outlier
from projector.words.measures import format_error, format_length
from projector.words.wording import sentence

NOTHING_TO_REGISTER_BY = (
    "This cloth has no print to lay it by, or its repeat across is not known.\n"
    "Lay it by its selvedge and move the light with the arrow keys, or give the repeat in the job."
)
MEETS_IN = 1 / 128
"""What is off by less reads as nothing on a tape."""
LONGER_IN = 1 / 16
"""A cut that comes out longer or shorter by less than this is as planned."""


def marking_text(marking: Marking, keys: Keys, unit: Unit) -> Lines:
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
    if marking.refused is not None:
        said.append((sentence(marking.refused), 1.1))
    said += [(text, 1.1) for text in _outliers(marking.registration)]
    return tuple(said)


def photographing(keys: Keys, *, on_white: bool) -> Lines:
    """What is told while the pattern is lit over the cloth, whole or ``on_white``. Not lit: it takes all the light."""
    other = "the whole pattern" if on_white else "codes on a white field"
    lay, leave = spoken(Action.LAY, keys), spoken(Action.LEAVE, keys)
    return (
        ("Photograph the cloth", 1.5),
        (
            "Stand where you see all of the light and the cloth's edges. Hold still, and keep shadows off the cloth.",
            1.0,
        ),
        (f"{spoken(Action.COLOURS, keys)}: {other}, where the print is not found so", 1.0),
        (f"{lay}: by hand instead; {leave}: do without", 1.0),
    )


def photographing_back(cut: Cut, keys: Keys) -> Lines:
    """The same of a panel that is cut and laid back."""
    return (
        ("Photograph the panel that is cut", 1.5),
        (f"{lies_said(cut)}.", 1.0),
        ("Stand where you see all of the light. Hold still, and keep shadows off the cloth.", 1.0),
        (f"{spoken(Action.LEAVE, keys)}: do without", 1.0),
    )


def registration_text(
    marking: Marking, job: Job, keys: Keys, plan_says: str = "", *, may_replan: bool = False
) -> Lines:
    """What the points say of the cloth, with the verdict, and what to do next."""
    found, unit = marking.registration, job.unit
    if found is None:
        return ()
    enter, lay_key = spoken(Action.CUT_DONE, keys), spoken(Action.LAY, keys)
    back = spoken(Action.PREVIOUS_STOP, keys)
    said: list[tuple[str, float]] = [("How the cloth lies", 1.6)]
    said += [(text, 1.0) for text in _sizes(found, job)]
    said += [(text, 1.0) for text in _verdicts(found, job)]
    off = largest_difference_in(found.fit, *marking.cut)
    missed = "meet the print" if off < MEETS_IN else f"miss the print by up to {format_length(off, unit.value)}"
    said.append((f"Cut by the plan's numbers alone, this cut would {missed}", 1.0))
    said += [(text, 1.1) for text in _longer(found, marking, unit)]
    if job.cloth.follow is Follow.SELVEDGE:
        said.append((_square(found, job), 1.0))
    if marking.to_light:
        said.append((still_off(marking, unit), 1.2))
    if plan_says:
        said.append((plan_says, 1.2))
    if marking.row_in_question is not None:
        row = marking.row_in_question
        asked = f"Crosses stand on row {row}: {counted(row, 'row')} before it on this piece?"
        if row <= 0:
            asked = "Crosses stand on the first row of this piece?"
        said.append((f"{asked} If not, lay it by hand", 1.1))
    if found.outliers:
        said += [(text, 1.2) for text in _outliers(found)]
        said.append((f"{back}: take the last point back; {lay_key}: mark on", 1.2))
    else:
        said.append((f"{enter}: the light follows this", 1.3))
        if may_replan:
            said.append((f"{spoken(Action.REPLAN, keys)}: plan anew with this repeat, nothing is cut yet", 1.0))
        if marking.photographed:
            said.append((f"{lay_key}: by hand instead; {back}: take another photograph", 1.0))
        else:
            said.append((f"{lay_key}: more points; {back}: take the last one back", 1.0))
    return tuple(said)


def _longer(found: Registration, marking: Marking, unit: Unit) -> list[str]:
    """How much longer or shorter than planned the cut is lit, because it keeps to the print."""
    more = (marking.cut[1] - marking.cut[0]) * (found.fit.stretch_along - 1)
    if abs(more) < LONGER_IN:
        return []
    way = "longer" if more > 0 else "shorter"
    size = format_length(abs(more), unit.value)
    return [f"This cut is lit {size} {way} than planned, for it keeps to the print: see to it at the hem"]


def _outliers(found: Registration | None) -> tuple[str, ...]:
    return tuple(describe_outlier(outlier) for outlier in found.outliers) if found else ()


def _sizes(found: Registration, job: Job) -> list[str]:
    cloth, planned = measured(found), found.fit.lattice
    if cloth.along_uncertainty_in is None:
        return ["The repeat was not measured: it is taken as before"]
    return [f"Repeat along {size_said(cloth.along_in, planned.along_in, cloth.along_uncertainty_in, job.unit)}"]


def _verdicts(found: Registration, job: Job) -> list[str]:
    cloth = measured(found)
    said, over = [], False
    for name, term, pct, limit in (
        ("Skew", Term.SKEW, cloth.skew_pct, 100 * float(job.limits.skew)),
        ("Bow", Term.BOW, cloth.bow_pct, 100 * float(job.limits.bow)),
    ):
        if term in found.measured:
            fits = abs(pct) <= limit + 1e-9
            over |= not fits
            said.append(f"{name} {abs(pct):.2f} %, {'within' if fits else 'OVER'} the limit of {limit:g} %")
    if over:
        said.append("That is more than was agreed: ask the supplier first. No claim is taken once cloth is cut.")
    return said


def _square(found: Registration, job: Job) -> str:
    lines = seams(job.cloth, job.allowances)
    mismatch = square_mismatch(found.fit, float(lines.near), float(lines.far))
    seam, row = (format_length(size, job.unit.value) for size in (mismatch.seam_in, mismatch.row_in))
    return f"Cut lines stand square to the selvedge: the print will miss by {seam} at a seam, by up to {row} in a cut"


def still_off(marking: Marking, unit: Unit) -> str:
    """By how much the cloth is to be slid so that it lies where the light wants it."""
    if not marking.points:
        return "Slide the motif onto the lit targets, then confirm where it came to lie."
    last = marking.points[-1]
    wanted = marking.plain.expected(last.motif)
    x, y = (want - lies for want, lies in zip(wanted, last.table_in, strict=True))
    parts = [
        f"{format_length(abs(by), unit.value)} {onward if by > 0 else back}"
        for by, onward, back in ((x, "right", "left"), (y, "away", "nearer"))
        if abs(by) >= 1 / 64
    ]
    turn = marking.plain.turn_deg - marking.fit.turn_deg
    measured_terms = marking.registration.measured if marking.registration else ()
    # Two points across the cloth cannot tell turn from skew: turning by them would make it worse.
    if (Term.SKEW in measured_terms or Term.STRETCH_ALONG in measured_terms) and abs(turn) >= 0.02:
        parts.append(f"turn it {abs(turn):.2f} degrees {'left' if turn > 0 else 'right'}")
    return f"Slide the cloth: {', '.join(parts)}" if parts else "The cloth lies where the light wants it"


def size_said(found_in: float, planned_in: float, known_in: float, unit: Unit) -> str:
    """A measured size of the print beside the planned one, with its uncertainty, all as a tape reads them."""
    found, planned = _repeat(found_in, unit.value), _repeat(planned_in, unit.value)
    return f"{found}, planned {planned}, give or take {format_error(known_in, unit.value)}"


def _repeat(value_in: float, unit: str) -> str:
    """A repeat as a tape reads it: over many repeats a 64th of an inch counts."""
    return f"{show_number(Fraction(round(value_in * 64), 64))} in" if unit == "in" else format_length(value_in, unit)
