"""What is said while the cloth is laid: the cross in hand, what was measured, what is still off, what to pull."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from calibration.registration.fitting import Term
from calibration.registration.measures import largest_difference_in, measured, square_mismatch
from calibration.registration.registering import Registration
from jobs.model.choices import Follow, Unit
from jobs.model.job import Job
from jobs.model.lengths import show_cut
from jobs.model.numbers import show_number
from jobs.planning.stops import laid_said, pull_said
from projector.session.actions import Action
from projector.session.keys import Keys, spoken
from projector.session.state.marking import Marking
from projector.session.state.state import Session
from projector.words.findings import describe_outlier
from projector.words.measures import format_error, format_length
from projector.words.wording import sentence

Lines = tuple[tuple[str, float], ...]
MEETS_IN = 1 / 128
"""What is off by less reads as nothing on a tape."""
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
    if marking.refused is not None:
        said.append((sentence(marking.refused), 1.1))
    said += [(text, 1.1) for text in _outliers(marking.laying)]
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
    off = largest_difference_in(laying.fit, *marking.cut)
    missed = "meet the print" if off < MEETS_IN else f"miss the print by up to {format_length(off, unit.value)}"
    said.append((f"Cut by the plan's numbers alone, this cut would {missed}", 1.0))
    said += [(text, 1.1) for text in _longer(laying, marking, unit)]
    if job.cloth.follow is Follow.SELVEDGE:
        said.append((_square(laying, job), 1.0))
    if marking.to_light:
        said.append((still_off(marking, unit), 1.2))
    if plan_says:
        said.append((plan_says, 1.2))
    if laying.outliers:
        said += [(text, 1.2) for text in _outliers(laying)]
        said.append((f"{back}: take the last point back; {lay_key}: mark on", 1.2))
    else:
        said.append((f"{enter}: the light follows this", 1.3))
        if may_replan:
            said.append((f"{spoken(Action.REPLAN, keys)}: plan anew with this repeat, nothing is cut yet", 1.0))
        said.append((f"{lay_key}: more points; {back}: take the last one back", 1.0))
    return tuple(said)


def _longer(laying: Registration, marking: Marking, unit: Unit) -> list[str]:
    """How much longer or shorter than planned the cut is lit, because it keeps to the print."""
    more = (marking.cut[1] - marking.cut[0]) * (laying.fit.stretch_along - 1)
    if abs(more) < LONGER_IN:
        return []
    way = "longer" if more > 0 else "shorter"
    size = format_length(abs(more), unit.value)
    return [f"This cut is lit {size} {way} than planned, for it keeps to the print: see to it at the hem"]


def _outliers(laying: Registration | None) -> tuple[str, ...]:
    return tuple(describe_outlier(outlier) for outlier in laying.outliers) if laying else ()


def _sizes(laying: Registration, job: Job) -> list[str]:
    cloth, planned = measured(laying), laying.fit.lattice
    if cloth.along_uncertainty_in is None:
        return ["The repeat was not measured: it is taken as before"]
    return [f"Repeat along {size_said(cloth.along_in, planned.along_in, cloth.along_uncertainty_in, job.unit)}"]


def _verdicts(laying: Registration, job: Job) -> list[str]:
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


def _square(laying: Registration, job: Job) -> str:
    mismatch = square_mismatch(laying.fit, float(job.cloth.selvedge + job.allowances.seam))
    seam, row = (format_length(size, job.unit.value) for size in (mismatch.seam_in, mismatch.row_in))
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
        []
        if abs(size_in) < 1 / 64
        else [f"{format_length(abs(size_in), unit.value)} {onward if size_in > 0 else back}"]
    )


def pull_words(session: Session, job: Job) -> tuple[str, ...]:
    """What is to be done with the cloth before the lit stop, one sentence each; none where it lies as it should.

    Lengths are those of the cloth as it lies, where that is known.
    """
    if not session.cloth_is_to_move:
        return ()
    show = shown_as_it_lies(session, job)
    if session.lies_at is None:
        return (laid_said(session.stop, _end_of_piece(session), show),)
    return pull_said(session.stops[session.lies_at], session.stop, job, show)


def shown_as_it_lies(session: Session, job: Job) -> Callable[[Fraction], str]:
    """What writes a length along the piece: of the cloth as it lies, where that is known, else as planned."""
    if session.fit is None:
        return lambda value: show_cut(value, job.unit)
    stretch = session.fit.stretch_along
    return lambda value: format_length(float(value) * stretch, job.unit.value)


def _end_of_piece(session: Session) -> Fraction:
    """Where the lit stop's piece begins now: at its first end, or where it was cut last."""
    here = session.placement
    placed = (stop.placement for stop in session.stops)
    cut = (one.end for one in placed if one.piece == here.piece and one.cut.id in session.done)
    return max((end for end in cut if end <= here.start), default=Fraction(0))


def unsure_note(keys: Keys) -> str:
    """Beside a stop to which the cloth was pulled since it was laid."""
    return f"the cloth was pulled since it was laid: {spoken(Action.LAY, keys)} confirms one motif point"


def size_said(found_in: float, planned_in: float, known_in: float, unit: Unit) -> str:
    """A measured size of the print beside the planned one, with its uncertainty, all as a tape reads them."""
    found, planned = _repeat(found_in, unit.value), _repeat(planned_in, unit.value)
    return f"{found}, planned {planned}, give or take {format_error(known_in, unit.value)}"


def _repeat(value_in: float, unit: str) -> str:
    """A repeat as a tape reads it: over many repeats a 64th of an inch counts."""
    return f"{show_number(Fraction(round(value_in * 64), 64))} in" if unit == "in" else format_length(value_in, unit)
