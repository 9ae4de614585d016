"""Names of keys from what a window reports: the printed name, with Shift+ and Ctrl+ where nothing is typed."""

from __future__ import annotations

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
