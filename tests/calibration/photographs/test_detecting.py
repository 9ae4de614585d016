"""What a rendered photograph gives, and what is said of a bad one."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from calibration.photographs.detecting import judge, repeated
from calibration.photographs.pattern import Pattern
from calibration.problems import Code, PhotographRefused
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, photograph
from projector.demo.virtual_projector import Hung, projector_over
from projector.light.pattern import pattern_frame
from tests.calibration.photographs.printed import KINDS, printed_cloth

PATTERN = Pattern(640, 480)
LIT = replace(projector_over(72, 54, Hung(tilt_deg=6), size_px=(640, 480)))
TABLE = LitTable(LIT, pattern_frame(PATTERN), None, (80, 60))
CAMERA = VirtualCamera((20.0, -10.0, 80.0), (36.0, 27.0), 900.0, 1200, 900, 4.0, 0.03)
CLEAR = Taking(blur_px=0.7, noise=2.0, seed=3)


def grey(taking: Taking, camera: VirtualCamera = CAMERA, table: LitTable = TABLE) -> np.ndarray:
    return np.asarray(cv2.cvtColor(photograph(camera, table, taking), cv2.COLOR_RGB2GRAY))


def test_corners_are_found_to_a_part_of_a_pixel_counted_from_the_corner_of_the_picture() -> None:
    judged = judge(grey(CLEAR), PATTERN)
    one = judged.sighting
    true = CAMERA.to_picture(LIT.to_table(PATTERN.corners_px[one.numbers]))
    assert len(one.numbers) > 0.8 * len(PATTERN.corners_px)
    # Fields are but 35 px here. Half a pixel, the usual mistake, would show.
    assert np.abs(np.median(one.pixels - true, axis=0)).max() < 0.2
    assert np.median(np.linalg.norm(one.pixels - true, axis=1)) < 0.3
    assert judged.problems == ()
    assert repeated([judged, judged]) == [(1, 0)]


@pytest.mark.parametrize(
    ("taking", "code"),
    [
        (replace(CLEAR, exposure=0.004), Code.TOO_DARK),
        (replace(CLEAR, blur_px=5.0), Code.MOVED_OR_BLURRED),
        (replace(CLEAR, moved_px=30.0), Code.MOVED_OR_BLURRED),
        (replace(CLEAR, exposure=9.0), Code.TOO_BRIGHT),
    ],
)
def test_a_photograph_that_shows_nothing_is_refused_with_the_reason(taking: Taking, code: Code) -> None:
    with pytest.raises(PhotographRefused) as refused:
        judge(grey(taking), PATTERN, number=4)
    assert [(one.path, one.code) for one in refused.value.problems] == [(("photographs", 4), code)]


@pytest.mark.parametrize(
    ("taking", "code"),
    [
        (replace(CLEAR, hand=(36.0, 27.0, 16.0)), Code.PATTERN_HIDDEN),
        (replace(CLEAR, glare=(36.0, 27.0, 14.0)), Code.GLARE),
    ],
)
def test_what_hides_a_part_is_told_and_the_rest_is_used(taking: Taking, code: Code) -> None:
    judged = judge(grey(taking), PATTERN)
    assert [one.code for one in judged.problems] == [code]
    true = CAMERA.to_picture(LIT.to_table(PATTERN.corners_px[judged.sighting.numbers]))
    assert np.median(np.linalg.norm(judged.sighting.pixels - true, axis=1)) < 0.4


def test_the_pattern_is_read_where_a_mirror_swaps_left_and_right() -> None:
    lit = projector_over(72, 54, Hung(tilt_deg=6, mirrored=True), size_px=(640, 480))
    picture = photograph(CAMERA, replace(TABLE, projector=lit), CLEAR)
    one = judge(np.asarray(cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY)), PATTERN).sighting
    true = CAMERA.to_picture(lit.to_table(PATTERN.corners_px[one.numbers]))
    assert len(one.numbers) > 0.7 * len(PATTERN.corners_px)
    assert np.abs(np.median(one.pixels - true, axis=0)).max() < 0.2


def test_light_outside_the_picture_is_told() -> None:
    near = replace(CAMERA, focal_px=2000.0)
    assert Code.TABLE_CUT_OFF in [one.code for one in judge(grey(CLEAR, near), PATTERN).problems]


@pytest.mark.parametrize("kind", KINDS)
def test_corners_are_found_on_printed_cloth(kind: str) -> None:
    cloth = printed_cloth(np.random.default_rng(31), (80, 60), kind)
    judged = judge(grey(replace(CLEAR, noise=5.0), table=replace(TABLE, laid=cloth)), PATTERN)
    one = judged.sighting
    true = CAMERA.to_picture(LIT.to_table(PATTERN.corners_px[one.numbers]))
    # Fields are but 35 px here, and stripes as dark as lit and unlit ones.
    assert len(one.numbers) > (0.6 if kind == "stripes" else 0.9) * len(PATTERN.corners_px)
    # An edge of the print near a corner pulls it; to no side more than to another.
    assert np.abs(np.median(one.pixels - true, axis=0)).max() < 0.2
    assert np.median(np.linalg.norm(one.pixels - true, axis=1)) < 0.8
    assert kind == "stripes" or judged.problems == ()


def test_a_corner_that_is_covered_is_not_guessed() -> None:
    one = judge(grey(replace(CLEAR, hand=(36.0, 27.0, 16.0))), PATTERN).sighting
    covered = np.linalg.norm(LIT.to_table(PATTERN.corners_px[one.numbers]) - (36.0, 27.0), axis=1) < 15
    assert not covered.any()


def test_a_table_without_the_pattern_is_refused() -> None:
    with pytest.raises(PhotographRefused) as refused:
        judge(np.random.default_rng(1).integers(0, 255, (600, 800), np.uint8), PATTERN)
    assert refused.value.problems[0].code is Code.PATTERN_NOT_SEEN
