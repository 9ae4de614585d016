"""Waiting for what another program does: until it is done, however busy the machine is, never for a time."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TypeVar

HUNG_S = 300.0
"""Only a program that hangs takes so long: a test of one ends then, and fails, instead of waiting for ever."""
LOOK_EVERY_S = 0.02

T = TypeVar("T")


def wait_until(what: Callable[[], T], of: Callable[[], str] = lambda: "it never came") -> T:
    """What ``what`` gives once it is true; fails with the words of ``of`` where that hangs."""
    hung = time.monotonic() + HUNG_S
    while not (found := what()):
        assert time.monotonic() < hung, of()
        time.sleep(LOOK_EVERY_S)
    return found
