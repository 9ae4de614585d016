"""A photograph brought onto the lit pattern: from a few codes to every edge of light in it.

Under the map so far the photograph is laid out in table inches beside the light that is known to fall there; about
every corner of the pattern the two are compared (B. Lucas and T. Kanade, IJCAI 1981), and the map is fitted anew to
where the corners were seen. The print is noise in that: its edges do not run with those of the light, and where they
pull a corner aside it does not go with the others.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from calibration.laying.camera import PhotoMap, photo_map
from calibration.laying.flattening import SOFT, Lit, Sheet, area_of, levels_at
from calibration.laying.grids import COARSER, blurred, on_grid, slope, window_sums
from calibration.photographs.finding import LEAST_CODES, codes_in, corners_in
from calibration.photographs.pattern import Pattern
from calibration.problems import Code, PhotographRefused, problem
from calibration.table import Table

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Rgb = NDArray[np.uint8]

BLURS_IN = (0.3, 0.16, 0.08, 0.05)
"""How far light is blurred before it is compared, round by round: less as the map grows better."""
WINDOW_IN, SLOW_IN = 0.85, 0.7
FARTHEST_IN = 0.35
LEAST_ALIKE = 0.3
LEAST_CORNERS = 12
SAME_IN = 1e-6
LARGEST_PX = 2600
"""Codes are looked for in a photograph made no larger than this: they are large."""
AGREE_SHARE = 0.01
"""Corners of codes that are this share of the picture off a plane map are misread ones."""


def camera_of(rgb: Rgb, table: Table, lit: Lit) -> tuple[PhotoMap, Sheet]:
    """The map of a photograph, and the photograph as it is laid out. Raises ``PhotographRefused``."""
    frame, pixels = _first_seen(rgb, lit.pattern)
    size = rgb.shape[1], rgb.shape[0]
    marks = table.to_table(np.concatenate([lit.pattern.corners_px, _code_middles(lit.pattern)]))
    camera = photo_map(table.to_table(frame), pixels, size)
    sheet = Sheet.of(rgb, camera.dense_per_in)
    for blur in BLURS_IN:
        places, seen = _followed(camera, sheet, table, lit, marks, blur)
        if len(places) < LEAST_CORNERS:
            break
        camera = photo_map(places, seen, size)
    # A code is half seen at a table's edge, where the light goes past; four fields about a corner are not.
    corners = marks[: len(lit.pattern.corners_px)]
    whole = (np.abs(camera.places[:, None] - corners[None]).max(axis=2) < SAME_IN).any(axis=1)
    return (replace(camera, places=camera.places[whole]) if whole.sum() >= LEAST_CORNERS else camera), sheet


def _code_middles(pattern: Pattern) -> Array:
    """The middles (N, 2) of the codes in the frame."""
    return np.array([pattern.corner_of(*field) for field in pattern.white_fields], float) + pattern.side_px / 2


def _first_seen(rgb: Rgb, pattern: Pattern) -> tuple[Array, Array]:
    """Places of the frame (N, 2) and the pixels (N, 2) at which they are seen, to begin with: corners of the pattern,
    or where only its codes are lit, corners of these."""
    small = _grey(rgb)
    numbers, pixels = corners_in(small, pattern)
    frame = pattern.corners_px[numbers]
    if len(frame) < LEAST_CORNERS:
        frame, pixels = _codes_that_agree(small, pattern)
    if len(frame) < LEAST_CORNERS:
        values = {"seen": len(numbers), "of": len(pattern.corners_px)}
        raise PhotographRefused(problem(("photo",), Code.PATTERN_NOT_SEEN, **values))
    return frame, pixels / (small.shape[1] / rgb.shape[1])


def shows_pattern(rgb: Rgb, pattern: Pattern) -> bool:
    """Whether codes of the pattern are to be read in a photograph."""
    return len(_codes_that_agree(_grey(rgb), pattern)[0]) >= LEAST_CORNERS


def _grey(rgb: Rgb) -> NDArray[np.uint8]:
    """A photograph in grey, as large as codes are looked for in it."""
    import cv2

    grey = cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY)
    share = min(1.0, LARGEST_PX / max(grey.shape))
    small = grey if share == 1 else cv2.resize(grey, None, fx=share, fy=share, interpolation=cv2.INTER_AREA)
    return np.asarray(small, np.uint8)


def _codes_that_agree(small: NDArray[np.uint8], pattern: Pattern) -> tuple[Array, Array]:
    """Corners (N, 2) of codes in the frame and their pixels (N, 2), as far as they lie on one plane; else none."""
    import cv2

    frame, pixels = codes_in(small, pattern)
    if len(frame) < 4 * LEAST_CODES:  # codes are unreadable where a mirror swaps left and right
        frame, pixels = codes_in(np.ascontiguousarray(small[:, ::-1]), pattern)
        pixels = (small.shape[1], 0) - pixels * (1, -1)
    if len(frame) < 4 * LEAST_CODES:
        return frame[:0], pixels[:0]
    plane, kept = cv2.findHomography(frame, pixels, cv2.RANSAC, AGREE_SHARE * max(small.shape))
    near = kept.ravel() > 0 if plane is not None else np.zeros(len(frame), bool)
    return frame[near], pixels[near]


def _followed(
    camera: PhotoMap, sheet: Sheet, table: Table, lit: Lit, corners: Array, blur_in: float
) -> tuple[Array, Array]:
    """Corners of the light (N, 2), table inches, and the pixels (N, 2) at which they were seen."""
    low, high, per_in = _whole_light(camera, table, corners)
    columns, rows = (int(n) for n in np.ceil((high - low) * per_in))
    light, inside = sheet.seen(on_grid(camera.to_picture, low, per_in, (rows, columns)))
    level, reach = levels_at(low, per_in, (rows, columns), table, lit)
    used = (inside & (reach > 0)).astype(np.float32)
    seen = np.log(light.mean(axis=2) + np.float32(SOFT))
    seen, drawn = (blurred(one, blur_in * per_in) for one in (seen, level))
    seen, drawn = (one - blurred(one, SLOW_IN * per_in) for one in (seen, drawn))
    steps = [slope(drawn, axis, per_in) for axis in (1, 0)]
    window = WINDOW_IN * per_in

    def sums(picture: Picture) -> Picture:
        return window_sums(picture * used, window)

    cross, own, other = sums(seen * drawn), sums(drawn * drawn), sums(seen * seen)
    at = (corners - low) * per_in
    row, column = (np.clip((at[:, k] / COARSER).astype(int), 0, cross.shape[1 - k] - 1) for k in (1, 0))

    def here(picture: Picture) -> Array:
        return picture[row, column].astype(np.float64)

    gain = here(cross) / np.maximum(here(own), 1e-9)
    alike = here(cross) / np.sqrt(np.maximum(here(own) * here(other), 1e-12))
    a, b, c = (here(sums(steps[i] * steps[j])) for i, j in ((0, 0), (0, 1), (1, 1)))
    # The light is smooth under the window, so the gain is one number there: left = seen - gain x drawn.
    pulls = [here(sums(step * seen)) - gain * here(sums(step * drawn)) for step in steps]
    curve = gain[:, None, None] * np.stack([np.stack([a, b], -1), np.stack([b, c], -1)], -2)
    good = (alike > LEAST_ALIKE) & (gain > 0) & (here(window_sums(used, window)) > 0.8)
    good &= np.linalg.det(curve) > 1e-12
    moved = np.zeros_like(corners)
    moved[good] = -np.linalg.solve(curve[good], np.stack(pulls, -1)[good][..., None])[..., 0]
    good &= np.linalg.norm(moved, axis=1) < FARTHEST_IN
    return corners[good], camera.to_picture(corners[good] + moved[good])


def _whole_light(camera: PhotoMap, table: Table, corners: Array) -> tuple[Array, Array, float]:
    """The area of all corners of the light that are in the picture, and with how many places an inch it is seen."""
    pixels = camera.to_picture(corners)
    inside = ((pixels > 0) & (pixels < camera.size_px)).all(axis=1)
    low, high = corners[inside].min(axis=0) - 2, corners[inside].max(axis=0) + 2
    return low, high, area_of(camera, table)[2]
