"""Keys, remotes, pedals and controllers: how each is called, and which action it asks for.

A key is named by what is printed on it (``PageDown``, ``Space``, ``[``, ``U``); ``Shift+`` and ``Ctrl+`` stand before
the names of keys that type nothing. Letters are upper case and carry no ``Shift+``. A file may give other keys.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from projector.files.keys_file import Usual, read_keys
from projector.session.actions import Action, AnyAction, written

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
    "V": Action.PHOTOGRAPH,
    "R": Action.REPLAN,
    "Y": Action.PULLED,
    "B": Action.DARK,
    ".": Action.DARK,
    "H": Action.HELP,
    "W": Action.LEGEND,
    "Home": Action.REMAINING,
    "Esc": Action.LEAVE,
}

SPOKEN = {"PageDown": "Page Down", "PageUp": "Page Up", ".": "full stop", "Space": "Space bar"}
"""How a key is called in a sentence, where that differs from its name."""


def keys_for(action: AnyAction, keys: Mapping[str, AnyAction] = DEFAULT_KEYS) -> tuple[str, ...]:
    """The keys that ask for ``action``, as called in a sentence, in the order of the table."""
    return tuple(SPOKEN.get(key, key) for key, asked in keys.items() if asked == action)


def spoken(action: Action, keys: Keys = DEFAULT_KEYS) -> str:
    """The first key that asks for ``action``, as called in a sentence; the action itself when no key does."""
    return next(iter(keys_for(action, keys)), f"({action})")


MODIFIERS = frozenset(
    [
        "left shift",
        "right shift",
        "left ctrl",
        "right ctrl",
        "left alt",
        "right alt",
        "left meta",
        "right meta",
        "alt gr",
        "AltGr",
        "caps lock",
        "numlock",
        "scroll lock",
    ]
)
NAMED = {
    "page down": "PageDown",
    "page up": "PageUp",
    "space": "Space",
    "backspace": "Backspace",
    "return": "Enter",
    "enter": "Enter",
    "keypad enter": "Enter",
    "escape": "Esc",
    "left": "Left",
    "right": "Right",
    "up": "Up",
    "down": "Down",
    "home": "Home",
    "end": "End",
    "tab": "Tab",
    "insert": "Insert",
    "delete": "Delete",
}


def key_name(reported: str, typed: str, shift: bool, ctrl: bool, alt: bool = False) -> str | None:
    """The name of a key, or None for a modifier alone.

    ``reported`` is the toolkit's name of the key (``page down``, ``a``), ``typed`` the character it types, if any.
    """
    if reported in MODIFIERS:
        return None
    prefix = ("Alt+" if alt else "") + ("Ctrl+" if ctrl else "")
    if reported in NAMED:
        return prefix + ("Shift+" if shift else "") + NAMED[reported]
    if typed and typed.isprintable():
        return prefix + typed.upper()
    if len(reported) == 1:
        return prefix + reported.upper()
    return prefix + ("Shift+" if shift else "") + reported.title().replace(" ", "")


MOST_BUTTONS = 32
CROSS = {(-1, 0): "PadLeft", (1, 0): "PadRight", (0, 1): "PadUp", (0, -1): "PadDown"}
"""What the cross of a controller reports (right, up) when pressed one way, and how that is called."""
PAD_KEYS: dict[str, str] = {
    "PadLeft": "Left",
    "PadRight": "Right",
    "PadUp": "Up",
    "PadDown": "Down",
    "Pad1": "PageDown",
    "Pad2": "PageUp",
    "Pad3": "B",
    "Pad4": "U",
    "Pad5": "[",
    "Pad6": "]",
}
"""The key that each stands for as long as nothing else is said."""
PAD_NAMES = (*CROSS.values(), *(f"Pad{number}" for number in range(1, MOST_BUTTONS + 1)))


def button_name(number: int) -> str:
    """How button ``number`` (from 0) of a controller is called: Pad1 is the first."""
    return f"Pad{number + 1}"


def cross_name(right: int, up: int) -> str | None:
    """How a way of the cross is called; None when it is let go or pressed aslant."""
    return CROSS.get((right, up))


def pad_keys(keys: Keys) -> dict[str, str]:
    """The keys that a controller's buttons stand for, without those that ``keys`` itself gives a meaning."""
    return {pad: key for pad, key in PAD_KEYS.items() if pad not in keys}


NEEDED = (Action.NEXT_STOP, Action.PREVIOUS_STOP, Action.DARK, Action.LEAVE)
"""Going on (which ticks as well), going back, darkening the light before leaning under it, and leaving."""

PREFIXES = ("Alt+", "Ctrl+", "Shift+")
_NAMES = {name.casefold(): name for name in NAMED.values()} | {
    name.casefold(): name
    for name in (
        *(f"F{number}" for number in range(1, 25)),
        "AudioPlay",
        "AudioStop",
        "AudioNext",
        "AudioPrev",
        "VolumeUp",
        "VolumeDown",
        "Menu",
        "Pause",
        "PrintScreen",
        *PAD_NAMES,
    )
}
_CALLED = {
    "escape": "Esc",
    "return": "Enter",
    "spacebar": "Space",
    "fullstop": ".",
    "pgdn": "PageDown",
    "pgup": "PageUp",
}


WRITTEN: dict[str, Action] = {written(action): action for action in Action if action in DEFAULT_KEYS.values()}
"""The actions that a keys file may give keys to, by their names there."""


def key_of(text: str) -> str | None:
    """The proper name of a key written in any case, with or without spaces, held keys in any order; None for no key.

    Letters and signs carry no Shift: what they type with it has a name of its own.
    """
    rest, found = re.sub(r"\s*\+\s*(?=.)", "+", text.strip()), set[str]()
    while True:
        starts = (start for start in PREFIXES if rest.casefold().startswith(start.casefold()) and start not in found)
        start = next(starts, "")
        if not start or len(rest) == len(start):
            break
        found.add(start)
        rest = rest[len(start) :].strip()
    prefix = "".join(start for start in PREFIXES if start in found)
    if len(rest) == 1:
        return prefix + rest.upper() if rest.isprintable() and rest != " " and "Shift+" not in prefix else None
    bare = "".join(rest.split()).casefold()
    name = _NAMES.get(bare) or _CALLED.get(bare)
    return prefix + name if name and not (len(name) == 1 and "Shift+" in prefix) else None


def keys_from(path: Path) -> Keys:
    """The table of keys that a keys file gives; raises Problems with everything that is wrong with it."""
    usual = Usual(
        keys={key: written(action) for key, action in DEFAULT_KEYS.items()},
        actions=tuple(WRITTEN),
        needed=tuple(written(action) for action in NEEDED),
        key_of=key_of,
    )
    return {key: WRITTEN[action] for key, action in read_keys(path, usual).items()}
