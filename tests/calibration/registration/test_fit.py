"""The map of a cloth as it lies, and its lattice."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.registration.fit import PrintFit, depth_shares
from calibration.registration.lattice import PrintLattice

LATTICE = PrintLattice.centred(12.5, 13.5, 54, 0.5, first_row_in=4.75)

fits = st.builds(
    PrintFit,
    lattice=st.just(LATTICE),
    shift=st.tuples(st.floats(-60, 60), st.floats(-10, 10)),
    turn_deg=st.floats(-180, 180),
    stretch_along=st.floats(0.95, 1.05),
    stretch_across=st.floats(0.95, 1.05),
    skew_in=st.floats(-2, 2),
    bow_in=st.floats(-2, 2),
)


@pytest.mark.parametrize(("inches", "percent"), [(1, 1.8519), (1.5, 2.7778), (2, 3.7037)])
def test_bow_and_skew_in_percent_of_54_in(inches, percent):
    # ASTM D3882: 100 x greatest depth / cloth width, and 100 x offset / cloth width.
    assert PrintFit(LATTICE, bow_in=inches).bow_pct == pytest.approx(percent, abs=5e-5)
    assert PrintFit(LATTICE, skew_in=inches).skew_pct == pytest.approx(percent, abs=5e-5)


def test_a_bowed_row_meets_both_selvedges_and_is_deepest_in_the_middle():
    assert depth_shares([0, 13.5, 27, 54], 54).tolist() == [0, 0.75, 1, 0]


@given(fits)
@settings(max_examples=60)
def test_to_piece_undoes_to_table(fit):
    piece = np.array([(0.0, 0.0), (300.0, 54.0), (41.0, 27.0), (-3.0, 60.0)])
    # 1e-9 in: rounding of places some hundred inches away
    assert fit.to_piece(fit.to_table(piece)) == pytest.approx(piece, abs=1e-9)


@given(fits)
@settings(max_examples=40)
def test_the_matrix_is_exact_at_both_selvedges(fit):
    piece = np.array([(7.0, 0.0), (90.0, 54.0)])
    by_matrix = piece @ fit.matrix[:, :2].T + fit.matrix[:, 2]
    assert fit.to_table(piece) == pytest.approx(by_matrix, abs=1e-9)


@given(fits, st.integers(-2, 9), st.integers(0, 3))
@settings(max_examples=40)
def test_an_expected_motif_point_is_proposed_for_its_own_place(fit, row, column):
    assert fit.nearest_motif(fit.expected((row, column))) == (row, column)


@given(fits, st.floats(-200, 200))
@settings(max_examples=30)
def test_after_a_pull_what_lay_further_on_lies_here(fit, by):
    piece = np.array([(40.0, 0.0), (70.0, 31.0)])
    assert fit.pulled(by).to_table(piece + np.array([by, 0])) == pytest.approx(fit.to_table(piece), abs=1e-9)


def test_signs_are_as_stated():
    # Counter-clockwise: what lies further along lies further away from the person too.
    assert PrintFit(LATTICE, turn_deg=1.0).to_table([(100, 0)])[0, 1] > 0
    # Positive skew: the far selvedge end of a row lies further along.
    skewed = PrintFit(LATTICE, skew_in=0.75)
    assert skewed.to_table([(10, 54)])[0] == pytest.approx([10.75, 54])
    assert skewed.skew_pct == pytest.approx(1.3889, abs=5e-5)
    # Positive bow: the middle of a row lies further along.
    assert PrintFit(LATTICE, bow_in=1.0).to_table([(10, 27)])[0] == pytest.approx([11, 27])


def test_plain_cloth_lies_as_the_stop_says():
    assert PrintFit.plain(LATTICE, 20.0).to_table([(20, 0), (32.5, 54)]).tolist() == [[0, 0], [12.5, 54]]


def test_whole_columns_lie_centred_between_the_selvedges():
    # 53 in of print take three columns of 13 1/2 in; their middle is the middle of the cloth.
    assert LATTICE.columns == 3
    assert LATTICE.places([(0, 0), (0, 1), (0, 2)])[:, 1].tolist() == [13.5, 27, 40.5]


def test_the_next_column_of_a_drop_lies_further_along():
    lattice = PrintLattice.centred(24, 13.5, 54, first_row_in=3, drop=0.5)
    assert lattice.places([(0, 0), (0, 1), (1, 1), (0, 2)])[:, 0].tolist() == [3, 15, 39, 27]
    assert lattice.nearest((16, 20)) == (0, 1)
    assert lattice.nearest((26, 34)) == (0, 2)


@given(st.integers(-4, 20), st.integers(0, 6), st.floats(-0.2, 0.2), st.floats(-0.2, 0.2))
@settings(max_examples=60)
def test_a_place_near_a_motif_point_is_taken_for_it(row, column, along, across):
    lattice = PrintLattice.centred(9, 7, 54, drop=1 / 3)
    place = lattice.places([(row, column)])[0] + (along * 9, across * 7)
    assert lattice.nearest(place) == (row, column)


def test_rows_between_two_places_count_both_ends():
    assert LATTICE.rows_between(4.75, 29.75) == (0, 1, 2)
    assert LATTICE.rows_between(4.76, 29.74) == (1,)


@pytest.mark.parametrize("sizes", [(0, 13, 54), (12, -1, 54), (12, 13, float("nan"))])
def test_a_lattice_without_size_is_refused(sizes):
    with pytest.raises(ValueError, match="above zero"):
        PrintLattice(*sizes, first_column_in=5)


def test_a_strip_counts_its_columns_from_its_own_side():
    whole = PrintLattice(12.0, 9.0, 54.0, 4.5, 3.0, 0.5)
    strip = whole.strip(27.0, 54.0)
    # Columns at 4 1/2, 13 1/2, 22 1/2, 31 1/2: the first in the strip is the fourth, 3 x 1/2 x 12 further along.
    assert (strip.width_in, strip.first_column_in, strip.first_row_in) == (27.0, 4.5, 21.0)
    places = strip.places([(0, 0), (1, 2)]) + np.array([0.0, 27.0])
    assert places.tolist() == whole.places([(0, 3), (1, 5)]).tolist()
