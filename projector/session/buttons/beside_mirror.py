"""The light as it is, small, on the laptop's own screen with buttons below: for calibrating and for the tape."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PIL import Image

from projector.papers.drawing import Drawing, Words
from projector.papers.png import image_of
from projector.session.bench.parts import BAD, PAPER, fitted
from projector.session.buttons.button import button_at, strip_height
from projector.session.buttons.painted import strip_pixels
from projector.session.buttons.under import ButtonsNow
from projector.session.host import Host, Pixels

Box = tuple[int, int, int, int]
"""Left, upper, width, height, pixels."""
FRAME_PX = 4
"""Kept free around the picture of the light, so that its edge is seen."""


class Mirror:
    """What stands beside a host that has no screen of its own; ``state`` tells by comparison whether it has changed."""

    def __init__(self, host: Host, state: Callable[[], object], buttons: ButtonsNow) -> None:
        self.host, self._state, self._buttons = host, state, buttons
        self._words = ""

    def shows(self) -> object:
        return self._state(), self._words, self._buttons()

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
            pixels[height - strip :] = strip_pixels(self._buttons(), width, strip)

    def click(self, pixel: tuple[int, int], size_px: tuple[int, int], quiet_s: float) -> bool:
        width, height = size_px
        strip = strip_height(height)
        pressed = button_at(self._buttons(), width, strip, (pixel[0], pixel[1] - (height - strip)))
        if pressed is not None:
            return self.host.key(pressed.key, quiet_s)
        left, upper, wide, high = self._box(size_px)
        u, v = (pixel[0] - left, pixel[1] - upper)
        if not (0 <= u < wide and 0 <= v < high):
            return False
        across, down = self.host.size_px
        return self.host.click((int((u + 0.5) * across / wide), int((v + 0.5) * down / high)), quiet_s)

    def _box(self, size_px: tuple[int, int]) -> Box:
        """Where the picture of the light lies: as large as fits above the buttons, in the middle."""
        width, height = size_px
        room = width - 2 * FRAME_PX, height - strip_height(height) - 2 * FRAME_PX
        across, down = self.host.size_px
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
