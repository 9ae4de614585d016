"""The light itself, key by key: moved, turned, hidden in part, wider, other colours. Every change can be taken back."""

from __future__ import annotations

from dataclasses import replace

from projector.session.actions import NUDGES_64THS, TURNS, Action
from projector.session.state.motion import Motion
from projector.session.state.pages import Layer
from projector.session.state.state import Session
from projector.session.state.steps import MOST_KEPT, LightStep
from projector.session.state.told import layer_said

THINNEST, WIDEST = -4, 8

LAYERS: dict[Action, Layer] = {
    Action.CUT_LINES: Layer.CUT_LINES,
    Action.ROWS: Layer.ROWS,
    Action.MATCH_MARKS: Layer.MATCH_MARKS,
    Action.TRIMS: Layer.TRIMS,
    Action.FOLDS: Layer.FOLDS,
    Action.PINS: Layer.PINS,
    Action.LETTERS: Layer.LETTERS,
}

MOVING, BACK, WIDTH, COLOURS = "moving the light", "putting the light back", "the width of lines", "the colours"
RUNS = frozenset({MOVING, WIDTH, COLOURS})
"""A run of presses of these is taken back as one."""


def adjust(session: Session, action: Action) -> Session:
    """The session with the light changed as asked; the same where the action is not about the light."""
    if action in LAYERS:
        layer = LAYERS[action]
        hidden = session.hidden ^ {layer}
        changed = replace(session, hidden=hidden, told=layer_said(layer, hidden=layer in hidden))
        return _with_step(session, changed, layer.value)
    if action in NUDGES_64THS:
        return _with_step(session, replace(session, motion=session.motion.shifted(*NUDGES_64THS[action])), MOVING)
    if action in TURNS:
        return _with_step(session, replace(session, motion=session.motion.turned(TURNS[action])), MOVING)
    match action:
        case Action.LIGHT_BACK:
            return _with_step(session, replace(session, motion=Motion()), BACK)
        case Action.COLOURS:
            return _with_step(session, replace(session, colour=session.colour + 1), COLOURS)
        case Action.WIDER:
            return _with_step(session, replace(session, width_step=min(session.width_step + 1, WIDEST)), WIDTH)
        case Action.THINNER:
            return _with_step(session, replace(session, width_step=max(session.width_step - 1, THINNEST)), WIDTH)
    return session


def _with_step(before: Session, after: Session, what: str) -> Session:
    """``after``, remembering the light ``before``; a run of like changes is one step."""
    if after.light == before.light:
        return after
    last = before.steps[-1] if before.steps else None
    if last is not None and what in RUNS and (last.what, last.moment) == (what, before.moment):
        return after
    return replace(after, steps=(*before.steps, LightStep(what, before.light, before.moment))[-MOST_KEPT:])
