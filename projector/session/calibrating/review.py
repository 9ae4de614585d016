"""The review of a calibration by hand: marks fitted and judged, set again, added, checked, corrected, saved. Pure."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from calibration.checking import check_targets
from calibration.marks import Mark
from calibration.problems import MarksRefused
from calibration.table import Table
from projector.session.calibrating.calibrating import (
    FEWEST,
    MOST,
    Calibrating,
    CalibrationEvent,
    Cross,
    Save,
    Step,
    start_of,
)
from projector.session.calibrating.findings import UNFITTED, found_in, found_wrong
from projector.words.wording import sentence

Fit = Callable[[Sequence[Mark]], Table]
"""Fits marks, or raises MarksRefused."""
Parse = Callable[[str], Fraction]
"""Reads a length, or raises ValueError whose words say what is wrong."""

Outcome = tuple[Calibrating, tuple[CalibrationEvent, ...]]

DIGITS = frozenset("123456789")
TURNING = {"Left": -1, "Up": -1, "PageUp": -1, "Right": 1, "Down": 1, "PageDown": 1}


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


def review(state: Calibrating, key: str, fit: Fit, parse: Parse) -> Outcome:
    """What one key does at the review."""
    if key in ("S", "Enter") and state.table is not None:
        return replace(state, step=Step.LEFT), (Save(state.table, state.checks),)
    count = len(state.crosses)
    if key == "R" or (key in DIGITS and int(key) <= count):
        return _redo(state, state.at if key == "R" else int(key) - 1), ()
    if key in TURNING:
        return replace(state, at=(state.at + TURNING[key]) % count), ()
    if key == "A" and count < MOST:
        return _added(state), ()
    if key == "C" and count < MOST and state.table is not None:
        return _with_check(state, state.table), ()
    if key == "X":
        return _turned(state, fit), ()
    if key == "Y" and state.findings.offers:
        return _corrected(state, fit, parse), ()
    if key == "Delete" and dropped(state) is not state:
        return onward(dropped(state), fit), ()
    return state, ()


def dropped(state: Calibrating) -> Calibrating:
    """Without the cross in hand; the same when a fit would be left with too few."""
    if not state.cross.is_check and state.to_fit <= FEWEST:
        return state
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
