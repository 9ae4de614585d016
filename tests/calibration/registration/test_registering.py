"""The fit of the light to confirmed motif points: what few points tell, least squares, honest uncertainty."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares
from skimage.transform import AffineTransform

from calibration.problems import Code, PointsRefused
from calibration.registration.fit import PrintFit
from calibration.registration.fitting import AFFINE, PLACED_IN, RIGID, SHIFT, Term, terms_for
from calibration.registration.lattice import PrintLattice, PrintPoint
from calibration.registration.measures import measured
from calibration.registration.registering import register
from tests.calibration.registration.clothes import LATTICE, PLAIN, ROW_AND_ONE, TRUE, marked, numbers


@pytest.mark.parametrize(
    ("motifs", "terms"),
    [
        ([(3, 1)], SHIFT),
        ([(3, 1), (3, 1)], SHIFT),
        ([(3, 0), (3, 3)], RIGID),
        ([(2, 1), (4, 1)], RIGID),  # two repeats are not far
        ([(2, 1), (5, 1)], (*RIGID, Term.STRETCH_ALONG)),
        ([(2, 0), (5, 3)], RIGID),  # three repeats along, but as far across: skew would pass for stretch
        ([(0, 1), (3, 1), (6, 1)], (*RIGID, Term.STRETCH_ALONG)),
        ([(1, 0), (1, 1), (1, 3)], (*RIGID, Term.STRETCH_ACROSS, Term.BOW)),
        ([(1, 0), (1, 3), (7, 1)], AFFINE),
        ([(1, 0), (1, 3), (7, 0), (7, 3)], AFFINE),  # two columns never show a bow
        ([(1, 0), (1, 1), (4, 2), (7, 2)], (*AFFINE, Term.BOW)),
        (ROW_AND_ONE, (*AFFINE, Term.BOW)),
    ],
)
def test_points_tell_what_the_rule_says(motifs, terms):
    assert set(terms_for(motifs, LATTICE)) == set(terms)


def test_one_point_shifts_the_light_and_leaves_the_rest():
    laying = register(marked(TRUE, [(4, 2)]), PLAIN)
    assert laying.fit.expected((4, 2)) == pytest.approx(TRUE.expected((4, 2)), abs=1e-9)
    assert numbers(laying.fit)[2:] == [0, 1, 1, 0, 0]


def test_two_points_far_apart_along_give_shift_turn_and_stretch_exactly():
    true = PrintFit(LATTICE, (5, -0.4), -2.3, 1.013)
    laying = register(marked(true, [(0, 1), (7, 1)]), PLAIN)
    assert numbers(laying.fit) == pytest.approx(numbers(true), abs=1e-9)


def test_two_points_across_turn_the_light_and_stretch_nothing():
    laying = register(marked(PrintFit(LATTICE, (5, -0.4), -2.3, 1.02, 1.02), [(2, 0), (2, 3)]), PLAIN)
    assert laying.fit.turn_deg == pytest.approx(-2.3, abs=1e-9)
    assert (laying.fit.stretch_along, laying.fit.stretch_across) == (1, 1)


def test_four_points_give_everything_back_that_is_there():
    laying = register(marked(TRUE, ROW_AND_ONE), PLAIN)
    assert numbers(laying.fit) == pytest.approx(numbers(TRUE), abs=1e-8)
    assert laying.rms_in == pytest.approx(0, abs=1e-9)


@given(
    turn=st.floats(-179, 179),
    stretch=st.tuples(st.floats(0.97, 1.03), st.floats(0.97, 1.03)),
    slides=st.tuples(st.floats(-1.6, 1.6), st.floats(-1.6, 1.6)),
    drop=st.sampled_from([0.0, 0.5, 1 / 3]),
)
@settings(max_examples=40)
def test_any_cloth_within_the_trade_is_given_back(turn, stretch, slides, drop):
    lattice = PrintLattice.centred(18, 9, 54, 0.5, 3.0, drop)
    true = PrintFit(lattice, (3.0, -2.0), turn, *stretch, *slides)
    laying = register(marked(true, [(0, 0), (0, 2), (0, 4), (4, 1), (4, 4)]), PrintFit.plain(lattice))
    assert not laying.outliers
    assert numbers(laying.fit) == pytest.approx(numbers(true), abs=1e-7)


def test_what_points_cannot_tell_is_carried_from_the_fit_before():
    before = register(marked(TRUE, ROW_AND_ONE), PLAIN).fit
    pulled = replace(TRUE, shift=(TRUE.shift[0] - 49.7, TRUE.shift[1] + 0.2))
    laying = register(marked(pulled, [(5, 1)]), before.pulled(49.5))
    assert numbers(laying.fit) == pytest.approx(numbers(pulled), abs=1e-8)


def test_an_independent_affine_fit_agrees():
    rng = np.random.default_rng(4)
    motifs = [(0, 0), (0, 3), (6, 0), (6, 3), (3, 0), (3, 3)]
    true = replace(TRUE, bow_in=0.0)
    points = marked(true, motifs, rng.normal(0, 1 / 32, (6, 2)))
    laying = register(points, PLAIN)
    assert laying.measured == AFFINE
    piece, table = LATTICE.places(motifs), np.array([point.table_in for point in points])
    by_cv = cv2.estimateAffine2D(piece, table, ransacReprojThreshold=10.0, refineIters=100)[0]
    by_skimage = AffineTransform.from_estimate(piece, table).params[:2]
    everywhere = np.array([(s, c, 1.0) for s in (0, 50, 120) for c in (0, 27, 54)])
    ours = everywhere @ laying.fit.matrix.T
    # OpenCV stops when steps are small, scikit-image weighs the two axes a little otherwise: both far below 1/1000 in
    assert everywhere @ by_cv.T == pytest.approx(ours, abs=2e-4)
    assert everywhere @ by_skimage.T == pytest.approx(ours, abs=1e-3)


def test_an_independent_least_squares_with_bow_agrees():
    rng = np.random.default_rng(8)
    motifs = [(0, 0), (0, 1), (0, 3), (6, 2), (6, 0), (3, 3)]
    points = marked(TRUE, motifs, rng.normal(0, 1 / 32, (6, 2)))
    laying = register(points, PLAIN)
    piece, table = LATTICE.places(motifs), np.array([point.table_in for point in points])

    def off(p):
        s, u = piece[:, 0], piece[:, 1] / 54
        along, across = p[3] * s + p[5] * u + 4 * p[6] * u * (1 - u), p[4] * piece[:, 1]
        turned = np.exp(1j * p[2]) * (along + 1j * across) + p[0] + 1j * p[1]
        return np.concatenate([turned.real - table[:, 0], turned.imag - table[:, 1]])

    found = least_squares(off, [0, 0, 0, 1, 1, 0, 0], xtol=1e-15, ftol=1e-15, gtol=1e-15).x
    found[2] = np.degrees(found[2])
    assert numbers(laying.fit) == pytest.approx(found.tolist(), abs=1e-6)


def test_the_uncertainty_of_the_repeat_falls_as_one_over_the_repeats_between():
    # Two points, each 1/32 in: the repeat is known to sqrt(2)/32/N.
    for between in (4, 8, 16):
        laying = register(marked(PLAIN, [(0, 1), (between, 1)]), PLAIN)
        assert measured(laying).along_uncertainty_in == pytest.approx(np.sqrt(2) / 32 / between, rel=1e-9)


def test_points_that_scatter_more_than_a_careful_hand_are_believed_less():
    rng = np.random.default_rng(3)
    motifs = [(row, column) for row in (0, 3, 6) for column in range(4)]
    off = rng.normal(0, 1, (12, 2))
    careful, rough = (register(marked(TRUE, motifs, off * size), PLAIN) for size in (1 / 64, 1 / 16))
    assert careful.placed_in == PLACED_IN
    assert rough.placed_in == pytest.approx(1 / 16, rel=0.4)
    assert rough.uncertainty(Term.SKEW) > 1.4 * careful.uncertainty(Term.SKEW)


def test_the_light_errs_no_more_than_is_said_in_95_of_100_layings():
    rng = np.random.default_rng(11)
    places = np.array([(10.0, 0.0), (10.0, 27.0), (100.0, 54.0), (100.0, 20.0)])
    motifs, trials, within = [*ROW_AND_ONE, (7, 3), (4, 0)], 300, np.zeros(4)
    for _ in range(trials):
        laying = register(marked(TRUE, motifs, rng.normal(0, PLACED_IN, (6, 2))), PLAIN)
        off = laying.fit.to_piece(TRUE.to_table(places))[:, 0] - places[:, 0]
        within += np.abs(off) * TRUE.stretch_along <= laying.along_error_in(places)
    # 95 % of 300 with a spread of 1.3 % (binomial), and rather more: scatter is never taken as below 1/32 in
    assert (within / trials >= 0.92).all()
    assert (within / trials <= 0.995).all()


def test_what_was_not_measured_has_no_uncertainty():
    found = measured(register(marked(TRUE, [(0, 0), (0, 3)]), PLAIN))
    assert found.along_uncertainty_in is None
    assert found.bow_uncertainty_pct is None


def test_points_in_a_mirror_are_refused():
    points = [PrintPoint(p.row, p.column, (p.table_in[1], p.table_in[0])) for p in marked(TRUE, ROW_AND_ONE)]
    with pytest.raises(PointsRefused, match=Code.MIRRORED_POINTS):
        register(points, PLAIN)


def test_no_points_and_points_nowhere_are_refused():
    with pytest.raises(PointsRefused, match=Code.NO_POINT):
        register([], PLAIN)
    with pytest.raises(PointsRefused, match=Code.TOO_MANY_POINTS):
        register([PrintPoint(row, 0, (row, 0)) for row in range(201)], PLAIN)
    with pytest.raises(PointsRefused, match=f"points.1: {Code.POINT_IS_NO_PLACE}"):
        register([PrintPoint(0, 0, (0, 0)), PrintPoint(1, 0, (float("nan"), 0))], PLAIN)


def test_different_motifs_marked_at_one_place_are_refused():
    first, second, *rest = marked(TRUE, ROW_AND_ONE)
    with pytest.raises(PointsRefused, match=Code.TWO_MOTIFS_IN_ONE_PLACE):
        register([first, replace(second, table_in=first.table_in), *rest], PLAIN)


def test_points_of_cloth_half_the_size_are_refused():
    points = [replace(p, table_in=(p.table_in[0] / 3, p.table_in[1] / 3)) for p in marked(PLAIN, ROW_AND_ONE)]
    with pytest.raises(PointsRefused, match=Code.NO_SUCH_CLOTH):
        register(points, PLAIN)
