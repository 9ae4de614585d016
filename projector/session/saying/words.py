"""What the session says on the cloth: each page of words as lines, biggest first. Made here and nowhere else."""

from __future__ import annotations

from jobs.model.choices import Unit
from jobs.model.lengths import show_cut
from jobs.model.numbers import counted
from projector.scene.labels import name_of
from projector.session.actions import Action
from projector.session.keys import DEFAULT_KEYS, Keys, spoken
from projector.session.state.state import Page, Session

Lines = tuple[tuple[str, float], ...]
"""Lines of words, each with its size against the usual one."""

MOST_LISTED = 12


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


def question(session: Session, keys: Keys = DEFAULT_KEYS) -> Lines:
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
        *(((session.told, 1.0),) if session.told else ()),
    )


def remaining(session: Session, unit: Unit) -> Lines:
    """Every cut not yet ticked, the next one first."""
    left = session.left_to_cut
    if not left:
        return (("All cuts are done", 1.8), ("Any key goes on.", 1.0))
    total = len(left) + len(session.done)
    listed = tuple(
        (f"{name_of(placed.cut)}: {show_cut(placed.cut.length, unit)}", 1.0) for placed in left[:MOST_LISTED]
    )
    more: Lines = ((f"and {len(left) - MOST_LISTED} more", 1.0),) if len(left) > MOST_LISTED else ()
    return ((f"To do: {counted(len(left), 'cut')} of {total}", 1.6), *listed, *more, ("Any key goes on.", 1.0))


def all_done(session: Session, keys: Keys = DEFAULT_KEYS) -> Lines:
    """The job is cut."""
    return (
        ("All cuts are done", 2.0),
        (f"{len(session.done)} ticked and kept", 1.0),
        (f"{spoken(Action.UNDO, keys)} takes back the last tick", 1.0),
        (f"{spoken(Action.PREVIOUS_STOP, keys)} looks back, {spoken(Action.LEAVE, keys)} leaves", 1.0),
        *(((session.told, 1.0),) if session.told else ()),
    )


def leaving(session: Session, keys: Keys = DEFAULT_KEYS) -> Lines:
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


def trouble(session: Session) -> Lines:
    """What went wrong."""
    return (("Stop", 2.0), *((line, 1.0) for line in session.trouble.split("\n")), ("Any key goes on.", 1.0))


def not_cut(session: Session, keys: Keys = DEFAULT_KEYS) -> Lines:
    """Is the tick just made to be taken back?"""
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    return (
        ("Not cut after all?", 2.0),
        (name_of(session.placement.cut), 1.4),
        (f"{back} again: not cut, take the tick back", 1.0),
        (f"{forward}: it is cut, keep the tick", 1.0),
    )


def plan_as_before(keys: Keys = DEFAULT_KEYS) -> Lines:
    """Is the plan made anew to be taken back?"""
    again = spoken(Action.UNDO, keys)
    return (
        ("Plan as before?", 2.0),
        ("This plan was made anew at the table, with the repeat as measured.", 1.0),
        (f"{again} again takes that back. Any other key keeps it.", 1.0),
    )


def lines_of(session: Session, unit: Unit, keys: Keys = DEFAULT_KEYS) -> Lines:
    """The words of the session's page; none where the stop itself is lit, and help has a page of its own."""
    match session.page:
        case Page.CAUTIONS:
            return cautions(keys)
        case Page.IS_IT_CUT:
            return question(session, keys)
        case Page.REMAINING:
            return remaining(session, unit)
        case Page.ALL_DONE:
            return all_done(session, keys)
        case Page.TROUBLE:
            return trouble(session)
        case Page.LEAVE:
            return leaving(session, keys)
        case Page.NOT_CUT:
            return not_cut(session, keys)
        case Page.PLAN_AS_BEFORE:
            return plan_as_before(keys)
    return ()


def not_recorded(reason: str, advice: str = "see to that") -> str:
    """Words for a tick, or one taken back, that could not be written down."""
    return (
        "It could not be written down.\nSo nothing was changed, and no cut was ticked or taken back.\n"
        f"{reason}\n{advice.capitalize()}, then press the key again. What was kept before is kept."
    )
