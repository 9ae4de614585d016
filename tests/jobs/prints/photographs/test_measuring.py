"""Prints of known repeat, drop and symmetry, photographed with turn, slant, uneven light, blur and noise."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from jobs.prints.photographs import basis
from jobs.prints.photographs.following import follow
from jobs.prints.photographs.measuring import measure
from jobs.prints.photographs.opening import Photo
from jobs.prints.photographs.problems import NoPrint, PhotoCode
from jobs.prints.photographs.scale import between_points
from tests.jobs.cutting.tilings import Tiling, settings
from tests.jobs.prints.photographs.pictures import Blots, photograph

SHARE = 0.002
"""Of a repeat: how far off it may be."""
SIZE = (330, 400)
SETTINGS = settings()[::2]


@pytest.mark.parametrize(
    "setting", SETTINGS, ids=lambda one: f"{one.name} {one.lattice.drop:.2f} {one.lattice.along:.0f}"
)
def test_repeat_drop_and_symmetry_are_read_from_the_picture(setting):
    kind = Blots if SETTINGS.index(setting) % 2 else Tiling
    picture, per_inch = photograph(setting, 101, motif=kind, size=SIZE)
    found = measure(Photo(picture, SIZE[::-1]))
    assert found.lattice.along / per_inch == pytest.approx(setting.lattice.along, rel=SHARE)
    assert found.lattice.across / per_inch == pytest.approx(setting.lattice.across, rel=SHARE)
    assert abs((found.lattice.drop - setting.lattice.drop + 0.5) % 1 - 0.5) < 0.01
    seen = found.symmetry
    assert (seen.top_to_bottom, seen.side_to_side, seen.half_turn) == (
        setting.top_to_bottom, setting.side_to_side, setting.half_turn,
    )  # fmt: skip


@pytest.mark.parametrize("turn_deg", [-3.0, 2.0])
def test_the_turn_is_counted_counter_clockwise(turn_deg):
    picture, _ = photograph(settings()[0], 5, turn_deg=turn_deg, slant=0.0, size=SIZE)
    assert measure(Photo(picture, SIZE[::-1])).lattice.angle_deg == pytest.approx(turn_deg, abs=0.05)


@pytest.mark.parametrize("top", [(9, 12), (-9, 12), (14, 0)])
def test_one_hill_of_likeness_is_one_step(top):
    # Falling away from its top on every side: right and down of the middle lag, in pixels.
    down, right = np.mgrid[-30:31, -30:31]
    hill = np.exp(-((right - top[0]) ** 2 + (down - top[1]) ** 2) / 200).astype(np.float32)
    assert basis._peaks(hill) == pytest.approx(np.array([[*top, 1.0]]), abs=1e-3)


def test_a_scale_from_two_points_needs_two():
    # (30, 40) is 50 pixels off, 5 in on the cloth.
    level = SimpleNamespace(level=np.eye(3))
    assert between_points(level, (100.0, 100.0), (130.0, 140.0), 5.0).per_inch == pytest.approx(10)
    with pytest.raises(ValueError, match="two points are needed"):
        between_points(level, (100.0, 100.0), (100.0, 100.0), 5.0)


def test_repeats_are_counted_from_the_middle_of_the_picture():
    # A tile of chance, 24 x 20 pixels, nine times below itself and twelve times beside: the middle is (144, 90).
    tile = np.random.default_rng(5).random((20, 24, 1))
    followed = follow(np.tile(tile, (9, 12, 1)), np.array([[24.0, 0.0], [0.0, 20.0]]))
    assert followed is not None
    assert followed.plane.pixels(np.array([[0.5, 0.5]])) == pytest.approx(np.array([[144.0, 90.0]]), abs=0.1)


def test_plain_cloth_shows_no_print():
    chance = np.random.default_rng(3)
    picture = np.clip(0.6 + chance.normal(0, 0.03, (*SIZE, 3)), 0, 1).astype(np.float32)
    with pytest.raises(NoPrint):
        measure(Photo(picture, SIZE[::-1]))
    with pytest.raises(NoPrint, match=PhotoCode.NO_PRINT_SEEN):
        measure(Photo(np.full((*SIZE, 3), 0.5, np.float32), SIZE[::-1]))


@pytest.mark.parametrize("number", [0, 4, 9, 14, 19])
def test_every_other_motif_a_little_fainter_makes_the_repeat_twice_as_long(number):
    setting = SETTINGS[number % len(SETTINGS)]
    picture, per_inch = photograph(setting, 301, other=0.15, repeats=6.3, size=SIZE)
    lattice = measure(Photo(picture, SIZE[::-1])).lattice
    cell = setting.lattice.along * setting.lattice.across
    assert lattice.along * lattice.across / per_inch**2 / cell == pytest.approx(2, rel=0.01)
