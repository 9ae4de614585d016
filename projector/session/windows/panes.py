"""The windows themselves: the one whose pixels are the light, and the one on the laptop's own screen."""

from __future__ import annotations

import pygame

from projector.session.actions import AnyAction
from projector.session.mode import Beside, OnFrame, Pixels, Showing
from projector.session.windows.displays import Display, DisplayError

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
        self.hidden = False
        self._title = window.title

    @property
    def has_px(self) -> tuple[int, int]:
        """How many pixels the window has now, which its screen may change while at work."""
        return self.window.get_surface().get_size()

    @property
    def pixels(self) -> Pixels:
        """The frame as it is shown, to be looked at only."""
        return _pixels_of(self.window.get_surface())

    def show(self) -> None:
        """Paint straight into the window's own pixels and show them. Raises ``DisplayError``."""
        surface = self.window.get_surface()
        if surface.get_size() != self.showing.size_px:
            has = "{} x {}".format(*surface.get_size())
            raise DisplayError(f"the screen changed to {has} pixels while at work; set it back and start again")
        pixels = _pixels_of(surface)
        self.showing.paint(pixels)
        if self._on_frame is not None:
            self._on_frame(pixels.copy())
        del pixels
        self.window.flip()

    def hide(self) -> None:
        """Out of the way while its screen is away: some systems move the window onto the laptop's screen."""
        self.window.hide()
        self.hidden = True

    def close(self) -> None:
        """Take the window off its screen."""
        self.window.destroy()
        self.hidden = False

    def open_on(self, screen: Display) -> None:
        """A new window that fills its screen: one that was moved by the system may come back off its place."""
        self.window = whole_screen(self._title, screen)
        self.window.get_surface().fill(0)


class BesidePane:
    """The window on the laptop's own screen, painted anew only when what it shows has changed."""

    def __init__(self, window: pygame.Window, beside: Beside, on_frame: OnFrame | None = None) -> None:
        self.window: pygame.Window | None = window
        self.beside, self._on_frame = beside, on_frame
        self._title = window.title
        self._shown: object = None
        self.stale = True

    def refresh(self, light: LightPane) -> bool:
        """Bring the picture up to date with the light; tell whether anything was painted."""
        if self.window is None:
            return False
        shows = (self.beside.shows(), self.window.size)
        if not self.stale and shows == self._shown:
            return False
        pixels = _pixels_of(self.window.get_surface())
        self.beside.paint(pixels, light.pixels)
        if self._on_frame is not None:
            self._on_frame(pixels.copy())
        del pixels
        self.window.flip()
        self._shown, self.stale = shows, False
        return True

    def action_at(self, pixel: tuple[int, int]) -> AnyAction | None:
        """What a click in this window asks for; None: nothing."""
        return None if self.window is None else self.beside.action_at(pixel, self.window.get_surface().get_size())

    def come_forward(self) -> None:
        """Take the keyboard, and lie above other windows."""
        if self.window is not None:
            self.window.focus()

    def has(self, event: pygame.Event) -> bool:
        """Whether an event happened in this window."""
        return self.window is not None and getattr(event, "window", None) is self.window

    def close(self) -> None:
        """Take the window off its screen."""
        if self.window is not None:
            self.window.destroy()
            self.window = None

    def open_on(self, screen: Display) -> None:
        """A new window that fills a screen."""
        self.window, self.stale = whole_screen(self._title, screen), True


def _pixels_of(surface: pygame.Surface) -> Pixels:
    """The pixels of a surface (height, width) to write into. Raises ``DisplayError`` where they are of another kind."""
    if surface.get_bitsize() != 32 or surface.get_masks()[:3] != (0xFF0000, 0xFF00, 0xFF):
        raise DisplayError("the screen does not show 24-bit colour; set it to true colour and start again")
    return pygame.surfarray.pixels2d(surface).T
