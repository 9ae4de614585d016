"""One key pressed while the light is proved with a tape: the next state and what must be kept. Pure."""

from __future__ import annotations

from dataclasses import replace

from projector.session.calibrating.keys import LONGEST_TYPED, TYPED
from projector.session.calibrating.review import DIGITS, TURNING, Parse
from projector.session.taping.taping import Keep, LeftUnproved, TapeStep, Taping, TapingEvent

Outcome = tuple[Taping, tuple[TapingEvent, ...]]


def press_taping(state: Taping, key: str, parse: Parse) -> Outcome:
    """What one key does. In the dark any key only brings the light back."""
    if state.step is TapeStep.LEFT:
        return state, ()
    if state.dark or key == "B" or (key == "." and state.step is not TapeStep.READING):
        return replace(state, dark=not state.dark), ()
    if state.step is TapeStep.LEAVE:
        if key == "Esc":
            return replace(state, step=TapeStep.LEFT), (LeftUnproved(),)
        return replace(state, step=state.behind), ()
    if key == "Esc":
        return _leave(state)
    match state.step:
        case TapeStep.CAUTIONS:
            return replace(state, step=TapeStep.READING), ()
        case TapeStep.READING:
            return _reading(state, key, parse), ()
    return _verdict(state, key)


def _leave(state: Taping) -> Outcome:
    if not state.readings:
        return replace(state, step=TapeStep.LEFT), (LeftUnproved(),)
    return replace(state, step=TapeStep.LEAVE, behind=state.step), ()


def _reading(state: Taping, key: str, parse: Parse) -> Taping:
    if key == "Backspace":
        return replace(state, typing=state.typing[:-1], problem="")
    if key == "PageUp" and state.at > 0:
        return _at(state, state.at - 1)
    if key in TYPED:
        return replace(state, typing=(state.typing + TYPED[key])[:LONGEST_TYPED], problem="")
    return _entered(state, parse) if key in ("Enter", "PageDown") else state


def _entered(state: Taping, parse: Parse) -> Taping:
    """Enter: the length is read, or left out where nothing was typed; then the next, or the verdict."""
    if state.typing.strip():
        try:
            tape = parse(state.typing)
        except ValueError as fault:
            return replace(state, problem=str(fault))
        if tape <= 0:
            return replace(state, problem="A lit length is more than nothing: type what the tape says.")
        kept = state.with_length(replace(state.length, typed=state.typing, tape=tape))
    else:
        kept = state.with_length(replace(state.length, typed="", tape=None))
    later = state.at + 1
    if later < len(kept.lengths) and kept.lengths[later].tape is None:
        return _at(kept, later)
    if not kept.readings:
        return replace(_at(kept, 0), problem="No length was measured: measure at least one, best all.")
    return replace(kept, step=TapeStep.VERDICT, typing="", problem="")


def _at(state: Taping, number: int) -> Taping:
    return replace(state, at=number, step=TapeStep.READING, typing=state.lengths[number].typed, problem="")


def _verdict(state: Taping, key: str) -> Outcome:
    proof = state.proof
    if key in ("S", "Enter") and proof is not None:
        return replace(state, step=TapeStep.LEFT), (Keep(proof),)
    count = len(state.lengths)
    if key == "R" or (key in DIGITS and int(key) <= count):
        return _at(state, state.at if key == "R" else int(key) - 1), ()
    if key in TURNING:
        return replace(state, at=(state.at + TURNING[key]) % count), ()
    return state, ()
