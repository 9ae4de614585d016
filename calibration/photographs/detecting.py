"""What a photograph shows of the lit pattern, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from calibration.photographs.finding import corners_in
from calibration.photographs.pattern import Pattern
from calibration.photographs.sighting import Sighting
from calibration.problems import Code, PhotographRefused, Problem, problem

Array = NDArray[np.float64]
Grey = NDArray[np.uint8]

LEAST_CORNERS = 24
LEAST_SHARE = 0.3
"""Fewer corners than this many, or this share of all, say too little of a camera."""
PLANE_SHARE = 0.02
"""Corners farther than this share of the picture from a plane map are wrong ones: more than any lens bends."""
DARK, BRIGHT = 50, 250
"""Values out of 255: the brightest part of a photograph that is too dark, and what shows nothing any more."""
GLARES = 1.05
"""A place glares where half of it is so many times as bright as lit fields elsewhere: a lit pattern is half dark."""
BRIGHT_SHARE, GLARE_SHARE = 0.1, 0.25
"""Shares of the picture, and of the corners that are missing, that show nothing any more."""
BLUR_SHARE = 0.06
"""An edge wider (sigma) than this share of a field is moved or out of focus."""
LEAST_FIELD_PX = 24
"""Fields smaller than this in the picture are read badly: it was taken from too far away."""
HIDDEN_SHARE = 0.08
"""Corners missing amid others beyond this share are hidden by something."""
CUT_OFF_SHARE = 0.25


@dataclass(frozen=True, eq=False)
class Judged:
    """What a photograph gave, and what is not as good as it could be about it."""

    sighting: Sighting
    problems: tuple[Problem, ...]


def judge(grey: Grey, pattern: Pattern, camera: str = "", focal_share: float | None = None, number: int = 0) -> Judged:
    """What a photograph (height, width), 0 to 255, shows of the pattern; ``number`` is its own, from 0.

    Raises ``PhotographRefused`` for one that shows too little, saying why as far as that can be seen.
    """
    import cv2

    height, width = grey.shape
    numbers, found = corners_in(grey, pattern)
    if len(numbers) < LEAST_CORNERS:
        raise PhotographRefused(_unseen(grey, pattern, number, len(numbers)))
    one = Sighting(numbers, found, width, height, camera, focal_share)
    corners = pattern.corners_px[one.numbers]
    plane, near = cv2.findHomography(corners, one.pixels, cv2.RANSAC, PLANE_SHARE * one.long_px)
    one = one.kept(near.ravel() > 0) if plane is not None else one
    count, all_of_it = len(one.numbers), len(pattern.corners_px)
    if plane is None or count < max(LEAST_CORNERS, LEAST_SHARE * all_of_it):
        raise PhotographRefused(_unseen(grey, pattern, number, count))
    return Judged(one, _doubts(grey, one, np.asarray(plane, np.float64), pattern, number))


def _doubts(grey: Grey, one: Sighting, plane: Array, pattern: Pattern, number: int) -> tuple[Problem, ...]:
    """What is wrong with a photograph that shows enough: it is used, and another would be better."""
    import cv2

    everywhere = cv2.perspectiveTransform(pattern.corners_px[None], plane)[0]
    inside = ((everywhere > 0) & (everywhere < (one.width_px, one.height_px))).all(axis=1)
    missing = inside & _enclosed(one, pattern)
    field = _field_px(plane, pattern)
    doubts = []
    if 1 - inside.mean() > CUT_OFF_SHARE:
        doubts.append(Code.TABLE_CUT_OFF)
    if field < LEAST_FIELD_PX:
        doubts.append(Code.TOO_FAR_AWAY)
    elif _edge_px(grey, one, field) > max(BLUR_SHARE * field, 1.5):
        doubts.append(Code.MOVED_OR_BLURRED)
    if np.percentile(grey[::8, ::8], 99) < DARK:
        doubts.append(Code.TOO_DARK)
    elif missing.sum() > HIDDEN_SHARE * inside.sum():
        white = GLARES * float(np.median([_level(grey, place, field, 90) for place in one.pixels[::5]]))
        bright = [_level(grey, place, field, 50) >= white for place in everywhere[missing]]
        doubts.append(Code.GLARE if np.mean(bright) > GLARE_SHARE else Code.PATTERN_HIDDEN)
    seen, of = len(one.numbers), len(pattern.corners_px)
    return tuple(problem(("photographs", number), code, seen=seen, of=of) for code in doubts)


def _enclosed(one: Sighting, pattern: Pattern) -> NDArray[np.bool_]:
    """Which corners (N,) are missing with seen ones on all four sides: what falls beside the table is not hidden."""
    seen = np.zeros((pattern.rows - 1, pattern.columns - 1), bool)
    seen.ravel()[one.numbers] = True
    ahead = [np.flip(np.logical_or.accumulate(np.flip(seen, axis), axis=axis), axis) for axis in (0, 1)]
    behind = [np.logical_or.accumulate(seen, axis=axis) for axis in (0, 1)]
    return np.asarray((ahead[0] & ahead[1] & behind[0] & behind[1] & ~seen).ravel())


def _unseen(grey: Grey, pattern: Pattern, number: int, seen: int) -> Problem:
    """Why the pattern is not found: what can be told from the whole of a photograph."""
    small = grey[:: max(1, min(grey.shape) // 500), :: max(1, min(grey.shape) // 500)]
    if np.percentile(small, 99) < DARK:
        code = Code.TOO_DARK
    elif (small >= BRIGHT).mean() > BRIGHT_SHARE:
        code = Code.TOO_BRIGHT
    elif _sharpest(grey) < SHARP:
        code = Code.MOVED_OR_BLURRED
    else:
        code = Code.PATTERN_NOT_SEEN
    return problem(("photographs", number), code, seen=seen, of=len(pattern.corners_px))


SHARP = 0.06
"""The steepest edges of a photograph that is not blurred rise by more than this share of its contrast in a pixel."""


def _sharpest(grey: Grey) -> float:
    """How steep the steepest edges are, in shares of the contrast a pixel; noise is smoothed before.

    Of the two directions the worse one counts: a camera that moved smears along one.
    """
    import cv2

    smooth = cv2.GaussianBlur(grey, (0, 0), 1.5).astype(np.float32)
    contrast = float(np.percentile(smooth, 99) - np.percentile(smooth, 1))
    rises = [np.abs(cv2.Sobel(smooth, cv2.CV_32F, x, 1 - x, scale=1 / 8)) for x in (0, 1)]
    return min(float(np.percentile(rise, 99.5)) for rise in rises) / max(contrast, 1.0)


def _field_px(plane: Array, pattern: Pattern) -> float:
    """The side of a field in the photograph: the least over the pattern's corners and its middle."""
    import cv2

    middle = np.array([pattern.width_px, pattern.height_px]) / 2
    ends = middle + pattern.side_px * np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 0.0), (0.0, 1.0)])
    seen = cv2.perspectiveTransform(ends[None], plane)[0]
    return float(min(np.linalg.norm(seen[1] - seen[0]), np.linalg.norm(seen[3] - seen[2])))


def _edge_px(grey: Grey, one: Sighting, field: float) -> float:
    """How wide (sigma) edges are around the corners: of a blurred step the contrast over the steepest rise says it."""
    reach, found = max(4, int(0.12 * field)), []
    for u, v in one.pixels[:: max(1, len(one.pixels) // 60)].astype(int).tolist():
        patch = grey[max(v - reach, 0) : v + reach + 1, max(u - reach, 0) : u + reach + 1].astype(np.float64)
        low, high = np.percentile(patch, (10, 90))
        steep = np.hypot(*np.gradient(patch))
        found.append((high - low) / max(float(np.percentile(steep, 98)), 1e-6) / np.sqrt(2 * np.pi))
    return float(np.median(found))


def _level(grey: Grey, place: Array, field: float, percent: float) -> float:
    """The value around a place below which so much of it is."""
    reach, (u, v) = max(2, int(field / 3)), place.astype(int).tolist()
    patch = grey[max(v - reach, 0) : v + reach + 1, max(u - reach, 0) : u + reach + 1]
    return float(np.percentile(patch, percent)) if patch.size else 0.0


SAME_PX = 2.0
"""Corners of two photographs that are nowhere farther apart are of one photograph, given twice."""


def repeated(judged: Sequence[Judged]) -> list[tuple[int, int]]:
    """Places (from 0) of photographs that are one given before, and of that one."""
    found = []
    for at, one in enumerate(judged):
        for before in range(at):
            other = judged[before].sighting
            both, mine, theirs = np.intersect1d(one.sighting.numbers, other.numbers, return_indices=True)
            same_size = (one.sighting.width_px, one.sighting.height_px) == (other.width_px, other.height_px)
            apart = np.abs(one.sighting.pixels[mine] - other.pixels[theirs])
            if same_size and len(both) >= LEAST_CORNERS and np.median(apart) < SAME_PX:
                found.append((at, before))
                break
    return found
