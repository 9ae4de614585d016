"""Hands at a dummy window: keys posted as frames come, and clocks."""

from __future__ import annotations

import itertools
import threading
from collections.abc import Callable

import pygame

from projector.session.mode import Pixels
from tests.waiting import HUNG_S

DUMMY = (1024, 768)
"""What SDL's dummy driver says its only screen measures."""

PAGE_DOWN, ENTER, ESCAPE, ANY = pygame.K_PAGEDOWN, pygame.K_RETURN, pygame.K_ESCAPE, pygame.K_SPACE


class Hands:
    """Presses one more of ``presses`` each time a frame is shown, and keeps the frames.

    A press is a key, a key with what it types, or a posted event. A watchdog closes the window when nothing moves.
    """

    def __init__(self, *presses: int | tuple[int, str] | pygame.Event) -> None:
        self.presses = list(presses)
        self.frames: list[Pixels] = []
        self.gave_up = False
        self._watchdog = threading.Timer(HUNG_S, self._give_up)
        self._watchdog.daemon = True
        self._watchdog.start()

    def __call__(self, frame: Pixels) -> None:
        self.frames.append(frame)
        if self.presses:
            press = self.presses.pop(0)
            if not isinstance(press, pygame.Event):
                key, typed = press if isinstance(press, tuple) else (press, "")
                press = pygame.Event(pygame.KEYDOWN, key=key, mod=0, unicode=typed)
            pygame.event.post(press)

    def done(self) -> None:
        self._watchdog.cancel()
        assert not self.gave_up, "nothing moved any more before the window was closed"
        assert not self.presses, "the window was closed before all keys were pressed"

    def _give_up(self) -> None:
        self.gave_up = True
        for _ in range(3):
            pygame.event.post(pygame.Event(pygame.QUIT))


def rested() -> Callable[[], float]:
    """A clock by which every press comes after a rest of at least a second."""
    seconds = itertools.count()
    return lambda: float(next(seconds))


def hurried() -> float:
    """A clock by which no time passes between presses."""
    return 0.0


def typed(text: str) -> list[tuple[int, str]]:
    """Key presses that type a text."""
    return [(ord(letter), letter) for letter in text]
