"""The pictures of a calibration from photographs: what is left over, and where to stand next."""

from __future__ import annotations

import math

import numpy as np

from calibration.photographs.bundle import bundle
from calibration.photographs.progress import Progress, Stood, progress
from calibration.photographs.residuals import residuals_of
from projector.papers.drawing import WARNING, Drawing, Path, Words
from projector.papers.residual_picture import GOOD, over_photograph, residual_picture
from projector.papers.standing_picture import NEXT, standing_picture
from tests.calibration.photographs.rigs import PATTERN, around, length_in, projector, sighted

LIT = projector()
FIVE = [sighted(camera, LIT, seed) for seed, camera in enumerate(around(5))]
AREA = np.array([(0.0, 0.0), (80.0, 0.0), (80.0, 45.0), (0.0, 45.0)])


def strokes(drawing: Drawing, colour: str) -> list[Path]:
    return [one for one in drawing.shapes if isinstance(one, Path) and one.stroke == colour]


def test_every_corner_has_its_bar_and_a_wrong_one_a_cross() -> None:
    left = residuals_of(bundle(PATTERN, FIVE))
    used = sum(int(one.used.sum()) for one in left)
    wrong = sum(int((~one.used).sum()) for one in left)
    assert wrong > 20
    drawn = residual_picture(left, "abcde", "Left over")
    assert (len(strokes(drawn, GOOD)), len(strokes(drawn, WARNING))) == (used, 2 * wrong)
    # The corners were seen with 0.25 px of noise either way.
    assert all(abs(one.spread_px - 0.25) < 0.05 for one in left)


def test_a_bar_points_to_where_the_fit_has_the_corner() -> None:
    (one, *_) = residuals_of(bundle(PATTERN, FIVE))
    small = over_photograph(one, lambda pixels: pixels / 10, (one.saw.width_px / 10, one.saw.height_px / 10))
    bar = strokes(small, GOOD)[3]
    at = np.flatnonzero(one.used)[3]
    (x, y), (to_x, to_y) = bar.points
    assert np.allclose((x, y), one.saw.pixels[at] / 10)
    step, apart = np.array([to_x - x, to_y - y]), one.apart_px[at]
    assert np.allclose(step / np.linalg.norm(step), apart / np.linalg.norm(apart))


def come(side: int, **more: object) -> Progress:
    values = {"bundled": None, "open_in": None, "area_in": AREA, "stood": (Stood((40.0, -15.0), 65.0),)}
    return Progress(**{**values, **more}, side=side, high=True)  # type: ignore[arg-type]


def test_the_next_place_is_drawn_on_its_side_of_the_light() -> None:
    middle = np.array([3.0, 2.1])  # of the sheet, 6.0 by 4.2 above its foot
    for side in range(8):
        first, *_ = strokes(standing_picture(come(side), upright=True), NEXT)
        head = np.mean(first.points, axis=0)
        x, y = head - middle
        assert abs(math.remainder(math.atan2(-y, x) - side * math.tau / 8, math.tau)) < 1e-6
        assert 0.2 < head[0] < 5.8
        assert 0.2 < head[1] < 4.2


def test_nobody_is_sent_on_once_the_photographs_are_enough() -> None:
    # Four leave little open, and nothing tests them.
    four = (Stood((40.0, -15.0), 65.0),) * 4
    assert strokes(standing_picture(come(2, open_in=0.01, stood=four), upright=True), NEXT) != []
    drawn = standing_picture(come(2, open_in=0.01, stood=(*four, *four[:1])), upright=True)
    assert strokes(drawn, NEXT) == []
    assert not any(isinstance(one, Words) and "next" in one.text for one in drawn.shapes)


def test_what_the_photographs_leave_open_falls_with_each_and_the_bar_fills() -> None:
    come_by = [progress(PATTERN, FIVE[:count], length_in(LIT)) for count in (1, 3, 5)]
    first, third, fifth = come_by
    assert first.open_in is None
    assert third.open_in is not None
    assert fifth.open_in is not None
    assert third.open_in > fifth.open_in > 1 / 100  # a quarter of a pixel, the corners' noise, is some 1/100 in here
    assert 0 < first.share < third.share < fifth.share <= 1
    true = [camera.lens_at[2] for camera in around(5)]
    assert np.allclose([one.height_in for one in fifth.stood], true, rtol=0.01)
