"""Photographs and a tape to a table; what cannot carry one is refused, with what to do next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.height import LensPosition
from calibration.photographs.bundle import Bundle, bundle
from calibration.photographs.detecting import Judged, repeated
from calibration.photographs.earlier import length_before_in, same_light
from calibration.photographs.pattern import Pattern
from calibration.photographs.progress import LEAST
from calibration.photographs.sides import TESTED
from calibration.photographs.sighting import Sighting
from calibration.photographs.standing import next_stand
from calibration.photographs.taping import Taped, crosses_of, similarity, table_of
from calibration.problems import Code, PhotographRefused, Problem, problem
from calibration.quantiles import squares_tail
from calibration.table import Table
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

MOST_IN = 3 / 32
"""A calibration that may be farther off than this somewhere (95 of 100) is none."""
AGREES = 0.5
"""A photograph of which fewer corners agree with the others shows another light, or the light moved."""
ROUGHEST_SHARE = 0.0005
"""Of the long side of a picture: corners of photographs that go together are less far off (2 px of 4032; a setting)."""
STRAINED = 1e-4
"""Cameras less likely than this to be so, by what is known of cameras, were bent to suit what does not belong."""
HARDLY, SUSPECT = 0.05, 0.8
"""Cameras less likely than this, or a photograph that agrees with the others at fewer of its corners than this share,
make a set doubtful (settings: of 60 rendered sets in which nothing was wrong none came near)."""
SHARPER = 0.75
"""Of a doubtful set a photograph shows another light where the rest, without it, are this much less far off."""
PLAINLY = 20.0
"""One photograph is named where to leave it out is better by so much (twice a logarithm) than any other."""
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


def calibrate(
    pattern: Pattern,
    photographs: Sequence[Judged],
    taped: Taped,
    before: Table | None = None,
    lens_position: LensPosition | None = None,
) -> Calibrated:
    """The table. Raises ``PhotographRefused``, saying what to photograph or to measure again, and ``ReadingsRefused``
    for a length that is none of a tape.

    ``before`` is the calibration that it takes the place of: the projector's gamma comes from there, and, unless a tape
    has just said it, where its lens is; the length is held against it.
    """
    doubts = [one for judged in photographs for one in judged.problems]
    twice = repeated(photographs)
    doubts += [problem(("photographs", at), Code.SAME_PHOTOGRAPH, other=first + 1) for at, first in twice]
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
    strange = _strange(pattern, [photographs[at].sighting for at in left], bundled)
    if strange is not None:
        paths: list[tuple[str | int, ...]] = [("photographs", left[at]) for at in strange] or [("photographs",)]
        raise PhotographRefused(*(problem(path, Code.OTHER_LIGHT) for path in paths))
    if _hardly(bundled):
        doubts.append(problem(("photographs",), Code.HARDLY_TOGETHER))
    table = replace(table_of(bundled, pattern, taped), lens_position=lens_position)
    remarks = _unlikely_height(bundled, pattern, taped)
    if before is not None:
        table, more = _after(before, table, crosses_of(bundled.values, pattern), taped)
        remarks += more
    error_in = Uncertainty(table).everywhere_in()
    if not error_in <= MOST_IN:
        of_length = [one for one in remarks if one.path == ("tape",)]
        if of_length:
            # A length far too long makes every error as large: no photograph mends that.
            raise PhotographRefused(*doubts, *of_length)
        stand = next_stand(bundled, pattern, taped)
        told = {"error_in": error_in, "side": stand.side, "high": int(stand.high)}
        raise PhotographRefused(*doubts, problem(("photographs",), Code.SHAPE_OPEN, **told))
    if len(left) < TESTED:
        doubts.append(problem(("photographs",), Code.UNTESTED, count=len(left)))
    if len(taped.readings_in) == 1:
        doubts.append(problem(("tape",), Code.READ_ONCE))
    return Calibrated(table, bundled, (*doubts, *remarks), tuple(left))


def _unlikely_height(bundled: Bundle, pattern: Pattern, taped: Taped) -> list[Problem]:
    heights = heights_in(bundled, pattern, taped)
    unlikely = [height for height in heights if not HEIGHTS_IN[0] < height < HEIGHTS_IN[1]]
    return [problem(("tape",), Code.UNLIKELY_HEIGHT, height_in=max(unlikely, key=abs))] if unlikely else []


def _after(before: Table, made: Table, crosses_px: Array, taped: Taped) -> tuple[Table, list[Problem]]:
    """The table with what is kept of the one before, and what that one makes doubtful."""
    made, doubts = replace(made, gamma=before.gamma), []
    light = same_light(before, made)
    if light is not None:
        then_in = length_before_in(light, crosses_px, taped)
        if then_in is not None:
            lengths = {"then_in": then_in, "now_in": taped.length_in}
            doubts.append(problem(("tape",), Code.LENGTH_BEFORE, **lengths))
    if made.lens_position is None and before.lens_position is not None:
        if light is not None:
            made = replace(made, lens_position=light.brought(before.lens_position))
        else:
            doubts.append(problem(("lens_position",), Code.LENS_MOVED))
    return made, doubts


def _strange(pattern: Pattern, seen: Sequence[Sighting], bundled: Bundle) -> tuple[int, ...] | None:
    """Which photographs do not go with the others; none of them where that cannot be told; None where all do.

    One that shows another light seldom stands out: cameras bend to suit it, farther than cameras are bent. Left out,
    the rest agree at once, with each other and with what cameras are like; but what three leave agrees with anything.
    """
    odd = tuple(at for at, share in enumerate(bundled.kept_shares.tolist()) if share < AGREES)
    clash = bool(odd) or not _agrees(bundled)
    if not clash and not _hardly(bundled):
        return None
    sharpest, left = bundled.sigma_px, list[tuple[float, int]]()
    for at in range(len(seen)) if len(seen) >= TESTED else ():
        try:
            without = bundle(pattern, [*seen[:at], *seen[at + 1 :]])
        except (homography.OutOfReach, np.linalg.LinAlgError, ArithmeticError):
            continue
        if _agrees(without):
            sharpest = min(sharpest, without.sigma_px)
            left.append((without.unlikeliness, at))
    if not clash and sharpest > SHARPER * bundled.sigma_px:
        return None
    left.sort()
    sure = len(left) == 1 or (len(left) > 1 and left[1][0] - left[0][0] > PLAINLY)
    return (left[0][1],) if sure else odd


def _hardly(bundled: Bundle) -> bool:
    """Whether they go together, but not as those of one light do."""
    return squares_tail(*bundled.strain) < HARDLY or bool(bundled.kept_shares.min() < SUSPECT)


def _agrees(bundled: Bundle) -> bool:
    rough = bundled.sigma_px > ROUGHEST_SHARE * max(one.long_px for one in bundled.used)
    return not rough and squares_tail(*bundled.strain) > STRAINED


def heights_in(bundled: Bundle, pattern: Pattern, taped: Taped) -> list[float]:
    """How high above the table each camera was, if the tape is right."""
    scale = np.sqrt(
        np.linalg.det(similarity(bundled.values, pattern, crosses_of(bundled.values, pattern), taped.length_in)[:2, :2])
    )
    return [float(scale * bundled.stood_at(number)[2]) for number in range(len(bundled.used))]
