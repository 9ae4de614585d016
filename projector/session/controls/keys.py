"""Which key asks for what: a table of key names, so that a file can change it later.

A key is named by what is printed on it (``PageDown``, ``Space``, ``[``, ``U``); ``Shift+`` and ``Ctrl+`` stand before
the names of keys that type nothing. Letters are upper case and carry no ``Shift+``.
"""

from __future__ import annotations

from collections.abc import Mapping

from projector.session.controls.actions import Action

Keys = Mapping[str, Action]

DEFAULT_KEYS: dict[str, Action] = {
    "PageDown": Action.NEXT_STOP,
    "Space": Action.NEXT_STOP,
    "PageUp": Action.PREVIOUS_STOP,
    "Backspace": Action.PREVIOUS_STOP,
    "N": Action.NEXT_CUT,
    "Enter": Action.CUT_DONE,
    "U": Action.UNDO,
    "Left": Action.LIGHT_LEFT,
    "Right": Action.LIGHT_RIGHT,
    "Up": Action.LIGHT_AWAY,
    "Down": Action.LIGHT_NEARER,
    "Shift+Left": Action.LIGHT_FAR_LEFT,
    "Shift+Right": Action.LIGHT_FAR_RIGHT,
    "Shift+Up": Action.LIGHT_FAR_AWAY,
    "Shift+Down": Action.LIGHT_FAR_NEARER,
    "Ctrl+Left": Action.LIGHT_HAIR_LEFT,
    "Ctrl+Right": Action.LIGHT_HAIR_RIGHT,
    "Ctrl+Up": Action.LIGHT_HAIR_AWAY,
    "Ctrl+Down": Action.LIGHT_HAIR_NEARER,
    "[": Action.TURN_LEFT,
    "]": Action.TURN_RIGHT,
    "0": Action.LIGHT_BACK,
    "C": Action.CUT_LINES,
    "G": Action.ROWS,
    "M": Action.MATCH_MARKS,
    "S": Action.TRIMS,
    "F": Action.FOLDS,
    "P": Action.PINS,
    "T": Action.LETTERS,
    "K": Action.COLOURS,
    "+": Action.WIDER,
    "=": Action.WIDER,
    "-": Action.THINNER,
    "L": Action.LAY,
    "R": Action.REPLAN,
    "Y": Action.PULLED,
    "B": Action.DARK,
    ".": Action.DARK,
    "H": Action.HELP,
    "W": Action.LEGEND,
    "Tab": Action.BENCH,
    "Home": Action.REMAINING,
    "Esc": Action.LEAVE,
}

SPOKEN = {"PageDown": "Page Down", "PageUp": "Page Up", ".": "full stop", "Space": "Space bar"}
"""How a key is called in a sentence, where that differs from its name."""


def action_for(key: str, keys: Keys = DEFAULT_KEYS) -> Action:
    """What a key asks for; a key without a meaning still counts as "any key"."""
    return keys.get(key, Action.ANY_OTHER)


def keys_for(action: Action, keys: Keys = DEFAULT_KEYS) -> tuple[str, ...]:
    """The keys that ask for ``action``, as called in a sentence, in the order of the table."""
    return tuple(SPOKEN.get(key, key) for key, asked in keys.items() if asked is action)


def spoken(action: Action, keys: Keys = DEFAULT_KEYS) -> str:
    """The first key that asks for ``action``, as called in a sentence; the action itself when no key does."""
    return next(iter(keys_for(action, keys)), f"({action})")
