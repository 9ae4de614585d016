"""What an action does while motif points are marked, and what the plan would be with the repeat as measured. Pure."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from calibration.registration.fitting import Term
from calibration.registration.measures import measured
from calibration.registration.record import NoRecord, registration_of
from jobs.model.job import Job
from jobs.model.lengths import show_length
from jobs.model.plan import Plan
from jobs.model.problems import JobRefused
from jobs.planning.planner import plan_job
from projector.scene.labels import name_of
from projector.scene.marks import Point
from projector.session.actions import NUDGES_64THS, Action, Lies, Match
from projector.session.cutting.journal import Event, RegistrationKept, Replanned
from projector.session.cutting.light import Motion
from projector.session.cutting.pages import Page
from projector.session.cutting.photographed import may_be_laid_back
from projector.session.cutting.registration.marking import Marking, Registered, begin_marking
from projector.session.cutting.registration.text import NOTHING_TO_REGISTER_BY
from projector.session.cutting.state import Session, ToMatch
from projector.words.wording import sentence

Outcome = tuple[Session, tuple[Event, ...]]

PAGES = frozenset({Page.MARKING, Page.PATTERN, Page.REGISTRATION})

READ_S = 0.7
"""A cross that has just jumped to the next motif point is not confirmed sooner: a bouncing key would."""

CORRECTIONS: dict[Action, tuple[int, int]] = {
    Action.TURN_LEFT: (-1, 0),
    Action.TURN_RIGHT: (1, 0),
    Action.THINNER: (0, -1),
    Action.WIDER: (0, 1),
}
"""Rows and columns that the keys for turning the light and for widths count on."""

FINEST = 1024
"""A measured repeat is planned with to the nearest of so many parts of an inch."""
MATTERS = Fraction(1, 16)


def start_photograph(session: Session) -> Session:
    """The pattern lit over the cloth, to be photographed; words instead where the cloth has no print to lay it by."""
    begun = start_marking(session) if session.marking is None else session
    return begun if begun.marking is None else replace(begun, page=Page.PATTERN, marking=begun.marking.by_hand())


def seen_in_photograph(session: Session, seen: Lies) -> Session:
    """What a photograph of the lit pattern shows of the print; the same where none is asked for.

    One that was taken at another stop is of another place of the cloth.
    """
    marking = session.marking
    if session.page is not Page.PATTERN or marking is None or session.dark or seen.stop != session.stop.number:
        return session
    try:
        found = registration_of(seen.record, marking.carried.lattice)
    except NoRecord:
        return replace(session, status="that photograph tells nothing of this cloth")
    return replace(session, page=Page.REGISTRATION, marking=marking.shown_by(found, row_open=seen.row_open), status="")


def told_of_mates(session: Session, told: Match) -> Session:
    """What a photograph of the panel of the lit stop's cut says of its mates, kept to be read where these are cut."""
    if session.page is not Page.PATTERN or session.dark or told.stop != session.stop.number:
        return session
    by = session.placement.cut.id
    known = {stop.placement.cut.id for stop in session.stops}
    now = tuple(ToMatch(mate, by, right) for mate, right in told.mates if mate in known)
    before = tuple(one for one in session.to_match if one.by != by)
    return replace(session, to_match=(*before, *now), status="the panel was held against its mates")


def start_marking(session: Session) -> Session:
    """The page on which motif points are marked; words instead where the cloth has no print to register by."""
    fit = session.fit_by_hand
    if fit is None:
        return replace(session, page=Page.TROUBLE, trouble=NOTHING_TO_REGISTER_BY)
    marking = begin_marking(fit, session.stop, session.fit is not None, session.setup.area)
    return replace(session, page=Page.MARKING, marking=marking)


def press_marking(session: Session, action: Action, quiet_s: float) -> Outcome:
    """What one action does while motif points are marked, or while it is shown what they say."""
    marking = session.marking
    if marking is None:
        return replace(session, page=Page.STOP), ()
    if action is Action.LEAVE:
        return replace(session, page=Page.STOP, marking=None), ()
    if action in (Action.HELP, Action.LEGEND):
        return replace(session, page=Page.HELP if action is Action.HELP else Page.LEGEND), ()
    if action is Action.PHOTOGRAPH:
        return start_photograph(session), ()
    if session.page is Page.PATTERN and action is Action.COLOURS:
        if may_be_laid_back(session):
            return replace(session, status="a panel that is cut is photographed under the whole pattern"), ()
        return replace(session, other_pattern=not session.other_pattern), ()
    if session.page is Page.PATTERN:
        by_hand = action in (Action.LAY, Action.PREVIOUS_STOP, Action.UNDO)
        return replace(session, page=Page.MARKING) if by_hand else session, ()
    if session.page is Page.REGISTRATION and marking.photographed:
        match action:
            case Action.PREVIOUS_STOP | Action.UNDO:
                return start_photograph(session), ()
            case Action.LAY | Action.NEXT_CUT:
                return replace(session, page=Page.MARKING, marking=marking.by_hand()), ()
    if session.page is Page.REGISTRATION:
        return _judged(session, marking, action, quiet_s)
    return _marked(session, marking, action, quiet_s), ()


def point_at(session: Session, place: Point) -> Session:
    """The cross put where the mouse points, while motif points are marked; the same otherwise."""
    if session.page is not Page.MARKING or session.marking is None or session.dark:
        return session
    return replace(session, marking=session.marking.put(place))


def _marked(session: Session, marking: Marking, action: Action, quiet_s: float) -> Session:
    if action in NUDGES_64THS:
        return replace(session, marking=marking.nudged(*NUDGES_64THS[action]))
    if action in CORRECTIONS:
        return replace(session, marking=marking.corrected(*CORRECTIONS[action]))
    match action:
        case Action.CUT_DONE | Action.NEXT_STOP:
            if quiet_s < READ_S and marking.offset_64ths == (0, 0):
                return session
            more = marking.confirmed()
            finds = more.enough and len(more.points) > len(marking.points)
            return replace(session, marking=more, page=Page.REGISTRATION if finds else Page.MARKING)
        case Action.UNDO if marking.offset_64ths != (0, 0) or marking.motif is not None:
            return replace(session, marking=marking.put_back())
        case Action.PREVIOUS_STOP | Action.UNDO if marking.points:
            return replace(session, marking=marking.taken_back())
        case Action.PREVIOUS_STOP | Action.UNDO:
            return replace(session, marking=None, page=Page.STOP)
        case Action.LIGHT_BACK:
            return replace(session, marking=marking.put_back())
        case Action.MATCH_MARKS:
            return replace(session, marking=replace(marking, to_light=not marking.to_light))
        case Action.LAY if marking.points:
            return replace(session, page=Page.REGISTRATION)
    return session


def _judged(session: Session, marking: Marking, action: Action, quiet_s: float) -> Outcome:
    """What the points say is shown: keep it, mark more, or take the last point back."""
    match action:
        case Action.CUT_DONE | Action.NEXT_STOP if quiet_s >= READ_S:
            return _kept(session, marking)
        case Action.PREVIOUS_STOP | Action.UNDO:
            return replace(session, page=Page.MARKING, marking=marking.taken_back()), ()
        case Action.REPLAN if (along := repeat_to_plan_with(session)) is not None:
            return replace(session, page=Page.LEFT, marking=None, replanned=along), (Replanned(along),)
        case Action.LAY | Action.NEXT_CUT:
            return replace(session, page=Page.MARKING), ()
    if action in NUDGES_64THS and not marking.photographed:
        return replace(session, page=Page.MARKING, marking=marking.nudged(*NUDGES_64THS[action])), ()
    return session, ()


def _kept(session: Session, marking: Marking) -> Outcome:
    """The registration holds from now on, unless a point is surely or perhaps on the wrong motif."""
    found = marking.registration
    if found is None or found.outliers:
        return replace(session, page=Page.MARKING), ()
    placed, motion = session.placement, session.light.motion
    at_left, ticks = session.stop.cloth_at_left, len(session.done)
    registered = Registered(placed.piece, placed.cut.id, at_left, found.fit, found.points, ticks, motion)
    kept = replace(
        session.with_motion(Motion()),
        page=Page.STOP,
        marking=None,
        registered=(*session.registered, registered),
        ask_again=False,
        lies_at=session.at,
    )
    return kept, (RegistrationKept(registered),)


def repeat_to_plan_with(session: Session) -> Fraction | None:
    """The repeat along to make the plan anew with; None once a cut is made, and where it was not measured for sure."""
    found = session.marking.registration if session.marking else None
    if not session.may_replan or session.done or found is None or found.outliers:
        return None
    if Term.STRETCH_ALONG not in found.measured:
        return None
    along = _planned_with(measured(found).along_in)
    return along if along != _planned_with(found.fit.lattice.along_in) else None


def _planned_with(along_in: float) -> Fraction:
    return Fraction(round(along_in * FINEST), FINEST)


def what_the_plan_says(plan: Plan, marking: Marking) -> str:
    """One sentence when the measured repeat makes the cloth too short or another order better; else empty."""
    found = marking.registration
    if found is None or Term.STRETCH_ALONG not in found.measured:
        return ""
    return compare(plan, with_repeat(plan.job, measured(found).along_in))


def with_repeat(job: Job, along_in: float) -> Job:
    """The job with the repeat along as it was measured, to the nearest 1/1024 in."""
    if job.cloth.repeat is None:
        return job
    repeat = replace(job.cloth.repeat, along=_planned_with(along_in))
    return replace(job, cloth=replace(job.cloth, repeat=repeat))


def compare(plan: Plan, job: Job) -> str:
    """How the plan of the same job with another repeat differs from a plan, in words; empty where it does not."""
    try:
        new = _planned(job)
    except JobRefused as refused:
        reasons = "; ".join(sentence(one, job.unit) for one in refused.problems)
        return f"With the repeat as measured this cannot be planned: {reasons}"
    if new.short:
        short = show_length(new.short, job.unit)
        return f"With the repeat as measured the cloth is {short} TOO SHORT. Do not cut; buy more, or plan anew."
    if _order(plan) != _order(new):
        return (
            "With the repeat as measured another order of cuts uses less, "
            f"{name_of(new.placements[0].cut)} first: plan anew before the first cut."
        )
    more = new.used - plan.used
    if abs(more) >= MATTERS:
        size = show_length(abs(more), job.unit)
        return f"With the repeat as measured the same order uses {size} {'more' if more > 0 else 'less'} cloth."
    return ""


@lru_cache(maxsize=4)
def _planned(job: Job) -> Plan:
    return plan_job(job)


def _order(plan: Plan) -> tuple[tuple[int, str, str], ...]:
    return tuple(
        (placed.piece, placed.cut.id, placed.cut.way.value)
        for placed in sorted(plan.placements, key=lambda placed: (placed.piece, placed.start))
    )
