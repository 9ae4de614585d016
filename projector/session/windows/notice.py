"""Words in place of the light, as pixels: why it is away and what to do, as large as the window has room for."""

from __future__ import annotations

import numpy as np

from projector.papers.drawing import Drawing, Words
from projector.papers.png import image_of
from projector.scene.lettering import wrapped
from projector.session.cutting.pictures import BAD, INK, PAPER
from projector.session.mode import Pixels

WIDE_IN, MARGIN_IN = 16.0, 0.6
PITCH, PARTED = 1.8, 0.6
"""From one line to the next, and more between two sentences, in cap heights."""
HEIGHTS_IN = (0.8, 0.65, 0.5, 0.4, 0.3, 0.22)
"""Cap heights tried: on a laptop's screen 11 1/4 in wide the second can be read from two metres."""


def notice_pixels(words: str, size_px: tuple[int, int]) -> Pixels:
    """Sentences as pixels (height, width), packed 0x00RRGGBB, the first in the colour of what must be seen."""
    width, height = size_px
    high_in = WIDE_IN * height / width
    for cap in HEIGHTS_IN:
        lines = _lines(words, cap)
        if lines[-1].at[1] + cap <= high_in - MARGIN_IN:
            break
    seen = np.asarray(image_of(Drawing(WIDE_IN, high_in, lines, PAPER), width / WIDE_IN)).astype(np.uint32)
    packed = np.full((height, width), int(PAPER[1:], 16), np.uint32)
    own = packed[: seen.shape[0], : seen.shape[1]]
    own[:] = (seen[..., 0] << 16 | seen[..., 1] << 8 | seen[..., 2])[:height, :width]
    return packed


def _lines(words: str, cap: float) -> tuple[Words, ...]:
    found: list[Words] = []
    y = MARGIN_IN + cap / 2
    for number, sentence in enumerate(part.rstrip(".") + "." for part in words.split(". ") if part):
        for line in wrapped(sentence, cap, WIDE_IN - 2 * MARGIN_IN):
            found.append(Words(line, (MARGIN_IN, y), cap, INK if number else BAD))
            y += PITCH * cap
        y += PARTED * cap
    return tuple(found)
