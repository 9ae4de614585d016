"""What the calibration that was there before says of the new one: the length, and where the lens is."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calibration.height import LensPosition
from calibration.marks import Mark
from calibration.photographs.bundle import bundle
from calibration.photographs.calibrating import calibrate
from calibration.photographs.earlier import same_light
from calibration.photographs.taping import Taped, table_of
from calibration.problems import Code, PhotographRefused, Problem
from calibration.table import Table, fit_table
from projector.demo.virtual_projector import VirtualProjector
from tests.calibration.photographs.rigs import PATTERN, around, crosses_in, judged, length_in, projector, sighted

LIT = projector()
FIVE = [sighted(camera, LIT, seed) for seed, camera in enumerate(around(5))]
TRUE_IN = length_in(LIT)
THEN = table_of(
    bundle(PATTERN, [sighted(camera, LIT, seed) for seed, camera in enumerate(around(5, seed=8), 50)]),
    PATTERN,
    Taped((TRUE_IN + 1 / 64,)),
)
"""Calibrated once before, by other photographs."""


def by_marks(lit: VirtualProjector) -> Table:
    """As it was calibrated by hand, counted from the table's corner: marks a 32nd of an inch off."""
    rng = np.random.default_rng(3)
    pixels = [(u * PATTERN.width_px, v * PATTERN.height_px) for v in (0.06, 0.94, 0.5) for u in (0.06, 0.94, 0.5)]
    places = (lit.to_table(pixels) + rng.normal(0, 1 / 32, (9, 2))).tolist()
    marks = [Mark((x, y), pixel) for (x, y), pixel in zip(places, pixels, strict=True)]
    return fit_table(marks, PATTERN.width_px, PATTERN.height_px)


def doubted(length: float, before: Table) -> list[Problem]:
    found = calibrate(PATTERN, judged(FIVE), Taped((length, length)), before).doubts
    return [one for one in found if one.code is Code.LENGTH_BEFORE]


@pytest.mark.parametrize("before", [THEN, by_marks(LIT)], ids=["photographs", "marks"])
@pytest.mark.parametrize("typed", [TRUE_IN + 1, TRUE_IN - 10, TRUE_IN + 10, 63.0], ids=["1", "-10", "10", "63"])
def test_a_length_typed_wrong_is_doubted_where_the_light_was_calibrated_before(before: Table, typed: float) -> None:
    (one,) = doubted(typed, before)
    assert one.path == ("tape",)
    assert one.value("then_in") == pytest.approx(TRUE_IN, abs=1 / 8)
    assert one.value("now_in") == typed


@pytest.mark.parametrize("before", [THEN, None], ids=["calibrated before", "never"])
def test_centimetres_for_inches_are_told_so_and_not_to_take_another_photograph(before: Table | None) -> None:
    with pytest.raises(PhotographRefused) as refused:
        calibrate(PATTERN, judged(FIVE), Taped((TRUE_IN * 2.54,)), before)
    codes = [one.code for one in refused.value.problems]
    assert codes == [Code.UNLIKELY_HEIGHT] + [Code.LENGTH_BEFORE] * (before is not None)


@pytest.mark.parametrize("before", [THEN, by_marks(LIT)], ids=["photographs", "marks"])
def test_a_length_that_is_right_is_not_doubted(before: Table) -> None:
    assert doubted(TRUE_IN - 1 / 32, before) == []


def test_a_light_that_hangs_otherwise_tells_nothing_of_the_length() -> None:
    moved = replace(LIT, lens_at=(LIT.lens_at[0] + 4.0, *LIT.lens_at[1:]))
    assert doubted(TRUE_IN + 1, by_marks(moved)) == []
    assert same_light(by_marks(moved), THEN) is None


def test_another_frame_is_another_light() -> None:
    assert same_light(replace(THEN, width_px=1024), THEN) is None


def test_gamma_and_the_place_of_the_lens_stay_where_the_light_does() -> None:
    x, y, z = LIT.lens_at
    before = replace(by_marks(LIT), gamma=1.8, lens_position=LensPosition((x, y), z))
    made = calibrate(PATTERN, judged(FIVE), Taped((TRUE_IN,)), before)
    assert made.table.gamma == 1.8
    assert made.table.lens_position is not None
    first, second = crosses_in(LIT)
    along = (second - first) / np.linalg.norm(second - first)
    foot = np.array([along, (-along[1], along[0])]) @ (np.array([x, y]) - first)
    assert made.table.lens_position.foot_in == pytest.approx(tuple(foot.tolist()), abs=1 / 8)
    assert made.table.lens_position.height_in == z
    assert Code.LENS_MOVED not in [one.code for one in made.doubts]


def test_the_place_of_the_lens_is_left_out_where_the_light_moved_unless_a_tape_says_it() -> None:
    moved = replace(LIT, lens_at=(LIT.lens_at[0] + 4.0, *LIT.lens_at[1:]))
    before = replace(by_marks(moved), lens_position=LensPosition((40.0, 20.0), 96.0))
    made = calibrate(PATTERN, judged(FIVE), Taped((TRUE_IN,)), before)
    assert made.table.lens_position is None
    assert Code.LENS_MOVED in [one.code for one in made.doubts]
    # Of a light that photographs leave open it is that which is told.
    few = [sighted(camera, LIT, seed, noise_px=1.5) for seed, camera in enumerate(around(3))]
    with pytest.raises(PhotographRefused) as refused:
        calibrate(PATTERN, judged(few), Taped((TRUE_IN,)), before)
    assert [one.code for one in refused.value.problems] == [Code.SHAPE_OPEN]
    measured = LensPosition((30.0, 22.0), 95.0)
    made = calibrate(PATTERN, judged(FIVE), Taped((TRUE_IN,)), before, measured)
    assert made.table.lens_position == measured
    assert Code.LENS_MOVED not in [one.code for one in made.doubts]
