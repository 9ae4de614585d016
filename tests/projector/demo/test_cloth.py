"""The virtual cloth: it wears the print of its job, and lies where it is laid."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from jobs.model.choices import Symmetry
from jobs.model.cloth import Cloth
from jobs.model.print import Print, Repeat
from projector.demo.cloth import LaidCloth
from projector.prints.face import face_of

F = Fraction
GULLS = Cloth("Gulls", F(54), F(1, 2), Repeat(F("12.375"), F("13.25")), print=Print(Symmetry.MIRROR))


def laid_in(cloth: Cloth) -> LaidCloth:
    face = face_of(cloth)
    return LaidCloth(200, 54, face.along, face.across, first_row=4.75, at_left=10.0, column=face.column,
                     drop=face.drop / face.along, face=face)  # fmt: skip


CLOTH = laid_in(GULLS)


def same_mostly(a, b):
    """Whether two patches agree but for pixels that an outline passes through."""
    return (np.abs(a - b) < 0.02).all(axis=-1).mean() > 0.97


def test_rows_are_mirror_lines_of_the_cloth_as_laid():
    rng = np.random.default_rng(2)
    off, across = rng.uniform(0, 6, 4000), rng.uniform(1, 53, 4000)
    row = CLOTH.first_row + 3 * CLOTH.along
    before, _ = CLOTH.colour_at(np.column_stack([row - off, across]))
    after, _ = CLOTH.colour_at(np.column_stack([row + off, across]))
    assert same_mostly(before, after)


def test_the_print_comes_again_after_a_repeat_each_way():
    rng = np.random.default_rng(3)
    places = np.column_stack([rng.uniform(5, 100, 3000), rng.uniform(1, 27, 3000)])
    here, _ = CLOTH.colour_at(places)
    along, _ = CLOTH.colour_at(places + np.array([CLOTH.along, 0]))
    across, _ = CLOTH.colour_at(places + np.array([0, CLOTH.across]))
    assert same_mostly(here, along)
    assert same_mostly(here, across)


def test_a_print_with_a_drop_comes_again_half_a_repeat_along_in_the_next_column():
    dropped = laid_in(replace(GULLS, drop=F(1, 2), first_column=F(9)))
    rng = np.random.default_rng(4)
    places = np.column_stack([rng.uniform(5, 100, 3000), rng.uniform(1, 27, 3000)])
    here, _ = dropped.colour_at(places)
    next_column, _ = dropped.colour_at(places + np.array([0.5 * CLOTH.along, CLOTH.across]))
    level, _ = dropped.colour_at(places + np.array([0, CLOTH.across]))
    assert same_mostly(here, next_column)
    assert not same_mostly(here, level)


def test_the_first_column_lies_where_it_is_said_and_motif_points_with_it():
    laid = laid_in(replace(GULLS, drop=F(1, 2), first_column=F(9, 2)))
    # Row 1 of column 2: 4 3/4 + (1 + 2 x 1/2) 12 3/8 along, 4 1/2 + 2 x 13 1/4 across; the cloth lies from 10 on.
    assert laid.motif_points([(1, 2)])[0] == pytest.approx([4.75 + 24.75 - 10, 31.0])
    body, _ = laid.colour_at(np.array([[4.75 + 24.75, 31.0]]))
    ground, _ = laid.colour_at(np.array([[4.75 + 24.75 + 5, 31.0]]))
    assert not np.allclose(body, ground)


def test_laying_is_undone_exactly():
    laid = LaidCloth(200, 54, 12, 13, at_left=30, shift=(0.4, -0.2), turn_deg=1.5)
    places = np.array([(30.0, 0.0), (100.0, 54.0), (63.0, 20.0)])
    assert laid.to_piece(laid.to_table(places)) == pytest.approx(places, abs=1e-10)
    assert laid.to_table([(30.0, 0.0)])[0] == pytest.approx([0.4, -0.2])


def test_motif_points_show_skew_and_bow():
    laid = LaidCloth(200, 54, 12, 13, selvedge=0.5, first_row=5, skew=1.0, bow=0.75)
    # four columns of 13 fit 53: at 7 1/2, 20 1/2, 33 1/2, 46 1/2; the slide at c is c/54 + 3 c/54 (1 - c/54)
    points = laid.motif_points([(2, 0), (2, 3)])
    shares = np.array([7.5, 46.5]) / 54
    assert points[:, 1] == pytest.approx([7.5, 46.5])
    assert points[:, 0] == pytest.approx(29 + shares + 3 * shares * (1 - shares))


def test_off_the_cloth_nothing_is_cloth():
    _, on = CLOTH.colour_at(np.array([(-0.1, 5), (5, -0.1), (5, 5), (5, 54.1), (200.1, 5)], float))
    assert on.tolist() == [False, False, True, False, False]
