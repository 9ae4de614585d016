"""What a window needs of the thing it shows: keys in, pixels out. No window toolkit here."""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Pixels = NDArray[np.uint32]


class Host(Protocol):
    """Something that is run in a window: a session, a calibration, a demo."""

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height of what it paints."""

    @property
    def finished(self) -> bool:
        """Whether the window is to be closed."""

    def key(self, name: str, quiet_s: float) -> bool:
        """Take one key by name, ``quiet_s`` after the last change of the light or key; tell whether to paint anew."""

    def click(self, pixel: tuple[int, int], quiet_s: float) -> bool:
        """Take a click on a pixel, ``quiet_s`` as for keys; tell whether to paint anew."""

    def close(self) -> bool:
        """Take a press of the window's close button; tell whether to paint anew."""

    def repeats(self, name: str) -> bool:
        """Whether a key, held down, counts again and again."""

    def paint(self, pixels: Pixels) -> None:
        """Write the frame into (height, width) 32-bit pixels 0x00RRGGBB."""
