"""One key pressed, or one click, while calibrating: the next state and what must be saved. Pure."""

from __future__ import annotations

from dataclasses import replace

from projector.session.calibrating.calibrating import Calibrating, CalibrationEvent, LeftUnsaved, Step
from projector.session.calibrating.review import Fit, Parse, dropped, onward, review

Outcome = tuple[Calibrating, tuple[CalibrationEvent, ...]]

STEPS_PX = {"": 1.0, "Shift+": 10.0, "Ctrl+": 0.25}
WAYS = {"Left": (-1, 0), "Right": (1, 0), "Up": (0, -1), "Down": (0, 1)}
MOVES_PX = {prefix + way: (step * du, step * dv) for prefix, step in STEPS_PX.items() for way, (du, dv) in WAYS.items()}
TYPED = {"Space": " ", **{letter: letter for letter in "0123456789/.,-"}}
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
        case Step.REVIEW if key != "Esc":
            return review(state, key, fit, parse)
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
    if key == "Delete" and dropped(state) is not state:
        return onward(dropped(state), fit), ()
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
    cross = replace(state.cross, typed=(along, state.typing), table=table, is_added=False)
    return onward(replace(state.with_cross(cross), typing="", problem=""), fit)
