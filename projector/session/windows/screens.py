"""The screens that there are, opened and asked through SDL."""

from __future__ import annotations

import contextlib
import ctypes
import os
import sys
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pygame

from projector.session.windows.displays import Display, NoDisplayError

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


class _Rectangle(ctypes.Structure):
    _fields_ = (("x", ctypes.c_int), ("y", ctypes.c_int), ("w", ctypes.c_int), ("h", ctypes.c_int))


def name_and_corner(index: int) -> tuple[str, tuple[int, int]]:
    """Name and upper left corner of a screen, counted from 0; ("", (0, 0)) where SDL cannot be asked.

    The screens must be open, see ``screens.video``.
    """
    library = _library()
    if library is None:
        return "", (0, 0)
    called = library.SDL_GetDisplayName(index)
    bounds = _Rectangle()
    found = library.SDL_GetDisplayBounds(index, ctypes.byref(bounds)) == 0
    name = called.decode("utf-8", "replace").strip() if called else ""
    return name, (bounds.x, bounds.y) if found else (0, 0)


@cache
def _library() -> ctypes.CDLL | None:
    """The very library that pygame has loaded: another copy would know nothing of the screens it opened."""
    for path in _paths():
        try:
            library = ctypes.CDLL(str(path))
            library.SDL_GetDisplayName.argtypes = [ctypes.c_int]
            library.SDL_GetDisplayName.restype = ctypes.c_char_p
            library.SDL_GetDisplayBounds.argtypes = [ctypes.c_int, ctypes.POINTER(_Rectangle)]
        except (OSError, AttributeError):
            continue
        return library
    return None


def _paths() -> list[Path]:
    """Where the library lies: in the wheel of each system, or wherever this process has it from."""
    package = Path(pygame.__file__).parent
    if sys.platform == "win32":
        return [package / "SDL2.dll"]
    if sys.platform == "darwin":
        return sorted((package / ".dylibs").glob("libSDL2-*.dylib"))
    mapped = Path("/proc/self/maps")
    lines = mapped.read_text(errors="replace").splitlines() if mapped.exists() else []
    return sorted({Path(line.split(maxsplit=5)[5]) for line in lines if "/libSDL2-2" in line})
