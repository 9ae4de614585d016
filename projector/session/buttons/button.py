"""Buttons as data: what a mode offers, laid out side by side in a strip; which one a click falls on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from projector.session.mode import Mode

Box = tuple[int, int, int, int]
"""Left, upper, right, lower, pixels of the strip."""

GAP_PX = 6
WIDEST_SHARE = 0.24
"""No button takes more of the strip than this: two alone are not stretched over the whole screen."""


@dataclass(frozen=True)
class Button:
    """What a button says and the name of the key it stands for; ``main`` marks the one that goes on."""

    says: str
    key: str
    main: bool = False


def buttons_of(mode: Mode[Any, Any]) -> tuple[Button, ...]:
    """The buttons now; an action that the keys in force leave without a key has none."""
    found = []
    for number, (says, action) in enumerate(mode.offers):
        key = next((key for key, what in mode.keys.items() if what == action), None)
        if key is not None:
            found.append(Button(says, key, main=number == 0))
    return tuple(found)


def boxes(buttons: Sequence[Button], width_px: int, height_px: int) -> tuple[Box, ...]:
    """The box of each button, from left to right in a strip of this size; wider ones for those that say more."""
    if not buttons:
        return ()
    weights = [max(4, min(16, len(button.says))) for button in buttons]
    room = width_px - GAP_PX * (len(buttons) + 1)
    wide = [min(room * weight / sum(weights), width_px * WIDEST_SHARE) for weight in weights]
    found, left = [], float(GAP_PX)
    for width in wide:
        found.append((round(left), GAP_PX, round(left + width), height_px - GAP_PX))
        left += width + GAP_PX
    return tuple(found)


def button_at(buttons: Sequence[Button], width_px: int, height_px: int, pixel: tuple[int, int]) -> Button | None:
    """The button under a pixel of the strip; None beside them all."""
    u, v = pixel
    for button, (left, upper, right, lower) in zip(buttons, boxes(buttons, width_px, height_px), strict=True):
        if left <= u < right and upper <= v < lower:
            return button
    return None


def strip_height(height_px: int) -> int:
    """How high the strip is at the foot of a window of this height: a finger's breadth, never less than 40 pixels."""
    return max(40, round(height_px * 0.085))
