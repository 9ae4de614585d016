"""How much lens distortion the marks could hide, and how far off the light would then be."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration import words
from calibration.lens import Lens
from calibration.lit import lit_points
from calibration.marks import tables_of
from calibration.quantiles import CENTRAL_95
from calibration.table import Table
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

LARGEST_K1 = 0.05
"""Largest radial term to reckon with in a projector for rooms (a setting; no source)."""


@dataclass(frozen=True)
class LensDoubt:
    """A radial term up to ``k1`` cannot be ruled out; unseen, it would move the light by ``error_in`` at ``at_in``.

    ``told_by_marks`` is false when the marks say nothing of it and ``k1`` is merely the largest to reckon with.
    """

    k1: float
    error_in: float
    at_in: tuple[float, float]
    where: str
    told_by_marks: bool

    def sentence(self, unit: str = "in") -> str:
        """The doubt in words."""
        size = words.error(self.error_in, unit)
        if self.told_by_marks:
            return f"If the lens bends straight lines, the marks allow no more than {size} of it, at {self.where}."
        return (
            f"These marks cannot show whether the lens bends straight lines: it could, by {size} at {self.where}. "
            "Check marks at the middles of the edges would show it; eight marks or more would take it out."
        )


def lens_doubt(table: Table, largest_k1: float = LARGEST_K1) -> LensDoubt | None:
    """What a radial term about the frame's middle could do unseen; None when a lens term is fitted already.

    First order: the fit takes up what it can of the bend at the marks, the rest shows in the residuals and so gives k1
    with its uncertainty; reckoned with is the far end of its 95 % interval, at most ``largest_k1``.
    """
    if table.lens and table.lens.terms:
        return None
    made, places = Uncertainty(table), tables_of(table.marks)
    seen = lit_points(table, 25, 15)
    bend_marks, bend_seen = (_bend(table, points) for points in (places, seen))
    slopes = made.slopes(places).reshape(2 * len(places), -1)
    back = np.linalg.pinv(slopes)
    taken_up = back @ bend_marks.ravel()
    moved = np.linalg.solve(table.jacobian(seen), (bend_seen - made.slopes(seen) @ taken_up)[:, :, None])[:, :, 0]
    shows = bend_marks.ravel() - slopes @ taken_up
    limit, told = largest_k1, False
    power = float(shows @ shows)
    if power > 1e-6 * float(bend_marks.ravel() @ bend_marks.ravel()):
        found = float(-shows @ table.residual_vectors_px.ravel()) / power
        blocks = shows.reshape(-1, 2)
        spread = np.einsum("ni,nij,nj->", blocks, made.placing_covariance_px(places), blocks)
        reach = abs(found) + CENTRAL_95 * made.scale * float(np.sqrt(spread)) / power
        limit, told = min(reach, largest_k1), reach < largest_k1
    errors = limit * np.linalg.norm(moved, axis=1)
    index = int(np.argmax(errors))
    x, y = seen[index].tolist()
    return LensDoubt(limit, float(errors[index]), (x, y), words.spot((x, y), table.lit_area()), told)


def _bend(table: Table, points_in: Array) -> Array:
    """How far pixels (N, 2) move for a k1 of 1, to first order."""
    lens = Lens.for_frame(table.width_px, table.height_px)
    return lens.by_terms(table.to_frame(points_in))[:, :, 0]
