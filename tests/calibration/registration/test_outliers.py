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


def displaced(motifs, number, by_in):
    """Points of the true cloth, the one of this number ``by_in`` too far along the table."""
    points = marked(TRUE, motifs)
    (x, y), at = points[number - 1].table_in, number - 1
    points[at] = replace(points[at], table_in=(x + by_in, y))
    return points


def test_twenty_points_are_judged_by_what_twenty_may_scatter():
    # 12 and one for each point are usual: 0.35 in come to 30 of 32, in units of 1/16 in, 0.38 in to 35.
    motifs = [(row, column) for row in range(1, 6) for column in range(4)]
    assert register(displaced(motifs, 10, 0.35), PLAIN).outliers == ()
    (outlier,) = register(displaced(motifs, 10, 0.38), PLAIN).outliers
    assert (outlier.number, outlier.sure) == (10, True)


@pytest.mark.parametrize("way", [1, -1])
def test_two_points_may_lie_as_far_from_planned_as_a_share_and_a_quarter_inch(way):
    # Five rows and one: 5 % of 74.25 in and 1/4 in are 3.9625 in, either way.
    points = marked(PLAIN, [(0, 1), (6, 1)])
    (x, y) = points[1].table_in
    near, far = (register([points[0], replace(points[1], table_in=(x + way * by, y))], PLAIN) for by in (3.9, 4.0))
    assert near.outliers == ()
    assert [outlier.missed_in for outlier in far.outliers] == [pytest.approx(4.0)]


def test_a_point_is_sure_to_be_the_wrong_one_only_when_no_other_explains_the_points_nearly_as_well():
    # Of six points the others, too, can be left out when one is 3/4 in off; when it is 1 1/4 in off, only that one.
    motifs = [*ROW_AND_ONE, (4, 0), (7, 3)]
    for by_in, sure in ((0.75, False), (1.25, True)):
        (outlier,) = register(displaced(motifs, 5, by_in), PLAIN).outliers
        assert (outlier.number, outlier.sure) == (5, sure)
