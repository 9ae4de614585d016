"""The buttons of a calibration by hand, step by step: moving the cross, typing its inches, judging the fit."""

from __future__ import annotations

from projector.session.buttons.button import Button
from projector.session.calibrating.calibrating import MOST, Calibrating, Step
from projector.session.calibrating.review import dropped

WAYS = (("left", "Left"), ("right", "Right"), ("away", "Up"), ("nearer", "Down"))
MOVES = tuple(Button(says, key) for says, key in WAYS)
FINE = tuple(Button(f"hair {says}", f"Ctrl+{key}") for says, key in WAYS)
LEAVE = Button("leave", "Esc")
DARK = Button("dark", "B")


def digits(says: str) -> tuple[Button, ...]:
    """The keys that type a length; the first one, which enters it, says what it does."""
    typed = (*(Button(digit, digit) for digit in "1234567890./-"), Button("Space", "Space"))
    return Button(says, "Enter", main=True), *typed, Button("rub out", "Backspace")


TYPING = (*digits("Enter"), Button("to the cross", "Esc"))


def calibrating_buttons(state: Calibrating) -> tuple[Button, ...]:
    """The buttons now."""
    if state.step is Step.LEFT:
        return ()
    if state.dark:
        return (Button("light again", "B", main=True),)
    match state.step:
        case Step.CAUTIONS:
            return Button("read: go on", "Space", main=True), DARK, LEAVE
        case Step.POINTING:
            return _pointing(state)
        case Step.ALONG | Step.AWAY:
            return TYPING
        case Step.REVIEW:
            return _review(state)
    return Button("leave, unsaved", "Esc", main=True), Button("go back", "Space")


def _pointing(state: Calibrating) -> tuple[Button, ...]:
    back = (Button("back", "PageUp"),) if state.at else ()
    drop = (Button("do without", "Delete"),) if dropped(state) is not state else ()
    return Button("it meets", "Enter", main=True), *MOVES, *FINE, *back, *drop, DARK, LEAVE


def _review(state: Calibrating) -> tuple[Button, ...]:
    found = [Button("save", "S", main=True)] if state.table is not None else []
    if state.findings.offers:
        found.append(Button("put it right", "Y"))
    if len(state.crosses) < MOST:
        found.append(Button("add a mark", "A"))
        found += [Button("check mark", "C")] if state.table is not None else []
    found += [Button("mark before", "Up"), Button("mark after", "Down"), Button("this mark again", "R")]
    found += [Button("leave it out", "Delete")] if dropped(state) is not state else []
    return *found, DARK, LEAVE
