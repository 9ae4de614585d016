"""The window whose pixels are the light, on a whole screen or among others."""

from __future__ import annotations

from collections.abc import Callable

import pygame

from projector.session.mode import OnFrame, Pixels, Showing
from projector.session.windows.displays import Display, DisplayError
from projector.session.windows.notice import notice_pixels

CENTRED_ON = 0x2FFF0000
"""SDL's position value for "centred on display n" is this plus n."""


def whole_screen(title: str, screen: Display) -> pygame.Window:
    """A window that fills a screen at its native size."""
    centred = CENTRED_ON + screen.number - 1
    return pygame.Window(title, screen.size_px, (centred, centred), fullscreen_desktop=True)


def ordinary(title: str, size_px: tuple[int, int]) -> pygame.Window:
    """A window among others on the desktop."""
    return pygame.Window(title, size_px)


class LightPane:
    """The window of the light: pixel for pixel what is shown."""

    def __init__(self, window: pygame.Window, showing: Showing, on_frame: OnFrame | None) -> None:
        self.window, self.showing, self._on_frame = window, showing, on_frame
        self._title = window.title

    @property
    def has_px(self) -> tuple[int, int]:
        """How many pixels the window has now, which its screen may change while at work."""
        return self.window.get_surface().get_size()

    def show(self) -> None:
        """Paint straight into the window's own pixels and show them. Raises ``DisplayError``."""
        surface = self.window.get_surface()
        if surface.get_size() != self.showing.size_px:
            has = "{} x {}".format(*surface.get_size())
            raise DisplayError(f"the screen changed to {has} pixels while at work; set it back and start again")
        self._paint(self.showing.paint)

    def say(self, words: str) -> None:
        """Words in place of the light, in a window of whatever size; paints as ``show`` does."""

        def paint(pixels: Pixels) -> None:
            height_px, width_px = pixels.shape
            pixels[:] = notice_pixels(words, (width_px, height_px))

        self._paint(paint)

    def _paint(self, paint: Callable[[Pixels], None]) -> None:
        pixels = _pixels_of(self.window.get_surface())
        paint(pixels)
        if self._on_frame is not None:
            self._on_frame(pixels.copy())
        del pixels
        self.window.flip()

    def close(self) -> None:
        """Take the window off its screen."""
        self.window.destroy()

    def open_on(self, screen: Display) -> None:
        """A new window that fills a screen: one that was moved by the system may come back off its place."""
        self.window = whole_screen(self._title, screen)
        self.window.get_surface().fill(0)


def _pixels_of(surface: pygame.Surface) -> Pixels:
    """The pixels of a surface (height, width) to write into. Raises ``DisplayError`` where they are of another kind."""
    if surface.get_bitsize() != 32 or surface.get_masks()[:3] != (0xFF0000, 0xFF00, 0xFF):
        raise DisplayError("the screen does not show 24-bit colour; set it to true colour and start again")
    return pygame.surfarray.pixels2d(surface).T
