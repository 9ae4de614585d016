"""A game controller: each of its buttons stands for a key unless a keys file gives that button another meaning."""

from __future__ import annotations

from projector.session.controls.keys import Keys

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
