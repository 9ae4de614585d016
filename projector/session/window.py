"""Windows: the one module that imports pygame. Keys go in by name, frames come out pixel for pixel."""

from __future__ import annotations

import contextlib
import ctypes
import os
import sys
import time
from collections.abc import Callable, Iterator

os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
# SDL reads this at start: without it a scaled screen on Windows reports fewer pixels than it has.
os.environ.setdefault("SDL_WINDOWS_DPI_AWARENESS", "permonitorv2")

import pygame

from projector.session.displays import Display, DisplayError, NoDisplayError, WrongSizeError, chosen
from projector.session.host import Host, Pixels
from projector.session.key_names import key_name

OnFrame = Callable[[Pixels], None]
Clock = Callable[[], float]

CENTRED_ON = 0x2FFF0000
"""SDL's position value for "centred on display n" is this plus n."""
UNSEEN = frozenset(("offscreen", "dummy", "evdev"))
"""What SDL falls back on where there is no screen: it would open a window nobody sees, and wait for keys for ever."""
REPEAT_AFTER_S, REPEAT_EVERY_S = 0.4, 0.06
REPAINT = frozenset(
    (pygame.WINDOWEXPOSED, pygame.WINDOWSHOWN, pygame.WINDOWRESTORED, pygame.WINDOWSIZECHANGED, pygame.VIDEOEXPOSE)
)


def displays() -> tuple[Display, ...]:
    """The screens there are, the first one first; none when there is no screen at all."""
    try:
        with _video():
            return _displays()
    except NoDisplayError:
        return ()


def run_full_screen(
    make: Callable[[Display], Host],
    *,
    display: int | None = None,
    on_frame: OnFrame | None = None,
    clock: Clock = time.monotonic,
) -> None:
    """Run a host on a whole screen at its native size, until it is finished.

    ``display`` counts from 1 (None: the last). Raises ``DisplayError`` when there is no such screen, or when the host
    paints another size than the screen has.
    """
    with _video():
        screen = chosen(_displays(), display)
        host = make(screen)
        if host.size_px != (screen.width_px, screen.height_px):
            raise WrongSizeError(host.size_px, screen)
        centred = CENTRED_ON + screen.number - 1
        window = pygame.Window("lightchalk", host.size_px, (centred, centred), fullscreen_desktop=True)
        _run(window, host, on_frame, clock)


def run_in_window(host: Host, title: str, *, on_frame: OnFrame | None = None, clock: Clock = time.monotonic) -> None:
    """Run a host in an ordinary window of its own size, until it is finished. Raises ``DisplayError``."""
    with _video():
        _run(pygame.Window(title, host.size_px), host, on_frame, clock)


@contextlib.contextmanager
def _video() -> Iterator[None]:
    """The screens opened, and closed again; raises ``NoDisplayError`` when there are none."""
    if sys.platform == "win32":
        with contextlib.suppress(AttributeError, OSError):
            ctypes.windll.shcore.SetProcessDpiAwareness(2)
    try:
        pygame.display.init()
    except pygame.error as fault:
        raise NoDisplayError(str(fault)) from None
    try:
        if pygame.display.get_driver() in UNSEEN and not os.environ.get("SDL_VIDEODRIVER"):
            raise NoDisplayError
        yield
    finally:
        pygame.display.quit()


def _displays() -> tuple[Display, ...]:
    sizes = pygame.display.get_desktop_sizes()
    rates = pygame.display.get_desktop_refresh_rates()
    return tuple(
        Display(i + 1, f"screen {i + 1}{f' at {rate} Hz' if rate else ''}", *size)
        for i, (size, rate) in enumerate(zip(sizes, rates, strict=True))
    )


class _Held:
    """A key held down that counts again and again: only while the keyboard itself says so."""

    def __init__(self) -> None:
        self.name, self.key, self.due_s = "", 0, 0.0

    def press(self, name: str, key: int, now_s: float) -> None:
        self.name, self.key, self.due_s = name, key, now_s + REPEAT_AFTER_S

    def release(self) -> None:
        self.name = ""

    def due(self, now_s: float) -> bool:
        if self.name and not pygame.key.get_pressed()[self.key]:
            self.release()
        if not self.name or now_s < self.due_s:
            return False
        self.due_s = now_s + REPEAT_EVERY_S
        return True

    def wait_ms(self, now_s: float) -> int:
        """How long to wait for an event; 0 stands for ever, when no key is held."""
        return max(1, round((self.due_s - now_s) * 1000)) if self.name else 0


def _run(window: pygame.Window, host: Host, on_frame: OnFrame | None, clock: Clock) -> None:
    """Events in, frames out; sleeps while nothing happens and paints only on a change."""
    try:
        held = _Held()
        _show(window, host, on_frame)
        last_s = clock()
        while not host.finished:
            waited = pygame.event.wait(held.wait_ms(clock()))
            paint = False
            for event in (waited, *pygame.event.get()):
                now_s = clock()
                changed, moved = _take(event, host, held, now_s - last_s, now_s)
                paint |= changed
                last_s = now_s if moved else last_s
            if held.due(clock()):
                paint |= host.key(held.name, 0.0)
            if paint and not host.finished:
                _show(window, host, on_frame)
                last_s = clock()
    finally:
        window.destroy()


def _take(event: pygame.Event, host: Host, held: _Held, quiet_s: float, now_s: float) -> tuple[bool, bool]:
    """One event: whether to paint anew, and whether a key or button moved.

    Letting go counts too: a pedal that was stood on bounces when it comes up.
    """
    if event.type in (pygame.QUIT, pygame.WINDOWCLOSE):
        return host.close(), True
    if event.type == pygame.KEYDOWN:
        name = _name_of(event)
        if name is None:
            return False, False
        held.release()
        if host.repeats(name):
            held.press(name, event.key, now_s)
        return host.key(name, quiet_s), True
    if event.type in (pygame.KEYUP, pygame.WINDOWFOCUSLOST):
        held.release()
        return False, True
    if event.type == pygame.MOUSEBUTTONDOWN and event.button == 1:
        return host.click(event.pos, quiet_s), True
    return event.type in REPAINT, False


def _name_of(event: pygame.Event) -> str | None:
    mods = getattr(event, "mod", 0)
    return key_name(
        pygame.key.name(event.key),
        getattr(event, "unicode", ""),
        shift=bool(mods & pygame.KMOD_SHIFT),
        ctrl=bool(mods & pygame.KMOD_CTRL),
        alt=bool(mods & (pygame.KMOD_LALT | pygame.KMOD_META)),
    )


def _show(window: pygame.Window, host: Host, on_frame: OnFrame | None) -> None:
    """Paint straight into the window's own pixels and show them."""
    surface = window.get_surface()
    if surface.get_size() != host.size_px:
        has = "{} x {}".format(*surface.get_size())
        raise DisplayError(f"the screen changed to {has} pixels while at work; set it back and start again")
    if surface.get_bitsize() == 32 and surface.get_masks()[:3] == (0xFF0000, 0xFF00, 0xFF):
        pixels = pygame.surfarray.pixels2d(surface).T
        host.paint(pixels)
        if on_frame is not None:
            on_frame(pixels.copy())
        del pixels
    else:
        raise DisplayError("the screen does not show 24-bit colour; set it to true colour and start again")
    window.flip()
