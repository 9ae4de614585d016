"""Keys as a file gives them: how actions and keys are written there, and the table of keys that comes of it."""

from __future__ import annotations

import re
from pathlib import Path

from projector.files.keys_file import Usual, read_keys
from projector.session.controls.actions import Action
from projector.session.controls.key_names import NAMED
from projector.session.controls.keys import DEFAULT_KEYS, Keys
from projector.session.controls.pads import PAD_NAMES

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


def written(action: Action) -> str:
    """How an action is called in a keys file: ``next stop``, ``light far left``."""
    return action.name.lower().replace("_", " ")


WRITTEN: dict[str, Action] = {written(action): action for action in Action if action is not Action.ANY_OTHER}


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
