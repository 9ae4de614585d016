"""What SDL knows of screens and pygame does not hand on: their names and where they lie on the desktop."""

from __future__ import annotations

import ctypes
import sys
from functools import cache
from pathlib import Path


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
    import pygame

    package = Path(pygame.__file__).parent
    if sys.platform == "win32":
        return [package / "SDL2.dll"]
    if sys.platform == "darwin":
        return sorted((package / ".dylibs").glob("libSDL2-*.dylib"))
    mapped = Path("/proc/self/maps")
    lines = mapped.read_text(errors="replace").splitlines() if mapped.exists() else []
    return sorted({Path(line.split(maxsplit=5)[5]) for line in lines if "/libSDL2-2" in line})
