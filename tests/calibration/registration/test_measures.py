"""What a laying measured, what square cutting costs, and how far plain numbers would be off."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice
from calibration.registration.measures import difference_in, largest_difference_in, measured, square_mismatch, squared
from calibration.registration.registering import register
from tests.calibration.registration.clothes import LATTICE, PLAIN, ROW_AND_ONE, TRUE, marked


def test_repeat_turn_skew_and_bow_are_measured():
    found = measured(register(marked(TRUE, ROW_AND_ONE), PLAIN))
    assert found.along_in == pytest.approx(12.375 * 1.011)
    assert found.across_in == pytest.approx(13.25 * 0.994)
    assert found.turn_deg == pytest.approx(1.1)
    # ASTM D3882: percent of the cloth width, which lies 54 x 0.994 wide
    assert found.skew_pct == pytest.approx(100 * 0.7 / (54 * 0.994))
    assert found.bow_pct == pytest.approx(100 * -0.5 / (54 * 0.994))


def test_the_drop_is_measured_with_the_skew_of_one_column():
    lattice = PrintLattice.centred(24, 13.5, 54, drop=0.5)
    cloth = PrintFit(lattice, skew_in=1.08)
    found = measured(register(marked(cloth, [(0, 0), (1, 2), (3, 1), (4, 2)]), PrintFit.plain(lattice)))
    # 1.08 in over 54 in are 0.27 in over one column of 13 1/2 in, of a repeat of 24 in
    assert found.drop == pytest.approx(0.5 + 0.27 / 24)


@pytest.mark.parametrize(
    ("skew", "bow", "accepted"), [(1.0, 0.9, True), (-1.08, 1.08, True), (1.09, 0, False), (0, -1.09, False)]
)
def test_the_verdict_takes_each_limit_either_way(skew, bow, accepted):
    # 2 % of 54 in are 1.08 in.
    found = measured(register(marked(replace(PLAIN, skew_in=skew, bow_in=bow), ROW_AND_ONE), PLAIN))
    assert found.is_within(2, 2) is accepted


def test_cloth_as_planned_differs_from_the_plan_by_nothing_however_it_is_turned():
    assert largest_difference_in(PrintFit(LATTICE, (4, 5), 2.0), 3, 96) == pytest.approx(0, abs=1e-9)


def test_one_percent_too_long_is_off_by_a_hundredth_of_the_cut():
    assert largest_difference_in(PrintFit(LATTICE, (4, 5), 2.0, 1.01), 10, 103) == pytest.approx(0.93)


def test_the_largest_difference_is_found_where_stretch_and_skew_add_up():
    cloth = PrintFit(LATTICE, stretch_along=1.01, stretch_across=0.99, skew_in=0.5)
    # at the far selvedge of the far edge: 0.93 + 0.5 along, 0.54 across
    assert largest_difference_in(cloth, 10, 103) == pytest.approx(math.hypot(1.43, 0.54))
    assert difference_in(cloth, replace(cloth, shift=(0.0, 0.25)), 0, 90) == pytest.approx(0.25)


def test_square_rows_lie_as_near_the_print_as_they_can():
    cloth = PrintFit(LATTICE, (2, 1), 1.5, 1.01, skew_in=0.8, bow_in=0.6)
    square = squared(cloth)
    assert (square.skew_in, square.bow_in) == (0, 0)
    across = np.linspace(0, 54, 100)
    piece = np.column_stack([np.full(100, 40.0), across])
    off = (cloth.to_table(piece) - square.to_table(piece)) @ (math.cos(math.radians(1.5)), math.sin(math.radians(1.5)))
    assert off.max() == pytest.approx(-off.min(), abs=1e-3)
    assert off.max() == pytest.approx(square_mismatch(cloth).row_in, abs=1e-3)


def test_the_mismatch_at_a_seam_is_the_skew_between_the_seams():
    # A bow is as deep at both seams. Of 0.9 in of skew over 54 in, 0.9 x 52/54 lies between seams 1 in inside.
    assert square_mismatch(PrintFit(LATTICE, skew_in=-0.9, bow_in=0.7), 1.0, 1.0).seam_in == pytest.approx(
        0.9 * 52 / 54
    )
    assert square_mismatch(PrintFit(LATTICE, bow_in=0.7)).row_in == pytest.approx(0.35, abs=1e-4)


def test_the_bow_of_three_points_on_a_row_is_as_sure_as_the_hand_that_placed_them():
    # Columns at 1/4, 1/2 and 3/4 of 54 in: the parabola is 3/4, 1 and 3/4 deep there. What the middle one lies beyond
    # the mean of the others, sqrt(1 + 1/2) x 1/32 in sure, is 1/4 of the bow; ASTM D3882 counts it in % of the width.
    lattice = PrintLattice.centred(12.5, 13.5, 54)
    row = marked(PrintFit(lattice, bow_in=0.5), [(2, 0), (2, 1), (2, 2)])
    found = measured(register(row, PrintFit.plain(lattice)))
    assert found.bow_pct == pytest.approx(100 * 0.5 / 54)
    # 1/1000: on a bowed row a turn moves the points a little across it too.
    assert found.bow_uncertainty_pct == pytest.approx(100 * 4 * math.sqrt(1.5) / 32 / 54, rel=1e-3)


def test_the_same_bow_is_more_of_the_width_of_cloth_that_lies_narrow():
    motifs = [(row, column) for row in (0, 3, 6) for column in range(4)]
    narrow, planned = (
        measured(register(marked(replace(PLAIN, stretch_across=across), motifs), PLAIN)) for across in (0.9, 1.0)
    )
    assert narrow.bow_uncertainty_pct == pytest.approx(planned.bow_uncertainty_pct / 0.9)
