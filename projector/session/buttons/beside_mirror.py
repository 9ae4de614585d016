"""The light as it is, small, on the laptop's own screen with buttons below: for calibrating and for the tape."""

from __future__ import annotations

from typing import Any

import numpy as np
from PIL import Image

from projector.papers.drawing import Drawing, Words
from projector.papers.png import image_of
from projector.session.actions import AnyAction
from projector.session.buttons.button import button_at, buttons_of, strip_height
from projector.session.buttons.painted import strip_pixels
from projector.session.cutting.pictures import BAD, PAPER, fitted
from projector.session.mode import Mode, Pixels

Box = tuple[int, int, int, int]
"""Left, upper, width, height, pixels."""
FRAME_PX = 4
"""Kept free around the picture of the light, so that its edge is seen."""


class Mirror:
    """What stands beside a mode that has no screen of its own."""

    def __init__(self, mode: Mode[Any, Any]) -> None:
        self.mode = mode
        self._words = ""

    def shows(self) -> object:
        return self.mode.state, self._words

    def tell(self, words: str) -> None:
        self._words = words

    def paint(self, pixels: Pixels, light: Pixels) -> None:
        height, width = pixels.shape
        strip = strip_height(height)
        pixels[:] = int(PAPER[1:], 16)
        left, upper, wide, high = self._box((width, height))
        if high > 0 and wide > 0:
            pixels[upper : upper + high, left : left + wide] = _smaller(light, wide, high)
        if self._words:
            told = _told(self._words, width, strip)
            pixels[: told.shape[0]] = told[:height]
        if height > strip:
            pixels[height - strip :] = strip_pixels(buttons_of(self.mode), width, strip)

    def action_at(self, pixel: tuple[int, int], size_px: tuple[int, int]) -> AnyAction | None:
        width, height = size_px
        strip = strip_height(height)
        pressed = button_at(buttons_of(self.mode), width, strip, (pixel[0], pixel[1] - (height - strip)))
        if pressed is not None:
            return self.mode.action_for(pressed.key)
        left, upper, wide, high = self._box(size_px)
        u, v = (pixel[0] - left, pixel[1] - upper)
        if not (0 <= u < wide and 0 <= v < high):
            return None
        across, down = self.mode.size_px
        return self.mode.action_at((int((u + 0.5) * across / wide), int((v + 0.5) * down / high)))

    def _box(self, size_px: tuple[int, int]) -> Box:
        """Where the picture of the light lies: as large as fits above the buttons, in the middle."""
        width, height = size_px
        room = width - 2 * FRAME_PX, height - strip_height(height) - 2 * FRAME_PX
        across, down = self.mode.size_px
        share = min(room[0] / across, room[1] / down)
        wide, high = max(0, int(across * share)), max(0, int(down * share))
        return (width - wide) // 2, FRAME_PX + (room[1] - high) // 2, wide, high


def _smaller(light: Pixels, width_px: int, height_px: int) -> Pixels:
    """The frame at another size, its fine lines dimmed rather than lost."""
    image = Image.fromarray(np.ascontiguousarray(light).view(np.uint8).reshape(*light.shape, 4), "RGBX")
    seen = np.asarray(image.convert("RGB").resize((width_px, height_px), Image.Resampling.BOX)).astype(np.uint32)
    # Packed pixels lie in memory as blue, green, red.
    return np.asarray(seen[..., 2] << 16 | seen[..., 1] << 8 | seen[..., 0], np.uint32)


def _told(words: str, width_px: int, height_px: int) -> Pixels:
    """One line about the projector across the top."""
    line = fitted(Words(words, (10.0, height_px / 2), height_px * 0.4, BAD), width_px - 20.0)
    seen = np.asarray(image_of(Drawing(width_px, height_px, (line,), PAPER), 1.0)).astype(np.uint32)
    return np.asarray(seen[..., 0] << 16 | seen[..., 1] << 8 | seen[..., 2], np.uint32)
