"""One key pressed, or one click, while calibrating: the next state and what must be saved. Pure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from calibration.marks import Mark
from calibration.table import Table
from projector.session.calibrating import (
    FEWEST,
    MOST,
    Calibrating,
    CalibrationEvent,
    Cross,
    LeftUnsaved,
    Save,
    Step,
    start_of,
)

Fit = Callable[[Sequence[Mark]], Table]
"""Fits marks, or raises ValueError whose words say what is wrong."""
Parse = Callable[[str], Fraction]
"""Reads a length, or raises ValueError whose words say what is wrong."""

Outcome = tuple[Calibrating, tuple[CalibrationEvent, ...]]

STEPS_PX = {"": 1.0, "Shift+": 10.0, "Ctrl+": 0.25}
WAYS = {"Left": (-1, 0), "Right": (1, 0), "Up": (0, -1), "Down": (0, 1)}
MOVES_PX = {prefix + way: (step * du, step * dv) for prefix, step in STEPS_PX.items() for way, (du, dv) in WAYS.items()}
TYPED = {"Space": " ", **{letter: letter for letter in "0123456789/.-"}}
DIGITS = frozenset("123456789")
TURNING = {"Left": -1, "Up": -1, "PageUp": -1, "Right": 1, "Down": 1, "PageDown": 1}
LONGEST_TYPED = 16


def press(state: Calibrating, key: str, fit: Fit, parse: Parse) -> Outcome:
    """What one key does. In the dark any key only brings the light back."""
    if state.step is Step.LEFT:
        return state, ()
    entering = state.step in (Step.ALONG, Step.AWAY)
    if state.dark or key == "B" or (key == "." and not entering):
        return replace(state, dark=not state.dark), ()
    match state.step:
        case Step.CAUTIONS if key != "Esc":
            return replace(state, step=Step.POINTING), ()
        case Step.LEAVE:
            return _leaving(state, key)
        case Step.ALONG | Step.AWAY:
            return _entering(state, key, fit, parse), ()
        case Step.POINTING:
            return _pointing(state, key, fit)
        case Step.REVIEW:
            return _review(state, key, fit)
    return _leave(state)


def click(state: Calibrating, pixel: tuple[int, int]) -> Calibrating:
    """The cross in hand moved to the middle of the clicked pixel, when a cross is being pointed."""
    if state.step is not Step.POINTING or state.dark:
        return state
    return _to(state, pixel[0] + 0.5, pixel[1] + 0.5)


def refused(state: Calibrating, words: str) -> Calibrating:
    """Back at the review, saying what went wrong: for a table that could not be written."""
    return replace(state, step=Step.REVIEW, problem=words)


def _to(state: Calibrating, u: float, v: float) -> Calibrating:
    inside = (min(max(u, 0.0), float(state.width_px)), min(max(v, 0.0), float(state.height_px)))
    return state.with_cross(replace(state.cross, pixel=inside))


def _leave(state: Calibrating) -> Outcome:
    if not state.has_work:
        return replace(state, step=Step.LEFT), (LeftUnsaved(),)
    return replace(state, step=Step.LEAVE, behind=state.step), ()


def _leaving(state: Calibrating, key: str) -> Outcome:
    if key == "Esc":
        return replace(state, step=Step.LEFT), (LeftUnsaved(),)
    return replace(state, step=state.behind), ()


def _pointing(state: Calibrating, key: str, fit: Fit) -> Outcome:
    if key in MOVES_PX:
        du, dv = MOVES_PX[key]
        return _to(state, state.cross.pixel[0] + du, state.cross.pixel[1] + dv), ()
    if key in ("PageUp", "Backspace") and state.at > 0:
        return replace(state, at=state.at - 1), ()
    if key in ("Enter", "PageDown"):
        return replace(state, step=Step.ALONG, typing=state.cross.typed[0], problem=""), ()
    if key == "Delete" and len(state.crosses) > FEWEST:
        return _onward(_without(state), fit), ()
    return _leave(state) if key == "Esc" else (state, ())


def _entering(state: Calibrating, key: str, fit: Fit, parse: Parse) -> Calibrating:
    if key == "Esc":
        return replace(state, step=Step.POINTING, typing="", problem="")
    if key == "Backspace":
        if not state.typing and state.step is Step.AWAY:
            return replace(state, step=Step.ALONG, typing=state.cross.typed[0], problem="")
        return replace(state, typing=state.typing[:-1], problem="")
    if key in TYPED:
        return replace(state, typing=(state.typing + TYPED[key])[:LONGEST_TYPED], problem="")
    return _entered(state, fit, parse) if key == "Enter" else state


def _entered(state: Calibrating, fit: Fit, parse: Parse) -> Calibrating:
    """Enter after typing: the length is read; x leads to y, y to the next cross or to the fit."""
    along, away = state.cross.typed
    try:
        if state.step is Step.ALONG:
            parse(state.typing)
            kept = state.with_cross(replace(state.cross, typed=(state.typing, away)))
            return replace(kept, step=Step.AWAY, typing=away, problem="")
        table = (parse(along), parse(state.typing))
    except ValueError as fault:
        return replace(state, problem=str(fault))
    kept = replace(state.with_cross(Cross(state.cross.pixel, (along, state.typing), table)), typing="", problem="")
    return _onward(kept, fit)


def _onward(state: Calibrating, fit: Fit) -> Calibrating:
    """To the next cross without inches; when there is none, to the fit."""
    waiting = [i for i, cross in enumerate(state.crosses) if cross.table is None]
    if waiting:
        return replace(state, at=waiting[0], step=Step.POINTING)
    try:
        return replace(state, table=fit(state.marks), step=Step.REVIEW)
    except ValueError as fault:
        return replace(state, table=None, problem=str(fault), step=Step.REVIEW)


def _review(state: Calibrating, key: str, fit: Fit) -> Outcome:
    if key in ("S", "Enter") and state.table is not None:
        return replace(state, step=Step.LEFT), (Save(state.table),)
    count = len(state.crosses)
    if key == "R" or (key in DIGITS and int(key) <= count):
        return _redo(state, state.at if key == "R" else int(key) - 1), ()
    if key in TURNING:
        return replace(state, at=(state.at + TURNING[key]) % count), ()
    if key == "A" and count < MOST:
        return _added(state), ()
    if key == "Delete" and count > FEWEST:
        return _onward(_without(state), fit), ()
    return _leave(state) if key == "Esc" else (state, ())


def _redo(state: Calibrating, number: int) -> Calibrating:
    """Cross ``number`` (from 0) in hand again: its pixel and what was typed stay, until entered anew."""
    again = replace(state, at=number, step=Step.POINTING, problem="", table=None)
    return again.with_cross(replace(again.cross, table=None))


def _without(state: Calibrating) -> Calibrating:
    crosses = (*state.crosses[: state.at], *state.crosses[state.at + 1 :])
    return replace(state, crosses=crosses, at=min(state.at, len(crosses) - 1), problem="", table=None)


def _added(state: Calibrating) -> Calibrating:
    number = len(state.crosses)
    cross = Cross(start_of(number, state.width_px, state.height_px))
    return replace(state, crosses=(*state.crosses, cross), at=number, step=Step.POINTING, table=None, problem="")
