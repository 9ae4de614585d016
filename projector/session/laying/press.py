"""Keys while the cloth is laid: the cross moved and confirmed, points taken back, the laying kept. Pure."""

from __future__ import annotations

from dataclasses import replace

from calibration.registration.fit import PrintFit
from projector.scene.marks import Point
from projector.session.actions import NUDGES_64THS, Action
from projector.session.laying.replanning import repeat_to_plan_with
from projector.session.laying.words import nothing_to_lay_by
from projector.session.state.laid import Laid
from projector.session.state.marking import Marking, begin_marking
from projector.session.state.motion import Motion
from projector.session.state.state import Event, LaidEvent, Left, Page, Replanned, Session

Outcome = tuple[Session, tuple[Event, ...]]

PAGES = frozenset({Page.LAYING, Page.LAID})

READ_S = 0.7
"""A cross that has just jumped to the next motif point is not confirmed sooner: a bouncing key would."""

CORRECTIONS: dict[Action, tuple[int, int]] = {
    Action.TURN_LEFT: (-1, 0),
    Action.TURN_RIGHT: (1, 0),
    Action.THINNER: (0, -1),
    Action.WIDER: (0, 1),
}
"""Rows and columns that the keys for turning the light and for widths count on."""


def start_laying(session: Session) -> Session:
    """The page on which motif points are marked; words instead where the cloth has no print to lay it by."""
    piece = session.placement.piece
    lattice = session.lattices[piece - 1] if piece <= len(session.lattices) else None
    if lattice is None:
        return replace(session, page=Page.TROUBLE, trouble=nothing_to_lay_by())
    fit = moved_by_hand(session) or PrintFit.plain(lattice, float(session.stop.cloth_at_left))
    marking = begin_marking(fit, session.stop, session.fit is not None, session.area)
    return replace(session, page=Page.LAYING, marking=marking)


def press_laying(session: Session, action: Action, quiet_s: float) -> Outcome:
    """What one request does while motif points are marked, or while it is shown what they say."""
    marking = session.marking
    if marking is None:
        return replace(session, page=Page.STOP), ()
    if action is Action.LEAVE:
        return replace(session, page=Page.STOP, marking=None), ()
    if action is Action.HELP:
        return replace(session, page=Page.HELP), ()
    if action is Action.LEGEND:
        return replace(session, page=Page.LEGEND), ()
    if session.page is Page.LAID:
        return _judged(session, marking, action, quiet_s)
    return _marking(session, marking, action, quiet_s), ()


def point_at(session: Session, place: Point) -> Session:
    """The cross put where the mouse points, while motif points are marked; the same otherwise."""
    if session.page is not Page.LAYING or session.marking is None or session.dark:
        return session
    return replace(session, marking=session.marking.put(place))


def _marking(session: Session, marking: Marking, action: Action, quiet_s: float) -> Session:
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
            return replace(session, marking=more, page=Page.LAID if finds else Page.LAYING)
        case Action.UNDO if marking.offset_64ths != (0, 0) or marking.motif is not None:
            return replace(session, marking=replace(marking, offset_64ths=(0, 0), motif=None))
        case Action.PREVIOUS_STOP | Action.UNDO if marking.points:
            return replace(session, marking=marking.taken_back())
        case Action.PREVIOUS_STOP | Action.UNDO:
            return replace(session, marking=None, page=Page.STOP)
        case Action.LIGHT_BACK:
            return replace(session, marking=replace(marking, offset_64ths=(0, 0), motif=None))
        case Action.MATCH_MARKS:
            return replace(session, marking=replace(marking, to_light=not marking.to_light))
        case Action.LAY if marking.points:
            return replace(session, page=Page.LAID)
    return session


def _judged(session: Session, marking: Marking, action: Action, quiet_s: float) -> Outcome:
    """What the points say is shown: keep it, mark more, or take the last point back."""
    match action:
        case Action.CUT_DONE | Action.NEXT_STOP if quiet_s >= READ_S:
            return _kept(session, marking)
        case Action.PREVIOUS_STOP | Action.UNDO:
            return replace(session, page=Page.LAYING, marking=marking.taken_back()), ()
        case Action.REPLAN if (along := repeat_to_plan_with(session)) is not None:
            return replace(session, page=Page.LEFT, marking=None, replanned=along), (Replanned(along), Left())
        case Action.LAY | Action.NEXT_CUT:
            return replace(session, page=Page.LAYING), ()
    if action in NUDGES_64THS:
        return replace(session, page=Page.LAYING, marking=marking.nudged(*NUDGES_64THS[action])), ()
    return session, ()


def _kept(session: Session, marking: Marking) -> Outcome:
    """The laying holds from now on, unless a point is surely or perhaps on the wrong motif."""
    laying = marking.laying
    if laying is None or laying.outliers:
        return replace(session, page=Page.LAYING), ()
    placed = session.placement
    at_left, ticks = session.stop.cloth_at_left, len(session.done)
    laid = Laid(placed.piece, placed.cut.id, at_left, laying.fit, laying.points, ticks, session.motion)
    kept = replace(
        session,
        page=Page.STOP,
        marking=None,
        motion=Motion(),
        layings=(*session.layings, laid),
        ask_again=False,
        lies_at=session.at,
    )
    return kept, (LaidEvent(laid),)


def moved_by_hand(session: Session) -> PrintFit | None:
    """The light of the lit stop as a fit, moved by hand as it is; None where the cloth has no print to lay it by."""
    piece = session.placement.piece
    lattice = session.lattices[piece - 1] if piece <= len(session.lattices) else None
    if lattice is None:
        return None
    fit = session.fit or PrintFit.plain(lattice, float(session.stop.cloth_at_left))
    return _by_hand(fit, session.motion, session.about)


def _by_hand(fit: PrintFit, motion: Motion, about: Point) -> PrintFit:
    """The fit as the person has moved and turned the light on top of it."""
    if motion.is_still:
        return fit
    (a, b, c), (d, e, f) = motion.affine(about)
    x, y = fit.shift
    return replace(fit, shift=(a * x + b * y + c, d * x + e * y + f), turn_deg=fit.turn_deg + float(motion.turn_deg))
