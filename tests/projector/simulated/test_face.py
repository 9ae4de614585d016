"""The simulated cloth wears the print of its job."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from PIL import Image

from jobs.job import Cloth, End, Print, Repeat, Run, Symmetry
from projector.simulated.brightness import linear_of_hex
from projector.simulated.cloth import LaidCloth
from projector.simulated.face import face_of
from projector.simulated.minnows import tile

BARE = Cloth(name="Bare", width=Fraction(54), colour="#204060")
BOATS = replace(BARE, repeat=Repeat(Fraction(12), Fraction(9)), motif_colours=("#e0e0d0",))


GROUND = linear_of_hex(BARE.colour)


def alike(a, b):
    """Whether the motifs of two patches agree but for one pixel in ten, those that an outline passes through."""
    motif = (np.abs(a - GROUND).max(axis=-1) > 0.02) | (np.abs(b - GROUND).max(axis=-1) > 0.02)
    assert motif.any()
    return (np.abs(a - b).max(axis=-1) > 0.1)[motif].mean() < 0.1


def flipped(face, *axes):
    return np.flip(face, axes)


def test_plain_cloth_has_its_ground_colour_everywhere_between_the_selvedges():
    laid = LaidCloth(100, 54, 0, 0, selvedge=0.5, face=face_of(BARE))
    colour, on = laid.colour_at(np.array([(3.0, 5.0), (90.0, 50.0), (50.0, 0.2)]))
    assert on.all()
    assert colour[:2] == pytest.approx(np.tile(linear_of_hex("#204060"), (2, 1)))
    assert not np.allclose(colour[2], colour[0])


@pytest.mark.parametrize("top", [Symmetry.NONE, Symmetry.MIRROR])
@pytest.mark.parametrize("side", [Symmetry.NONE, Symmetry.MIRROR])
def test_a_print_has_the_mirrors_the_job_says_and_no_other(top, side):
    turn = top is side is Symmetry.MIRROR
    cloth = replace(BOATS, drop=Fraction(1, 2), print=Print(top, side, half_turn=turn))
    face = face_of(cloth)
    assert alike(face, flipped(face, 0)) == (top is Symmetry.MIRROR)
    assert alike(face, flipped(face, 1)) == (side is Symmetry.MIRROR)


def test_a_half_turn_alone_mirrors_nothing():
    face = face_of(replace(BOATS, print=Print(half_turn=True)))
    assert alike(face, flipped(face, 0, 1))
    assert not alike(face, flipped(face, 0))
    assert not alike(face, flipped(face, 1))


def test_a_glide_mirrors_after_a_slide_of_half_a_repeat_across():
    face = face_of(replace(BOATS, print=Print(top_to_bottom=Symmetry.GLIDE)))
    assert not alike(face, flipped(face, 0))
    assert alike(face, np.roll(flipped(face, 0), face.shape[1] // 2, axis=1))


def test_tops_point_to_the_end_the_job_names():
    first, last = face_of(BOATS), face_of(replace(BOATS, print=Print(top_towards=End.LAST)))
    assert alike(first, flipped(last, 0, 1))
    assert not alike(first, last)
    # The stand-in is broad at its foot: with tops towards the first end, low numbers along, more lies after the middle.
    lit = (np.abs(first - linear_of_hex(BOATS.colour)).max(axis=-1) > 0.05).sum(axis=1)
    assert lit[len(lit) // 2 :].max() > lit[: len(lit) // 2].max()


def test_the_minnow_print_is_worn_where_rows_are_mirror_lines_in_the_colours_of_the_job():
    cloth = replace(BOATS, print=Print(Symmetry.MIRROR))
    assert face_of(cloth).shape == tile(12.0, 9.0, 24.0).shape
    for at in (72, 216):
        assert face_of(cloth)[at, 0] == pytest.approx(linear_of_hex(cloth.colour), abs=0.01)


def test_a_dropped_print_runs_on_from_column_to_column():
    cloth = replace(BOATS, drop=Fraction(1, 2))
    laid = LaidCloth(100, 54, 12, 9, drop=0.5, face=face_of(cloth))
    rng = np.random.default_rng(5)
    places = np.column_stack([rng.uniform(20, 60, 4000), rng.uniform(5, 40, 4000)])
    here, _ = laid.colour_at(places)
    next_column, _ = laid.colour_at(places + np.array([6.0, 9.0]))
    assert alike(here, next_column)
    level, _ = laid.colour_at(places + np.array([0.0, 9.0]))
    assert not alike(here, level)


def test_cloth_run_sideways_shows_the_motif_that_hangs_with_its_top_to_the_far_selvedge():
    # A line along the cloth mirrors it: hung, that line is level, and the stand-in looks along it.
    face = face_of(replace(BOATS, run=Run.SIDEWAYS, print=Print(side_to_side=Symmetry.MIRROR)))
    assert alike(face, flipped(face, 1))
    assert not alike(face, flipped(face, 0))
    # A print without a mirror: the boat's hull, broad and low, lies towards the near selvedge, low numbers across.
    boat = face_of(replace(BOATS, run=Run.SIDEWAYS))
    lit = (np.abs(boat - GROUND).max(axis=-1) > 0.05).sum(axis=0)
    assert lit[: len(lit) // 2].max() > lit[len(lit) // 2 :].max()


def test_a_job_that_names_a_picture_of_its_repeat_wears_it(tmp_path):
    pixels = np.zeros((40, 60, 3), np.uint8)
    pixels[:20, :30] = 255
    Image.fromarray(pixels).save(tmp_path / "repeat.png")
    cloth = Cloth("Kites", Fraction(50), repeat=Repeat(Fraction(4), Fraction(6)), picture=str(tmp_path / "repeat.png"))
    face = face_of(cloth)
    assert face.shape == (40, 60, 3)
    assert face[:20, :30].min() == 1
    assert face[20:].max() == 0
    turned = face_of(replace(cloth, print=replace(cloth.print, top_towards=End.LAST)))
    assert turned[20:, 30:].min() == 1
    nowhere = replace(cloth, picture=str(tmp_path / "nowhere.png"))
    assert face_of(nowhere).shape == face_of(replace(cloth, picture="")).shape
