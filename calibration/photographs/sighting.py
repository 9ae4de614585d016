"""What one photograph saw of the pattern."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Sighting:
    """Corners of the pattern: numbers (N,) in ``Pattern.corners_px``, and pixels (N, 2) from the picture's corner.

    ``camera`` names the camera and its zoom as far as the file tells: photographs of one name share a lens.
    ``focal_share`` is the focal length in long sides of the picture, where the file tells it.
    """

    numbers: NDArray[np.intp]
    pixels: Array
    width_px: int
    height_px: int
    camera: str = ""
    focal_share: float | None = None

    @property
    def long_px(self) -> int:
        return max(self.width_px, self.height_px)

    @property
    def middle_px(self) -> Array:
        return np.array([self.width_px, self.height_px]) / 2

    def kept(self, which: NDArray[np.bool_]) -> Sighting:
        """The same with those corners only."""
        return Sighting(
            self.numbers[which], self.pixels[which], self.width_px, self.height_px, self.camera, self.focal_share
        )
