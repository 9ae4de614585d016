"""The screens at any moment of the work: SDL's list, put right by what the X server really lights.

SDL notices only cables that go in or out.
"""

from __future__ import annotations

import ctypes
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pygame

from projector.session.windows.displays import Display
from projector.session.windows.screens import reopen, screens

Bounds = tuple[int, int, int, int]
"""Left, upper, width, height on the desktop, pixels."""
SPEAKS_OF_MONITORS = (1, 5)
"""The version of RandR that has monitors (The X Resize, Rotate and Reflect Extension, version 1.5, 2015)."""
Lit = dict[int, Bounds]
"""Where each monitor that is lit lies, by the server's number for its name."""


class _Monitor(ctypes.Structure):
    """XRRMonitorInfo, as the RandR library's header gives it."""

    _fields_ = (
        ("name", ctypes.c_ulong),
        ("primary", ctypes.c_int),
        ("automatic", ctypes.c_int),
        ("noutput", ctypes.c_int),
        ("x", ctypes.c_int),
        ("y", ctypes.c_int),
        ("width", ctypes.c_int),
        ("height", ctypes.c_int),
        ("mwidth", ctypes.c_int),
        ("mheight", ctypes.c_int),
        ("outputs", ctypes.c_void_p),
    )


class Monitors:
    """Asks the X server over a connection of its own; knows nothing, and says so, where there is no X server."""

    def __init__(self) -> None:
        self._x: Any = None
        self._randr: Any = None
        self._connection: int | None = None
        if pygame.display.get_driver() == "x11":
            self._connect()

    def _connect(self) -> None:
        try:
            self._x = ctypes.CDLL("libX11.so.6")
            self._randr = ctypes.CDLL("libXrandr.so.2")
            self._x.XOpenDisplay.restype = ctypes.c_void_p
            self._x.XDefaultRootWindow.argtypes = [ctypes.c_void_p]
            self._x.XDefaultRootWindow.restype = ctypes.c_ulong
            self._x.XCloseDisplay.argtypes = [ctypes.c_void_p]
            ask = self._randr.XRRGetMonitors
            ask.argtypes = [ctypes.c_void_p, ctypes.c_ulong, ctypes.c_int, ctypes.POINTER(ctypes.c_int)]
            ask.restype = ctypes.POINTER(_Monitor)
            self._randr.XRRFreeMonitors.argtypes = [ctypes.POINTER(_Monitor)]
            whole = ctypes.POINTER(ctypes.c_int)
            self._randr.XRRQueryVersion.argtypes = [ctypes.c_void_p, whole, whole]
        except (OSError, AttributeError):
            return
        self._connection = self._x.XOpenDisplay(None)
        if not self._knows_monitors():
            self.close()

    def _knows_monitors(self) -> bool:
        """Whether the server speaks of monitors: asked of one that does not, Xlib would end the program."""
        major, minor = ctypes.c_int(0), ctypes.c_int(0)
        if not self._connection:
            return False
        answered = self._randr.XRRQueryVersion(self._connection, ctypes.byref(major), ctypes.byref(minor))
        return bool(answered) and (major.value, minor.value) >= SPEAKS_OF_MONITORS

    def lit(self) -> Lit | None:
        """The monitors that are lit now; None where nobody can tell."""
        if not self._connection:
            return None
        count = ctypes.c_int(0)
        found = self._randr.XRRGetMonitors(
            self._connection, self._x.XDefaultRootWindow(self._connection), 1, ctypes.byref(count)
        )
        if not found:
            return None
        seen = (found[i] for i in range(count.value))
        bounds = {one.name: (one.x, one.y, one.width, one.height) for one in seen}
        self._randr.XRRFreeMonitors(found)
        return bounds

    def close(self) -> None:
        """Let the connection go."""
        if self._connection:
            self._x.XCloseDisplay(self._connection)
            self._connection = None


def matched(displays: tuple[Display, ...], lit: Lit | None) -> dict[str, int]:
    """The monitor of each display, by its name, where the two agree on where it lies and how large it is.

    Scaled screens may be told of in two ways; of these nothing can be said later.
    """
    places = {bounds: monitor for monitor, bounds in (lit or {}).items()}
    found = {display.name: places.get((display.left_px, display.upper_px, *display.size_px)) for display in displays}
    return {name: monitor for name, monitor in found.items() if monitor is not None}


def as_lit(displays: tuple[Display, ...], lit: Lit | None, monitors: Mapping[str, int]) -> tuple[Display, ...]:
    """The displays where their ``monitors`` lie now and as large; those that are dark are left out."""
    if lit is None:
        return displays
    found = []
    for display in displays:
        monitor = monitors.get(display.name)
        if monitor is None:
            found.append(display)
        elif monitor in lit:
            left, upper, width, height = lit[monitor]
            found.append(replace(display, left_px=left, upper_px=upper, width_px=width, height_px=height))
    return tuple(found)


class Seeing:
    """Looks at the screens again and again, from when the windows are open until they are closed."""

    def __init__(self) -> None:
        self._monitors = Monitors()
        self._own = matched(screens(), self._monitors.lit())

    def displays(self) -> tuple[Display, ...]:
        """The screens that are lit now, where they lie and as large as they are."""
        return as_lit(screens(), self._monitors.lit(), self._own)

    def anew(self) -> tuple[Display, ...]:
        """The screens opened again, their windows closed before, so that new windows find their places."""
        reopen()
        self._own = matched(screens(), self._monitors.lit())
        return self.displays()

    def close(self) -> None:
        """Look no more."""
        self._monitors.close()
