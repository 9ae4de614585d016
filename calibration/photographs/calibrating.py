"""Photographs and a tape to a table; what cannot carry one is refused, with what to do next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from calibration import homography
from calibration.photographs.bundle import Bundle, bundle
from calibration.photographs.detecting import Judged, repeated
from calibration.photographs.pattern import Pattern
from calibration.photographs.progress import LEAST
from calibration.photographs.standing import next_stand
from calibration.photographs.taping import Taped, crosses_of, similarity, table_of
from calibration.problems import Code, PhotographRefused, Problem, problem
from calibration.table import Table
from calibration.uncertainty import Uncertainty

MOST_IN = 3 / 32
"""A calibration that may be farther off than this somewhere (95 of 100) is none."""
AGREES = 0.5
"""A photograph of which fewer corners agree with the others shows another light, or the light moved."""
READINGS_APART_IN = 3 / 32
HEIGHTS_IN = (20.0, 120.0)
"""No camera held by hand is nearer to a table, or higher above it."""


@dataclass(frozen=True, eq=False)
class Calibrated:
    """``photographs`` are the places (from 0) of those that were used; ``doubts`` what is not as good as it could be of
    them, and of the length."""

    table: Table
    bundled: Bundle
    doubts: tuple[Problem, ...]
    photographs: tuple[int, ...]


def calibrate(pattern: Pattern, photographs: Sequence[Judged], taped: Taped, gamma: float = 2.2) -> Calibrated:
    """The table. Raises ``PhotographRefused``, saying what to photograph or to measure again."""
    doubts = [one for judged in photographs for one in judged.problems]
    twice = repeated(photographs)
    doubts += [problem(("photographs", at), Code.SAME_PHOTOGRAPH, other=before + 1) for at, before in twice]
    left = [at for at in range(len(photographs)) if at not in dict(twice)]
    if len(left) < LEAST:
        raise PhotographRefused(*doubts, problem(("photographs",), Code.TOO_FEW_PHOTOGRAPHS, count=len(left)))
    if max(taped.readings_in) - min(taped.readings_in) > READINGS_APART_IN:
        readings = {"least_in": min(taped.readings_in), "most_in": max(taped.readings_in)}
        raise PhotographRefused(problem(("tape",), Code.LENGTHS_DIFFER, **readings))
    try:
        bundled = bundle(pattern, [photographs[at].sighting for at in left])
    except (homography.OutOfReach, np.linalg.LinAlgError, ArithmeticError):
        raise PhotographRefused(*doubts, problem(("photographs",), Code.OTHER_LIGHT)) from None
    strange = [at for at, share in zip(left, bundled.kept_shares.tolist(), strict=True) if share < AGREES]
    if strange:
        raise PhotographRefused(*(problem(("photographs", at), Code.OTHER_LIGHT) for at in strange))
    table = replace(table_of(bundled, pattern, taped), gamma=gamma)
    error_in = Uncertainty(table).everywhere_in()
    if not error_in <= MOST_IN:
        stand = next_stand(bundled, pattern, taped)
        told = {"error_in": error_in, "side": stand.side, "high": int(stand.high)}
        raise PhotographRefused(*doubts, problem(("photographs",), Code.SHAPE_OPEN, **told))
    heights = heights_in(bundled, pattern, taped)
    unlikely = [height for height in heights if not HEIGHTS_IN[0] < height < HEIGHTS_IN[1]]
    if unlikely:
        doubts.append(problem(("tape",), Code.UNLIKELY_HEIGHT, height_in=max(unlikely, key=abs)))
    return Calibrated(table, bundled, tuple(doubts), tuple(left))


def heights_in(bundled: Bundle, pattern: Pattern, taped: Taped) -> list[float]:
    """How high above the table each camera was, if the tape is right."""
    scale = np.sqrt(
        np.linalg.det(similarity(bundled.values, pattern, crosses_of(bundled.values, pattern), taped.length_in)[:2, :2])
    )
    return [float(scale * bundled.stood_at(number)[2]) for number in range(len(bundled.used))]
