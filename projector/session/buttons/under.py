"""A mode shown in an ordinary window with a strip of buttons at its foot."""

from __future__ import annotations

from typing import Any

from projector.session.actions import AnyAction
from projector.session.buttons.button import button_at, buttons_of, strip_height
from projector.session.buttons.painted import strip_pixels
from projector.session.mode import Mode, Pixels, Showing


class WithButtons:
    """What is shown ``inner`` above, its buttons below; a click on a button is the key it stands for."""

    def __init__(self, inner: Showing, height_px: int) -> None:
        self.inner, self._strip_px = inner, height_px

    @property
    def mode(self) -> Mode[Any, Any]:
        return self.inner.mode

    @property
    def size_px(self) -> tuple[int, int]:
        width, height = self.inner.size_px
        return width, height + self._strip_px

    def action_at(self, pixel: tuple[int, int]) -> AnyAction | None:
        width, height = self.inner.size_px
        if pixel[1] < height:
            return self.inner.action_at(pixel)
        pressed = button_at(buttons_of(self.mode), width, self._strip_px, (pixel[0], pixel[1] - height))
        return self.mode.action_for(pressed.key) if pressed else None

    def paint(self, pixels: Pixels) -> None:
        width, height = self.inner.size_px
        self.inner.paint(pixels[:height])
        pixels[height:] = strip_pixels(buttons_of(self.mode), width, self._strip_px)


def split_for_buttons(size_px: tuple[int, int]) -> tuple[tuple[int, int], int]:
    """A window of this size shared out: the size of what is shown above, and the height of the strip below it."""
    width, height = size_px
    strip = strip_height(height)
    return (width, height - strip), strip
