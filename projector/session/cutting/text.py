"""The words of a session in light: each page as lines, biggest first, the help page, and what is to be pulled."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from jobs.model.lengths import show_cut
from jobs.model.numbers import counted
from jobs.planning.stops import laid_said, pull_said
from projector.scene.labels import name_of
from projector.session.actions import NUDGES_64THS, Action
from projector.session.cutting.light import LAYERS
from projector.session.cutting.orientation import orientation_text
from projector.session.cutting.pages import Page
from projector.session.cutting.photographed import lit_on_white, may_be_laid_back
from projector.session.cutting.registering import repeat_to_plan_with, what_the_plan_says
from projector.session.cutting.registration.text import (
    marking_text,
    photographing,
    photographing_back,
    registration_text,
)
from projector.session.cutting.startup_check import PAGES as CHECK_PAGES
from projector.session.cutting.startup_check import startup_check_text
from projector.session.cutting.state import Session
from projector.session.keys import DEFAULT_KEYS, Keys, keys_for, spoken
from projector.session.layout import Lines
from projector.words.measures import format_length

MOST_LISTED = 12


def text_of(session: Session) -> Lines:
    """The words of the page that is lit; none where the stop itself is lit, and help has a page of its own."""
    keys, job = session.setup.keys, session.setup.plan.job
    match session.page:
        case Page.CAUTIONS:
            return cautions(keys)
        case page if page in CHECK_PAGES and session.check is not None:
            return startup_check_text(page, session.check, keys, job.unit)
        case Page.ORIENTATION:
            cut = session.placement.cut
            back = bool(session.answered or session.at)
            return (*orientation_text(cut, session.answered, keys, can_go_back=back), *_status(session, 0.9))
        case Page.MARKING if session.marking is not None:
            return (*marking_text(session.marking, keys, job.unit), *_status(session))
        case Page.PATTERN:
            back, on_white = may_be_laid_back(session), lit_on_white(session)
            here = session.placement.cut
            said = photographing_back(here, keys) if back else photographing(keys, on_white=on_white)
            return (*said, *_status(session))
        case Page.REGISTRATION if session.marking is not None:
            plan_says = "" if session.done else what_the_plan_says(session.setup.plan, session.marking)
            may_replan = repeat_to_plan_with(session) is not None
            said = registration_text(session.marking, job, keys, plan_says, may_replan=may_replan)
            return (*said, *_status(session))
        case Page.IS_IT_CUT:
            return (*_is_it_cut(session, keys), *_status(session))
        case Page.NOT_CUT:
            return _not_cut(session, keys)
        case Page.REMAINING:
            return _remaining(session)
        case Page.ALL_DONE:
            return (*_all_done(session, keys), *_status(session))
        case Page.TROUBLE:
            said = tuple((line, 1.0) for line in session.trouble.split("\n"))
            return (("Stop", 2.0), *said, ("Any key goes on.", 1.0))
        case Page.LEAVE:
            return _leaving(session, keys)
        case Page.PLAN_AS_BEFORE:
            return _plan_as_before(keys)
    return ()


def _status(session: Session, size: float = 1.0) -> Lines:
    return ((session.status, size),) if session.status else ()


def cautions(keys: Keys = DEFAULT_KEYS) -> Lines:
    """What to mind before the first cut."""
    return (
        ("Before you cut", 1.8),
        (f"Never look into the lens. Darken the light ({spoken(Action.DARK, keys)}) before you lean under it.", 1.0),
        (
            "The light is a guide: measure a lit length with a tape before the first cut, "
            "and again whenever projector, table or cloth has been touched.",
            1.0,
        ),
        ("Close the cutter after every cut. Cut away from the body.", 1.0),
        ("Local codes and competent people decide.", 1.0),
        ("Any key goes on.", 1.3),
    )


def _is_it_cut(session: Session, keys: Keys) -> Lines:
    """Is it cut? With what says yes and what says no."""
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    warning: Lines = ()
    if not session.is_expected:
        warning = ((f"The plan cuts {name_of(session.left_to_cut[0].cut)} first.", 1.0),)
    return (
        ("Is it cut?", 2.0),
        (name_of(session.placement.cut), 1.4),
        *warning,
        (f"{forward} again: yes, tick it", 1.0),
        (f"{back}: not yet", 1.0),
    )


def _remaining(session: Session) -> Lines:
    """Every cut not yet ticked, the next one first."""
    left, unit = session.left_to_cut, session.setup.plan.job.unit
    if not left:
        return (("All cuts are done", 1.8), ("Any key goes on.", 1.0))
    total = len(left) + len(session.done)
    listed = tuple(
        (f"{name_of(placed.cut)}: {show_cut(placed.cut.length, unit)}", 1.0) for placed in left[:MOST_LISTED]
    )
    more: Lines = ((f"and {len(left) - MOST_LISTED} more", 1.0),) if len(left) > MOST_LISTED else ()
    return ((f"To do: {counted(len(left), 'cut')} of {total}", 1.6), *listed, *more, ("Any key goes on.", 1.0))


def _all_done(session: Session, keys: Keys) -> Lines:
    """The job is cut."""
    return (
        ("All cuts are done", 2.0),
        (f"{len(session.done)} ticked and kept", 1.0),
        (f"{spoken(Action.UNDO, keys)} takes back the last tick", 1.0),
        (f"{spoken(Action.PREVIOUS_STOP, keys)} looks back, {spoken(Action.LEAVE, keys)} leaves", 1.0),
    )


def _leaving(session: Session, keys: Keys) -> Lines:
    """Leave?"""
    left = len(session.left_to_cut)
    again = f"{spoken(Action.LEAVE, keys)} again leaves."
    if not left:
        again = f"{spoken(Action.LEAVE, keys)} or {spoken(Action.NEXT_STOP, keys)} leaves."
    return (
        ("Leave the table?", 2.0),
        (f"{counted(left, 'cut')} to do, what is ticked is kept." if left else "All is cut and kept.", 1.0),
        (f"{again} Any other key stays.", 1.0),
    )


def _not_cut(session: Session, keys: Keys) -> Lines:
    """Is the tick just made to be taken back?"""
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    return (
        ("Not cut after all?", 2.0),
        (name_of(session.placement.cut), 1.4),
        (f"{back} again: not cut, take the tick back", 1.0),
        (f"{forward}: it is cut, keep the tick", 1.0),
    )


def _plan_as_before(keys: Keys) -> Lines:
    """Is the plan made anew to be taken back?"""
    again = spoken(Action.UNDO, keys)
    return (
        ("Plan as before?", 2.0),
        ("This plan was made anew at the table, with the repeat as measured.", 1.0),
        (f"{again} again takes that back. Any other key keeps it.", 1.0),
    )


def not_recorded(reason: str, advice: str = "see to that") -> str:
    """Words for a tick, or one taken back, that could not be written down."""
    return (
        "It could not be written down.\nSo nothing was changed, and no cut was ticked or taken back.\n"
        f"{reason}\n{advice.capitalize()}, then press the key again. What was kept before is kept."
    )


def pull_text(session: Session) -> tuple[str, ...]:
    """What is to be done with the cloth before the lit stop, one sentence each; none where it lies as it should.

    Lengths are those of the cloth as it lies, where that is known.
    """
    if not session.cloth_is_to_move:
        return ()
    show, job = shown_as_it_lies(session), session.setup.plan.job
    if session.lies_at is None:
        return (laid_said(session.stop, _end_of_piece(session), show),)
    return pull_said(session.stops[session.lies_at], session.stop, job, show)


def shown_as_it_lies(session: Session) -> Callable[[Fraction], str]:
    """What writes a length along the piece: of the cloth as it lies, where that is known, else as planned."""
    fit, unit = session.fit, session.setup.plan.job.unit
    if fit is None:
        return lambda value: show_cut(value, unit)
    return lambda value: format_length(float(value) * fit.stretch_along, unit.value)


def _end_of_piece(session: Session) -> Fraction:
    """Where the lit stop's piece begins now: at its first end, or where it was cut last."""
    here = session.placement
    placed = (stop.placement for stop in session.stops)
    cut = (one.end for one in placed if one.piece == here.piece and one.cut.id in session.done)
    return max((end for end in cut if end <= here.start), default=Fraction(0))


def nudges_said(right_64ths: int, keys: Keys = DEFAULT_KEYS) -> str:
    """Which keys move the light so far to the right (left below 0), and how often."""
    whole, hair = (
        (Action.LIGHT_RIGHT, Action.LIGHT_HAIR_RIGHT)
        if right_64ths > 0
        else (Action.LIGHT_LEFT, Action.LIGHT_HAIR_LEFT)
    )
    count, rest = divmod(abs(right_64ths), abs(NUDGES_64THS[whole][0]))
    presses = [(whole, count), (hair, rest)]
    return ", then ".join(
        f"{spoken(action, keys)} {'once' if often == 1 else f'{often} times'}" for action, often in presses if often
    )


def remote_help(keys: Keys = DEFAULT_KEYS) -> str:
    """How a remote or a pedal alone runs a whole job."""
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    return (
        f"With a remote or a pedal alone: forward ({forward}) goes from stop to stop. After the last stop of a cut the "
        f"light asks: is it cut? Wait a second, then forward again ticks it and goes on; back ({back}) says not yet. "
        "A double press, a held or a bouncing key never ticks. A panel that lies turned asks two questions first: "
        f"look, then forward for each. A tick just made is taken back by {back} three times, the last after a second."
    )


def help_lines(keys: Keys = DEFAULT_KEYS) -> tuple[tuple[str, str], ...]:
    """Pairs of (keys, what they do), in the order they are shown."""

    def row(what: str, *actions: Action) -> tuple[str, str]:
        names = [name for action in actions for name in keys_for(action, keys)]
        return ", ".join(name for name in names if name != "=" or "+" not in names), what

    def nudges(prefix: str, what: str, *actions: Action) -> tuple[str, str]:
        names = [name for action in actions for name in keys_for(action, keys)]
        usual = {f"{prefix}{way}" for way in ("Left", "Right", "Up", "Down")}
        return (f"{prefix}arrows" if set(names) == usual else ", ".join(names)), what

    near = (Action.LIGHT_LEFT, Action.LIGHT_RIGHT, Action.LIGHT_AWAY, Action.LIGHT_NEARER)
    far = (Action.LIGHT_FAR_LEFT, Action.LIGHT_FAR_RIGHT, Action.LIGHT_FAR_AWAY, Action.LIGHT_FAR_NEARER)
    hair = (Action.LIGHT_HAIR_LEFT, Action.LIGHT_HAIR_RIGHT, Action.LIGHT_HAIR_AWAY, Action.LIGHT_HAIR_NEARER)
    return (
        row("next stop; after the last one of a cut it asks: is it cut?", Action.NEXT_STOP),
        row("previous stop", Action.PREVIOUS_STOP),
        row("next cut, leaving this one for later", Action.NEXT_CUT),
        row("the cut is done: tick it (asks where the last edge is not lit)", Action.CUT_DONE),
        row("take back the last thing done, a tick or a change of the light", Action.UNDO),
        nudges("", "move the light 1/16 in", *near),
        nudges("Shift+", "move the light 1/2 in", *far),
        nudges("Ctrl+", "move the light 1/64 in", *hair),
        row("turn the light left, right, by 0.05 degree", Action.TURN_LEFT, Action.TURN_RIGHT),
        row("put the light back where it was", Action.LIGHT_BACK),
        row("the cloth is pulled as the light asks", Action.PULLED),
        row("lay the cloth: the light follows motif points that you mark", Action.LAY),
        row("lay the cloth by a photograph, taken by page or telephone", Action.PHOTOGRAPH),
        row("plan anew with the repeat as measured: while laying, before the first cut", Action.REPLAN),
        row("cut lines, rows, match marks, trims, folds, pins, letters on or off", *LAYERS),
        row("other colours; over cloth to be photographed: the other pattern", Action.COLOURS),
        row("wider lines, thinner lines", Action.WIDER, Action.THINNER),
        row("dark; any key brings the light back", Action.DARK),
        row("what is to do", Action.REMAINING),
        row("what the lines mean", Action.LEGEND),
        row("this page", Action.HELP),
        row("leave (asks once)", Action.LEAVE),
    )
