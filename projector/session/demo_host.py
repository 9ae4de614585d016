"""The demo: a session whose light falls on the simulated table, seen from above, with the same keys."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from jobs.plan import Stop
from projector.session.cutting_host import Cutting
from projector.session.host import Pixels

Eye = Callable[[Pixels], NDArray[np.uint8]]
"""What is seen, (height, width, 3) red, green, blue, when a frame of light falls on the table."""
EyeAt = Callable[[Stop, tuple[int, int]], Eye]
"""The eye over the table as the cloth lies at a stop, for a picture of so many pixels (width, height)."""
KEPT = 4
"""How many stops' views of the table are kept ready."""


class Demo:
    """A session in an ordinary window: ``eye_at`` shows the table with the light of the inner session on it."""

    def __init__(self, cutting: Cutting, eye_at: EyeAt, size_px: tuple[int, int]) -> None:
        self.cutting = cutting
        self._size_px = size_px
        self._eye_at = lru_cache(maxsize=KEPT)(lambda at: eye_at(cutting.session.stops[at], size_px))
        width, height = cutting.size_px
        self._frame: Pixels = np.zeros((height, width), np.uint32)

    @property
    def size_px(self) -> tuple[int, int]:
        return self._size_px

    @property
    def finished(self) -> bool:
        return self.cutting.finished

    def key(self, name: str, quiet_s: float) -> bool:
        return self.cutting.key(name, quiet_s)

    def click(self, pixel: tuple[int, int]) -> bool:
        return False

    def close(self) -> bool:
        return self.cutting.close()

    def repeats(self, name: str) -> bool:
        return self.cutting.repeats(name)

    def paint(self, pixels: Pixels) -> None:
        self.cutting.paint(self._frame)
        seen = self._eye_at(self.cutting.session.at)(self._frame).astype(np.uint32)
        pixels[:] = seen[..., 0] << 16 | seen[..., 1] << 8 | seen[..., 2]
