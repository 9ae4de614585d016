"""A host in an ordinary window with a strip of buttons at its foot."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from projector.session.actions import AnyAction
from projector.session.buttons.button import Button, button_at, strip_height
from projector.session.buttons.painted import strip_pixels
from projector.session.host import Host, Pixels, Published

ButtonsNow = Callable[[], tuple[Button, ...]]


class WithButtons:
    """The host ``inner`` above, its buttons below; a click on a button is the key it stands for."""

    def __init__(self, inner: Host, buttons: ButtonsNow, height_px: int) -> None:
        self.inner, self._buttons = inner, buttons
        self._strip_px = height_px

    @property
    def size_px(self) -> tuple[int, int]:
        width, height = self.inner.size_px
        return width, height + self._strip_px

    @property
    def finished(self) -> bool:
        return self.inner.finished

    def key(self, name: str, quiet_s: float) -> bool:
        return self.inner.key(name, quiet_s)

    def click(self, pixel: tuple[int, int], quiet_s: float) -> bool:
        width, height = self.inner.size_px
        if pixel[1] < height:
            return self.inner.click(pixel, quiet_s)
        pressed = button_at(self._buttons(), width, self._strip_px, (pixel[0], pixel[1] - height))
        return self.inner.key(pressed.key, quiet_s) if pressed else False

    def close(self) -> bool:
        return self.inner.close()

    def act(self, action: AnyAction, quiet_s: float) -> bool:
        return isinstance(self.inner, Published) and self.inner.act(action, quiet_s)

    def publish(self) -> dict[str, Any]:
        return self.inner.publish() if isinstance(self.inner, Published) else {}

    def repeats(self, name: str) -> bool:
        return self.inner.repeats(name)

    def paint(self, pixels: Pixels) -> None:
        width, height = self.inner.size_px
        self.inner.paint(pixels[:height])
        pixels[height:] = strip_pixels(self._buttons(), width, self._strip_px)


def split_for_buttons(size_px: tuple[int, int]) -> tuple[tuple[int, int], int]:
    """A window of this size shared out: the size of the host above, and the height of the strip below it."""
    width, height = size_px
    strip = strip_height(height)
    return (width, height - strip), strip
