"""The mouse's arrow: left on the light it would lie on the cloth, so there it is hidden once it rests."""

from __future__ import annotations

import pygame

HIDDEN_AFTER_S = 3.0


class Pointer:
    """Shown as soon as the mouse moves; hidden after a rest over the light, never over another window."""

    def __init__(self) -> None:
        self._moved_s: float | None = None

    def moved(self, now_s: float, *, over_light: bool) -> None:
        """The mouse has moved."""
        pygame.mouse.set_visible(True)
        self._moved_s = now_s if over_light else None

    def rest(self, now_s: float) -> None:
        """Time has passed."""
        if self._moved_s is not None and now_s - self._moved_s >= HIDDEN_AFTER_S:
            pygame.mouse.set_visible(False)
            self._moved_s = None
