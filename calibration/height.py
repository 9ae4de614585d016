"""Light on a raised surface: cloth thickness or a stack of layers moves it, by similar triangles."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.homography import points_of

Array = NDArray[np.float64]

SHORTEST_THROW = 1.0
"""Without a measured lens position it is taken to be no nearer than this many widths of the lit area (a setting)."""


class LensTooLow(ValueError):  # noqa: N818
    """The surface reaches up to the lens or beyond."""


@dataclass(frozen=True)
class LensPosition:
    """Where the projector's lens is: the foot of its plumb line on the table, and its height above the table."""

    foot_in: tuple[float, float]
    height_in: float

    def aiming(self, raised_in: float) -> Array:
        """The map (3, 3) from places on a surface ``raised_in`` up to the table places to aim at, by similar triangles.

        Raises ``LensTooLow`` when the surface does not lie between the table and the lens.
        """
        if not 0 <= raised_in < self.height_in:
            raise LensTooLow(f"a surface {raised_in:g} in up does not lie between the table and the lens")
        grow = 1 / (1 - raised_in / self.height_in)
        x, y = self.foot_in
        return np.array([[grow, 0.0, x * (1 - grow)], [0.0, grow, y * (1 - grow)], [0.0, 0.0, 1.0]])


def possible_shift_in(outline_in: ArrayLike, raised_in: float, nearest_lens_in: float | None = None) -> float:
    """Farthest the light can move on a surface ``raised_in`` up when nobody measured where the lens is.

    The lens is taken to hang over the lit area ``outline_in`` (N, 2), anywhere, and no lower than ``nearest_lens_in``
    (else the longer side of the lit area times ``SHORTEST_THROW``). Raises ``LensTooLow``.
    """
    outline = points_of(outline_in)
    across = float(np.linalg.norm(outline[:, None] - outline[None], axis=2).max())
    widest = float(np.ptp(outline, axis=0).max())
    height = SHORTEST_THROW * widest if nearest_lens_in is None else nearest_lens_in
    if not 0 <= raised_in < height:
        raise LensTooLow(f"a surface {raised_in:g} in up does not lie between the table and a lens {height:g} in up")
    return across * raised_in / height
