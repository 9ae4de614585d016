"""Whether the light has moved since it was calibrated, told from two photographs, on rendered light."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from calibration.photographs.detecting import judge
from calibration.photographs.pattern import Pattern
from calibration.photographs.settling import Settled, settled
from calibration.photographs.straightening import STRAIGHT_IN, Seen
from calibration.table import Table
from projector.demo.virtual_camera import AS_USUAL, LitTable, Taking, VirtualCamera, photograph
from projector.demo.virtual_projector import Hung, VirtualProjector, projector_over
from projector.light.pattern import pattern_frame
from projector.words.findings import LIKE_A_LAMP_IN, describe_settled

PATTERN = Pattern(640, 480)
TABLE_IN = (44.0, 32.0)
FILLING = projector_over(*TABLE_IN, Hung(height_in=70, tilt_deg=6), size_px=(640, 480))
LIT = replace(FILLING, focal_px=1.15 * FILLING.focal_px)
"""A light that stays on the table."""
TABLE = Table(640, 480, LIT.matrix, ())
"""As it was calibrated: without an error."""
THEN_AT, NOW_AT = (12.0, -4.0, 56.0), (30.0, 0.0, 52.0)


def seen(lit: VirtualProjector, at: tuple[float, float, float], seed: int, room: Taking = AS_USUAL) -> Seen:
    camera = VirtualCamera(at, (22.0, 16.0), 1200.0, 1500, 1125, 0.0, 0.03)
    taking = replace(room, blur_px=0.5, noise=3.0, seed=seed)
    picture = photograph(camera, LitTable(lit, pattern_frame(PATTERN), None, TABLE_IN), taking)
    grey = np.asarray(cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY))
    return Seen(grey, judge(grey, PATTERN).sighting)


@pytest.fixture(scope="module")
def then() -> Seen:
    return seen(LIT, THEN_AT, 1)


def true_shift(lit: VirtualProjector, found: Settled) -> np.ndarray:
    return lit.to_table(TABLE.to_frame(found.places_in)) - found.places_in


def test_a_light_that_has_not_moved_holds(then: Seen) -> None:
    found = settled(TABLE, then, seen(LIT, NOW_AT, 2))
    assert not found.has_moved
    # A photograph of 27 pixels an inch tells it to about an eighth of an inch at the corners, and no closer.
    assert found.far_in.max() < found.within_in.max()
    assert found.within_in.min() > STRAIGHT_IN
    assert 1 / 16 < found.most_in < 3 / 16
    assert "cannot tell it closer" in describe_settled(found, TABLE.lit_area(), "in")


def test_the_same_photograph_twice_has_not_moved_at_all(then: Seen) -> None:
    assert settled(TABLE, then, then).far_in.max() < 1e-6


def test_a_light_that_was_knocked_is_told_how_far_and_where(then: Seen) -> None:
    moved = replace(LIT, aim=(LIT.aim[0] - 0.4, LIT.aim[1] + 0.25), roll_deg=LIT.roll_deg + 0.8)
    found = settled(TABLE, then, seen(moved, NOW_AT, 3))
    true = true_shift(moved, found)
    assert np.linalg.norm(true, axis=1).max() > 0.2
    assert np.linalg.norm(found.shift_in - true, axis=1).max() < 0.5 * np.linalg.norm(true, axis=1).max()
    assert found.has_moved
    assert not found.holds
    said = describe_settled(found, TABLE.lit_area(), "in")
    assert found.far_in.max() < LIKE_A_LAMP_IN
    assert "still meets your bits of tape, and calibrate again" in said
    far = Settled(found.places_in, 3 * found.shift_in, found.within_in)
    assert "bits of tape" not in describe_settled(far, TABLE.lit_area(), "in")


def test_in_another_room_light_no_more_is_claimed_than_is_known(then: Seen) -> None:
    bright = replace(AS_USUAL, ambient=0.6, towards_deg=350.0, uneven=0.32)
    found, as_it_was = settled(TABLE, then, seen(LIT, NOW_AT, 6, bright)), settled(TABLE, then, seen(LIT, NOW_AT, 2))
    assert found.within_in.max() > 1.5 * as_it_was.within_in.max()
    assert (found.far_in <= found.within_in).mean() > 0.9
    assert not found.holds


def test_a_table_that_bears_nothing_cannot_tell() -> None:
    def bare(at: tuple[float, float, float]) -> Seen:
        one = seen(LIT, at, 4)
        noise = np.random.default_rng(5).integers(118, 123, one.grey.shape).astype(np.uint8)
        return Seen(noise, one.sighting)

    found = settled(TABLE, bare(THEN_AT), bare(NOW_AT))
    assert not found.holds
    assert not found.has_moved
    assert "cannot tell it closer" in describe_settled(found, TABLE.lit_area(), "in")
