"""Which screens an X server really lights: SDL does not notice one that is switched off while its cable stays in."""

from __future__ import annotations

import ctypes
import ctypes.util
from typing import Any

import pygame

from projector.session.displays import Display

Bounds = tuple[int, int, int, int]
"""Left, upper, width, height on the desktop, pixels."""


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
            self._x = ctypes.CDLL(ctypes.util.find_library("X11") or "libX11.so.6")
            self._randr = ctypes.CDLL(ctypes.util.find_library("Xrandr") or "libXrandr.so.2")
            self._x.XOpenDisplay.restype = ctypes.c_void_p
            self._x.XDefaultRootWindow.argtypes = [ctypes.c_void_p]
            self._x.XDefaultRootWindow.restype = ctypes.c_ulong
            self._x.XCloseDisplay.argtypes = [ctypes.c_void_p]
            ask = self._randr.XRRGetMonitors
            ask.argtypes = [ctypes.c_void_p, ctypes.c_ulong, ctypes.c_int, ctypes.POINTER(ctypes.c_int)]
            ask.restype = ctypes.POINTER(_Monitor)
            self._randr.XRRFreeMonitors.argtypes = [ctypes.POINTER(_Monitor)]
        except (OSError, AttributeError):
            return
        self._connection = self._x.XOpenDisplay(None)

    def lit(self) -> frozenset[Bounds] | None:
        """Where the monitors lie that are lit now; None where nobody can tell."""
        if not self._connection:
            return None
        count = ctypes.c_int(0)
        found = self._randr.XRRGetMonitors(
            self._connection, self._x.XDefaultRootWindow(self._connection), 1, ctypes.byref(count)
        )
        if not found:
            return None
        bounds = frozenset((found[i].x, found[i].y, found[i].width, found[i].height) for i in range(count.value))
        self._randr.XRRFreeMonitors(found)
        return bounds

    def close(self) -> None:
        """Let the connection go."""
        if self._connection:
            self._x.XCloseDisplay(self._connection)
            self._connection = None


def without_the_dark(displays: tuple[Display, ...], lit: frozenset[Bounds] | None) -> tuple[Display, ...]:
    """The displays without those that no monitor shows; all of them where that cannot be told."""
    if lit is None:
        return displays
    return tuple(one for one in displays if (one.left_px, one.upper_px, *one.size_px) in lit)
