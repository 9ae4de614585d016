"""A strip of buttons as pixels: what each does in large letters, and below it the key that does the same."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from projector.papers.drawing import Anchor, Drawing, Path, Shape, Words, rectangle
from projector.papers.png import image_of
from projector.session.buttons.button import Button, boxes
from projector.session.cutting.pictures import GONE, INK, LIT, PAPER, QUIET, fitted
from projector.session.keys import SPOKEN

FACE = "#232c38"


def strip_pixels(buttons: Sequence[Button], width_px: int, height_px: int) -> NDArray[np.uint32]:
    """The strip (height_px, width_px), packed 0x00RRGGBB; one drawn lately is kept."""
    return _strip(tuple(buttons), width_px, height_px)


@lru_cache(maxsize=8)
def _strip(buttons: tuple[Button, ...], width_px: int, height_px: int) -> NDArray[np.uint32]:
    """Drawn one pixel to a drawing inch."""
    shapes: list[Shape] = []
    for button, box in zip(buttons, boxes(buttons, width_px, height_px), strict=True):
        shapes += _face(button, box)
    seen = np.asarray(image_of(Drawing(width_px, height_px, tuple(shapes), PAPER), 1.0)).astype(np.uint32)
    packed = seen[..., 0] << 16 | seen[..., 1] << 8 | seen[..., 2]
    packed.flags.writeable = False
    return np.asarray(packed, np.uint32)


def _face(button: Button, box: tuple[int, int, int, int]) -> list[Shape]:
    left, upper, right, lower = box
    high, middle, room = lower - upper, (left + right) / 2, right - left - 8.0
    outline = Path(rectangle(*box), LIT if button.main else GONE, 2.0, FACE, closed=True)
    key = SPOKEN.get(button.key, button.key)
    if button.says == key:
        only = Words(key, (middle, upper + high * 0.5), high * 0.34, INK)
        return [outline, replace(fitted(only, room), anchor=Anchor.MIDDLE)]
    says = Words(button.says, (middle, upper + high * 0.36), high * 0.28, LIT if button.main else INK)
    below = Words(key, (middle, upper + high * 0.76), high * 0.17, QUIET)
    return [outline, *(replace(fitted(words, room), anchor=Anchor.MIDDLE) for words in (says, below))]
