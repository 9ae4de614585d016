"""A point confirmed on the wrong motif, or misplaced, is named and does not drag the fit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice
from calibration.registration.registering import register
from tests.calibration.registration.clothes import LATTICE, PLAIN, ROW_AND_ONE, TRUE, marked

ONE_OFF = [(-1, 0), (1, 0), (0, -1), (0, 1)]


@pytest.mark.parametrize("motifs", [[(1, 0), (1, 3), (7, 1)], ROW_AND_ONE, [*ROW_AND_ONE, (4, 0), (7, 3)]], ids=len)
def test_every_point_one_repeat_off_is_noticed_and_named_with_the_right_row_and_column(motifs):
    rng = np.random.default_rng(1)
    for wrong in range(len(motifs)):
        for rows, columns in ONE_OFF:
            points = marked(TRUE, motifs, rng.uniform(-1 / 32, 1 / 32, (len(motifs), 2)))
            right = points[wrong]
            points[wrong] = replace(right, row=right.row + rows, column=right.column + columns)
            (doubt,) = register(points, PLAIN).outliers
            assert (doubt.number, doubt.proposed) == (wrong + 1, right.motif)


def test_points_of_ordinary_cloth_are_never_doubted():
    rng = np.random.default_rng(2)
    for _ in range(150):
        width = LATTICE.width_in
        cloth = PrintFit(
            LATTICE,
            tuple(rng.uniform(-2, 2, 2).tolist()),
            float(rng.uniform(-3, 3)),
            float(1 + rng.uniform(-0.015, 0.015)),
            float(1 + rng.uniform(-0.01, 0.01)),
            float(rng.uniform(-0.03, 0.03) * width),
            float(rng.uniform(-0.03, 0.03) * width),
        )
        motifs = ROW_AND_ONE[: rng.integers(3, 5)]
        assert not register(marked(cloth, motifs, rng.normal(0, 1 / 32, (len(motifs), 2))), PLAIN).outliers


def test_a_point_named_for_sure_does_not_drag_the_fit():
    motifs = [*ROW_AND_ONE, (4, 0), (7, 3)]
    points = marked(TRUE, motifs)
    points[4] = replace(points[4], row=5)
    laying = register(points, PLAIN)
    assert laying.outliers[0].sure
    assert laying.fit.expected((4, 0)) == pytest.approx(TRUE.expected((4, 0)), abs=1e-6)
    assert laying.worst_in > 10  # and the point still shows how far off it is


def test_a_misplaced_point_among_seven_is_named_and_left_out():
    motifs = [(0, 0), (0, 2), (0, 3), (4, 0), (4, 3), (7, 1), (7, 3)]
    off = np.zeros((7, 2))
    off[3] = (1.5, -0.4)
    laying = register(marked(TRUE, motifs, off), PLAIN)
    (doubt,) = laying.outliers
    assert (doubt.number, doubt.proposed, doubt.sure) == (4, None, True)
    assert doubt.missed_in == pytest.approx(np.hypot(1.5, 0.4), abs=0.05)
    assert laying.fit.expected((4, 0)) == pytest.approx(TRUE.expected((4, 0)), abs=1e-6)


def test_of_two_points_only_a_wrong_distance_can_be_noticed_and_not_which_is_wrong():
    points = marked(replace(TRUE, stretch_along=1.03), [(1, 0), (6, 0)])
    assert register(points, PLAIN).outliers == ()
    (doubt,) = register([points[0], replace(points[1], row=7)], PLAIN).outliers
    assert (doubt.number, doubt.proposed, doubt.sure) == (2, None, False)
    assert doubt.missed_in == pytest.approx(6 * 12.375 - 5 * 12.375 * 1.03, abs=0.1)


@pytest.mark.parametrize("stretch", [0.985, 1.0, 1.015])
def test_a_row_miscounted_over_fifteen_repeats_is_still_noticed(stretch):
    lattice = PrintLattice.centred(6, 13.25, 54, 0.5)
    points = marked(PrintFit(lattice, stretch_along=stretch, skew_in=0.8), [(0, 0), (0, 3), (15, 1)])
    for row in (14, 16):
        (doubt,) = register([*points[:2], replace(points[2], row=row)], PrintFit.plain(lattice)).outliers
        assert (doubt.number, doubt.proposed) == (3, (15, 1))
