"""What one action makes of a calibration by hand: crosses pointed, inches typed, the fit reviewed. Pure."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from calibration.checking import check_targets
from calibration.marks import Mark
from calibration.problems import MarksRefused
from calibration.table import Table
from projector.session.actions import NUDGES_64THS, Action, AnyAction, Chosen, Pointed, Typed
from projector.session.calibrating.findings import UNFITTED, found_in, found_wrong
from projector.session.calibrating.state import (
    FEWEST,
    MOST,
    Calibrating,
    Cross,
    Save,
    Step,
    start_of,
)
from projector.session.keys import DEFAULT_KEYS
from projector.words.wording import sentence

Fit = Callable[[Sequence[Mark]], Table]
"""Fits marks, or raises MarksRefused."""
Parse = Callable[[str], Fraction]
"""Reads a length, or raises ValueError whose words say what is wrong."""

Outcome = tuple[Calibrating, tuple[Save, ...]]

STEPS_PX = {0: 0.0, 1: 0.25, 4: 1.0, 32: 10.0}
"""How far the cross goes, in pixels, for what moves the light on the cloth by so many 64ths of an inch."""
LONGEST_TYPED = 16
LETTERS = " 0123456789/.,-"
"""What a length is typed with."""
TYPED: dict[str, AnyAction] = {"Space" if letter == " " else letter: Typed(letter) for letter in LETTERS}
DARK: dict[str, AnyAction] = {"B": Action.DARK, ".": Action.DARK}
PATTERN_KEYS: dict[str, AnyAction] = {
    "Esc": Action.LEAVE,
    **dict.fromkeys(("M", "PageUp", "Backspace"), Action.PREVIOUS_STOP),
    **DARK,
}
WORDS_KEYS: dict[str, AnyAction] = {"Space": Action.NEXT_STOP, "Esc": Action.LEAVE, **DARK}
POINTING_KEYS: dict[str, AnyAction] = {
    **{key: action for key, action in DEFAULT_KEYS.items() if action in NUDGES_64THS},
    "Enter": Action.ENTER,
    "PageDown": Action.ENTER,
    "PageUp": Action.PREVIOUS_STOP,
    "Backspace": Action.PREVIOUS_STOP,
    "Delete": Action.DROP,
    "P": Action.PHOTOGRAPH,
    "Esc": Action.LEAVE,
    **DARK,
}
ENTERING_KEYS: dict[str, AnyAction] = {
    **TYPED,
    "Enter": Action.ENTER,
    "Backspace": Action.RUB_OUT,
    "Esc": Action.LEAVE,
    "B": Action.DARK,
}
JUDGING_KEYS: dict[str, AnyAction] = {
    "S": Action.SAVE,
    "Enter": Action.SAVE,
    "R": Action.AGAIN,
    **{str(number): Chosen(number) for number in range(1, 10)},
    **dict.fromkeys(("Up", "Left", "PageUp"), Action.CHOOSE_BEFORE),
    **dict.fromkeys(("Down", "Right", "PageDown"), Action.CHOOSE_AFTER),
    "Esc": Action.LEAVE,
    **DARK,
}
"""Of a review, of whatever was entered number by number."""
REVIEW_KEYS: dict[str, AnyAction] = {
    **JUDGING_KEYS,
    "A": Action.ADD_MARK,
    "C": Action.ADD_CHECK,
    "X": Action.TURN_CHECK,
    "Y": Action.PUT_RIGHT,
    "Delete": Action.DROP,
}
KEYS: dict[Step, Mapping[str, AnyAction]] = {
    Step.CAUTIONS: {**WORDS_KEYS, "P": Action.PHOTOGRAPH},
    Step.PATTERN: PATTERN_KEYS,
    Step.POINTING: POINTING_KEYS,
    Step.ALONG: ENTERING_KEYS,
    Step.AWAY: ENTERING_KEYS,
    Step.REVIEW: REVIEW_KEYS,
}


def keys_of(step: Step) -> Mapping[str, AnyAction]:
    """What each key asks for at a step."""
    return KEYS.get(step, WORDS_KEYS)


def press(state: Calibrating, action: AnyAction, fit: Fit, parse: Parse) -> Outcome:
    """What one action does. In the dark any key only brings the light back."""
    if state.step is Step.LEFT:
        return state, ()
    if isinstance(action, Pointed):
        pointing = state.step is Step.POINTING and not state.dark
        return (_to(state, *action.pixel) if pointing else state), ()
    if state.dark or action is Action.DARK:
        return replace(state, dark=not state.dark), ()
    match state.step:
        case Step.CAUTIONS if action is not Action.LEAVE:
            wanted = state.by_photographs or action is Action.PHOTOGRAPH
            return replace(state, step=Step.PATTERN if wanted else Step.POINTING), ()
        case Step.PATTERN if action is not Action.LEAVE:
            return (replace(state, step=Step.POINTING) if action is Action.PREVIOUS_STOP else state), ()
        case Step.POINTING if action is Action.PHOTOGRAPH:
            return replace(state, step=Step.PATTERN), ()
        case Step.LEAVE if action is Action.LEAVE:
            return replace(state, step=Step.LEFT), ()
        case Step.LEAVE:
            return replace(state, step=state.behind), ()
        case Step.ALONG | Step.AWAY:
            return _entering(state, action, fit, parse), ()
        case Step.POINTING if action is not Action.LEAVE:
            return _pointing(state, action, fit), ()
        case Step.REVIEW if action is not Action.LEAVE:
            return _reviewed(state, action, fit, parse)
    if not state.has_work:
        return replace(state, step=Step.LEFT), ()
    return replace(state, step=Step.LEAVE, behind=state.step), ()


def refused(state: Calibrating, words: str) -> Calibrating:
    """Back at the review, saying what went wrong: for a table that could not be written."""
    return replace(state, step=Step.REVIEW, problem=words)


def _to(state: Calibrating, u: float, v: float) -> Calibrating:
    inside = (min(max(u, 0.0), float(state.width_px)), min(max(v, 0.0), float(state.height_px)))
    return state.with_cross(replace(state.cross, pixel=inside))


def _pointing(state: Calibrating, action: AnyAction, fit: Fit) -> Calibrating:
    if action in NUDGES_64THS:
        (u, v), (right, away) = state.cross.pixel, NUDGES_64THS[action]
        return _to(state, u + _px(right), v - _px(away))
    match action:
        case Action.PREVIOUS_STOP if state.at > 0:
            return replace(state, at=state.at - 1)
        case Action.ENTER:
            return replace(state, step=Step.ALONG, typing=state.cross.typed[0], problem="")
        case Action.DROP if may_drop(state):
            return onward(dropped(state), fit)
    return state


def _px(by_64ths: int) -> float:
    return math.copysign(STEPS_PX[abs(by_64ths)], by_64ths)


def typed_on(typing: str, text: str) -> str:
    """What stands typed after a text was typed on: letters of a length, and not too many."""
    return (typing + "".join(letter for letter in text if letter in LETTERS))[:LONGEST_TYPED]


def _entering(state: Calibrating, action: AnyAction, fit: Fit, parse: Parse) -> Calibrating:
    match action:
        case Action.LEAVE:
            return replace(state, step=Step.POINTING, typing="", problem="")
        case Action.RUB_OUT if not state.typing and state.step is Step.AWAY:
            return replace(state, step=Step.ALONG, typing=state.cross.typed[0], problem="")
        case Action.RUB_OUT:
            return replace(state, typing=state.typing[:-1], problem="")
        case Typed(text):
            return replace(state, typing=typed_on(state.typing, text), problem="")
        case Action.ENTER:
            return _entered(state, fit, parse)
    return state


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


def onward(state: Calibrating, fit: Fit) -> Calibrating:
    """To the next cross without inches; when there is none, to the fit."""
    waiting = [i for i, cross in enumerate(state.crosses) if cross.table is None]
    if waiting:
        next_one = replace(state, at=waiting[0], step=Step.POINTING, table=None, findings=UNFITTED)
        start = _middle(likely_start(next_one), next_one)
        return next_one.with_cross(replace(next_one.cross, pixel=start))
    try:
        table = fit(state.marks)
    except MarksRefused as refused:
        found = found_wrong(refused, state.marks, state.width_px, state.height_px, state.unit)
        said = "\n".join(sentence(one) for one in refused.problems)
        return replace(state, table=None, findings=found, problem=said, step=Step.REVIEW)
    return replace(state, table=table, findings=found_in(table, state.checks, state.unit), step=Step.REVIEW)


def likely_start(state: Calibrating) -> tuple[float, float]:
    """Where the cross in hand is to start: where it stands if it was ever set, else as far in as those before it.

    Tape stands near the corners of a rectangle: the second mark mirrors the first across the frame, the third the
    second, and the fourth closes the parallelogram.
    """
    at, (u, v) = state.at, state.cross.pixel
    fresh = (u, v) == start_of(min(at, MOST - 1), state.width_px, state.height_px) and not any(state.cross.typed)
    before = [cross.pixel for cross in state.crosses[:at]]
    if not fresh or not 1 <= at < FEWEST:
        return u, v
    if at == 1:
        return state.width_px - before[0][0], before[0][1]
    if at == 2:
        return before[1][0], state.height_px - before[1][1]
    (u0, v0), (u1, v1), (u2, v2) = before
    return u0 + u2 - u1, v0 + v2 - v1


def _reviewed(state: Calibrating, action: AnyAction, fit: Fit, parse: Parse) -> Outcome:
    """What one action does at the review: save, choose a mark, set it again, add one, correct one."""
    count, has_room = len(state.crosses), len(state.crosses) < MOST
    match action:
        case Action.SAVE if state.table is not None:
            return replace(state, step=Step.LEFT), (Save(state.table, state.checks),)
        case Action.AGAIN:
            return _redo(state, state.at), ()
        case Chosen(number) if 1 <= number <= count:
            return _redo(state, number - 1), ()
        case Action.CHOOSE_BEFORE | Action.CHOOSE_AFTER:
            return replace(state, at=(state.at + (1 if action is Action.CHOOSE_AFTER else -1)) % count), ()
        case Action.ADD_MARK if has_room:
            return _added(state), ()
        case Action.ADD_CHECK if has_room and state.table is not None:
            return _with_check(state, state.table), ()
        case Action.TURN_CHECK:
            return _turned(state, fit), ()
        case Action.PUT_RIGHT if state.findings.offers:
            return _corrected(state, fit, parse), ()
        case Action.DROP if may_drop(state):
            return onward(dropped(state), fit), ()
    return state, ()


def may_drop(state: Calibrating) -> bool:
    """Whether the cross in hand can be done without: a fit would not be left with too few."""
    return state.cross.is_check or state.to_fit > FEWEST


def dropped(state: Calibrating) -> Calibrating:
    """Without the cross in hand."""
    crosses = (*state.crosses[: state.at], *state.crosses[state.at + 1 :])
    return _anew(state, crosses, min(state.at, len(crosses) - 1))


def _anew(state: Calibrating, crosses: tuple[Cross, ...], at: int) -> Calibrating:
    """With these crosses, nothing fitted yet."""
    return replace(state, crosses=crosses, at=at, problem="", table=None, findings=UNFITTED)


def _redo(state: Calibrating, number: int) -> Calibrating:
    """Cross ``number`` (from 0) in hand again: its pixel and what was typed stay, until entered anew."""
    again = replace(_anew(state, state.crosses, number), step=Step.POINTING)
    return again.with_cross(replace(again.cross, table=None))


def _added(state: Calibrating) -> Calibrating:
    """One more cross for the fit, where it helps most."""
    advice, number = state.findings.advice, state.to_fit
    start = advice.pixel if advice else start_of(len(state.crosses), state.width_px, state.height_px)
    cross = Cross(_middle(start, state), is_added=True)
    crosses = (*state.crosses[:number], cross, *state.crosses[number:])
    return replace(_anew(state, crosses, number), step=Step.POINTING)


def _with_check(state: Calibrating, table: Table) -> Calibrating:
    """One more check cross, at that mid-edge of the frame which is farthest from the crosses there are."""
    targets = [(float(u), float(v)) for u, v in check_targets(table)]
    start = max(targets, key=lambda at: min(math.dist(at, cross.pixel) for cross in state.crosses))
    cross = Cross(_middle(start, state), is_check=True, is_added=True)
    return replace(_anew(state, (*state.crosses, cross), len(state.crosses)), step=Step.POINTING)


def _middle(pixel: tuple[float, float], state: Calibrating) -> tuple[float, float]:
    """The middle of the pixel a place falls on, inside the frame."""
    u, v = (
        min(max(int(value), 0), size - 1) + 0.5
        for value, size in zip(pixel, (state.width_px, state.height_px), strict=True)
    )
    return u, v


def _turned(state: Calibrating, fit: Fit) -> Calibrating:
    """The chosen cross made a check mark, or a check mark made one for the fit."""
    cross = state.cross
    if not cross.is_check and state.to_fit <= FEWEST:
        return replace(
            state, problem="Four marks are needed for the fit: add one before this one becomes a check mark."
        )
    rest = [*state.crosses[: state.at], *state.crosses[state.at + 1 :]]
    place = len(rest) if not cross.is_check else state.to_fit
    rest.insert(place, replace(cross, is_check=not cross.is_check))
    return onward(_anew(state, tuple(rest), place), fit)


def _corrected(state: Calibrating, fit: Fit, parse: Parse) -> Calibrating:
    """The correction that was offered, taken: crosses in their right order, or the mark as it was meant."""
    slip, order = state.findings.slip, state.findings.order
    crosses = list(state.crosses)
    if order:
        pixels = [cross.pixel for cross in crosses]
        for place, source in enumerate(order):
            crosses[place] = replace(crosses[place], pixel=pixels[source])
    elif slip is not None:
        for mark, (x, y) in zip(slip.marks, slip.typed, strict=True):
            crosses[mark] = replace(crosses[mark], typed=(x, y), table=(parse(x), parse(y)))
    return onward(_anew(state, tuple(crosses), state.at), fit)
