"""The buttons of a proof with a tape, step by step: typing what it says, judging, keeping."""

from __future__ import annotations

from projector.session.buttons.button import Button
from projector.session.buttons.calibrating import DARK, LEAVE, digits
from projector.session.taping.taping import TapeStep, Taping


def taping_buttons(state: Taping) -> tuple[Button, ...]:
    """The buttons now."""
    if state.step is TapeStep.LEFT:
        return ()
    if state.dark:
        return (Button("light again", "B", main=True),)
    match state.step:
        case TapeStep.CAUTIONS:
            return Button("read: go on", "Space", main=True), DARK, LEAVE
        case TapeStep.READING:
            back = (Button("length before", "PageUp"),) if state.at else ()
            return *digits("Enter"), *back, DARK, LEAVE
        case TapeStep.VERDICT:
            keep = (Button("keep it", "S", main=True),) if state.proof is not None else ()
            choose = (Button("length before", "Up"), Button("length after", "Down"), Button("this one again", "R"))
            return *keep, *choose, DARK, LEAVE
    return Button("leave, not kept", "Esc", main=True), Button("go back", "Space")
