"""The screens that there are, opened and asked through SDL."""

from __future__ import annotations

import contextlib
import ctypes
import os
import sys
from collections import Counter
from collections.abc import Iterator

import pygame

from projector.session.windows.displays import Display, NoDisplayError
from projector.session.windows.sdl import name_and_corner

UNSEEN = frozenset(("offscreen", "dummy", "evdev"))
"""What SDL falls back on where there is no screen: it would open a window nobody sees, and wait for keys for ever."""


@contextlib.contextmanager
def video() -> Iterator[None]:
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


def reopen() -> None:
    """Close the screens and open them again, to learn where each lies now; every window must be closed before.

    Raises ``NoDisplayError``.
    """
    pygame.display.quit()
    try:
        pygame.display.init()
    except pygame.error as fault:
        raise NoDisplayError(str(fault)) from None


def screens() -> tuple[Display, ...]:
    """The screens that there are now, the first one first, while they are open."""
    sizes = pygame.display.get_desktop_sizes()
    rates = pygame.display.get_desktop_refresh_rates()
    asked = [name_and_corner(index) for index in range(len(sizes))]
    names = _told_apart([name for name, _ in asked], rates)
    return tuple(Display(i + 1, names[i], *sizes[i], *asked[i][1], _modes(i)) for i in range(len(sizes)))


def _modes(index: int) -> tuple[tuple[int, int], ...]:
    """The sizes that a screen can show; none where every size will do."""
    modes = pygame.display.list_modes(display=index)
    return tuple((width, height) for width, height in modes) if isinstance(modes, list) else ()


def _told_apart(names: list[str], rates: list[int]) -> list[str]:
    """Names as a person can use them: a bare number is none, and of two alike the later ones are numbered."""
    seen: Counter[str] = Counter()
    told = []
    for number, (name, rate) in enumerate(zip(names, rates, strict=True), 1):
        if not name or name.isdigit():
            name = f"screen {number}{f' at {rate} Hz' if rate else ''}"
        seen[name] += 1
        told.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return told
