"""Radial lens terms: the forward and the inverse map, and the fit that decides whether there are any."""

from __future__ import annotations

from contextlib import nullcontext

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calibration.fitting import PLAIN, fit_marks
from calibration.homography import BeyondLens, normalise
from calibration.lens import Lens
from calibration.marks import Mark, Placing
from calibration.problems import Code, MarksRefused
from calibration.table import Table, fit_table, frame_grid
from calibration.uncertainty import Uncertainty
from tests.calibration.rigs import CORNERS, HEIGHT_PX, WIDTH_PX, lit, marks_of, random_rig

FRAME = frame_grid(WIDTH_PX, HEIGHT_PX, 13, 9)
NINE = frame_grid(WIDTH_PX, HEIGHT_PX, 3, 3, 0.05)


def test_a_tenth_of_k1_at_half_a_focal_scale_shrinks_to_975_thousandths() -> None:
    # 1 - 0.1 * 0.5^2 = 0.975 (the radial factor of D. C. Brown, 1971, as OpenCV's documentation writes it).
    np.testing.assert_allclose(Lens(-0.1, 0.0, (0.0, 0.0), 1.0).apply([(0.5, 0.0)]), [(0.4875, 0.0)], atol=1e-15)


@pytest.mark.parametrize(("k1", "k2"), [(-0.05, 0.0), (0.05, 0.0), (-0.04, 0.02), (0.03, -0.02)])
def test_distorting_and_undoing_agree_with_opencv(k1: float, k2: float) -> None:
    lens = Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1, k2)
    camera = np.array([[WIDTH_PX, 0, WIDTH_PX / 2], [0, WIDTH_PX, HEIGHT_PX / 2], [0, 0, 1.0]])
    rays = np.column_stack([(FRAME - (WIDTH_PX / 2, HEIGHT_PX / 2)) / WIDTH_PX, np.ones(len(FRAME))])
    terms = np.array([k1, k2, 0, 0])
    theirs, _ = cv2.projectPoints(rays, np.zeros(3), np.zeros(3), camera, terms)
    np.testing.assert_allclose(lens.apply(FRAME), theirs[:, 0], atol=1e-9)
    stop = (cv2.TERM_CRITERIA_COUNT | cv2.TERM_CRITERIA_EPS, 200, 1e-14)
    undone = cv2.undistortPoints(FRAME[:, None], camera, terms, None, np.eye(3), camera, stop)
    np.testing.assert_allclose(lens.undo(FRAME), undone[:, 0], atol=1e-6)


@settings(max_examples=60)
@given(k1=st.floats(-0.3, 0.3), k2=st.floats(-0.2, 0.2), share=st.floats(0, 0.97), turn=st.floats(0, 6.3))
def test_undoing_after_distorting_is_identity_up_to_where_the_lens_folds(
    k1: float, k2: float, share: float, turn: float
) -> None:
    lens = Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1, k2)
    radius = share * min(lens.reach_r, 3.0) * lens.focal_px
    point = np.array([lens.centre_px]) + radius * np.array([[np.cos(turn), np.sin(turn)]])
    np.testing.assert_allclose(lens.undo(lens.apply(point)), point, atol=1e-5)


def test_beyond_the_fold_both_ways_are_refused() -> None:
    # k1 = -1/3: 1 + 3 k1 r^2 = 0 at r = 1, where the lit radius is 2/3, its largest.
    lens = Lens(-1 / 3, 0.0, (0.0, 0.0), 1.0)
    assert lens.reach_r == pytest.approx(1.0)
    with pytest.raises(BeyondLens) as refused:
        lens.apply([(0.5, 0), (1.5, 0)])
    assert refused.value.points == (1,)
    with pytest.raises(BeyondLens, match="lens"):
        lens.undo([(0.7, 0)])


def test_a_four_mark_fit_hides_the_bend_in_the_middle_and_shows_it_at_mid_edges() -> None:
    # Marks at (+-0.4, +-0.225) focal scales, 80 in per unit, k1 = -0.02: corners have r^2 = 0.210625, factor 0.9957875;
    # at (0.4, 0) the factor is 0.9968, off by 0.0010125 * 32 = 0.0324 in; at (0, 0.225) 0.0032 * 18 = 0.0576 in.
    marked = np.array([(-0.4, -0.225), (0.4, -0.225), (0.4, 0.225), (-0.4, 0.225)])
    lens, middle = Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1=-0.02), (WIDTH_PX / 2, HEIGHT_PX / 2)
    table = fit_table(marks_of(marked * 80, lens.apply(marked * WIDTH_PX + middle)), WIDTH_PX, HEIGHT_PX)
    places = np.array([(0, 0), (0.4, 0), (0, 0.225)])
    missed_px = table.to_frame(places * 80) - lens.apply(places * WIDTH_PX + middle)
    np.testing.assert_allclose(np.linalg.norm(missed_px, axis=1) * 80 / WIDTH_PX, [0, 0.0324, 0.0576], atol=1e-9)


FINE = Placing(1e-3, 0.01)
"""Marks so exact that they outvote whatever is usual of lenses."""


@pytest.mark.parametrize(("k1", "k2"), [(-0.05, 0.0), (0.05, 0.0), (-0.04, 0.03)])
@pytest.mark.parametrize("axis_px", [(0.0, 0.0), (0.0, 400.0), (-400.0, 0.0)])
def test_exact_marks_give_the_lens_and_the_map_back(k1: float, k2: float, axis_px: tuple[float, float]) -> None:
    matrix = random_rig(np.random.default_rng(4))
    centre = (WIDTH_PX / 2 + axis_px[0], HEIGHT_PX / 2 + axis_px[1])
    lens = Lens(k1, k2 if axis_px == (0.0, 0.0) else 0.0, centre, WIDTH_PX)
    pixels = frame_grid(WIDTH_PX, HEIGHT_PX, 5, 4, 0.05)
    table = fit_table(marks_of(lit(matrix, lens.undo(pixels)), pixels), WIDTH_PX, HEIGHT_PX, placing=FINE)
    assert table.lens is not None
    # An axis away from the middle by c is a decentring of -k1 c and a change of the map, to first order in k1; and a
    # k2 far beyond what is usual is believed for the most part.
    close, within_in = (5e-4, 1e-3) if axis_px == (0.0, 0.0) and not k2 else (0.006, 0.02)
    assert (table.lens.k1, table.lens.k2) == pytest.approx((lens.k1, lens.k2), abs=close)
    assert table.lens.decentring == pytest.approx([-k1 * away / WIDTH_PX for away in axis_px], abs=close / 3)
    np.testing.assert_allclose(table.to_table(FRAME), lit(matrix, lens.undo(FRAME)), atol=within_in)


def test_marks_that_want_a_lens_no_projector_has_are_refused() -> None:
    # No lens bends by more than 0.06, and by a quarter more only by the errors of marks.
    matrix = random_rig(np.random.default_rng(4))
    pixels = frame_grid(WIDTH_PX, HEIGHT_PX, 5, 4, 0.05)
    for k1, refused in ((0.07, False), (0.08, True)):
        marks = marks_of(lit(matrix, Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1).undo(pixels)), pixels)
        with pytest.raises(MarksRefused, match=Code.CONTRADICT) if refused else nullcontext():
            fit_table(marks, WIDTH_PX, HEIGHT_PX, FINE)


def test_exact_marks_of_a_plain_lens_stay_plain() -> None:
    matrix = random_rig(np.random.default_rng(5))
    assert fit_table(marks_of(lit(matrix, NINE), NINE), WIDTH_PX, HEIGHT_PX).lens is None


def test_few_marks_and_good_ones_pull_k1_towards_nothing_many_do_not() -> None:
    matrix, lens = random_rig(np.random.default_rng(6)), Lens.for_frame(WIDTH_PX, HEIGHT_PX, 0.02)
    found = []
    for columns, rows in ((3, 2), (3, 3), (6, 5)):
        pixels = frame_grid(WIDTH_PX, HEIGHT_PX, columns, rows, 0.05)
        table = fit_table(marks_of(lit(matrix, lens.undo(pixels)), pixels), WIDTH_PX, HEIGHT_PX)
        assert table.lens is not None
        found.append(table.lens.k1)
    assert 0 < found[0] < found[1] < found[2] < 0.02
    assert found[2] == pytest.approx(0.02, rel=0.1)


def read_to_a_32nd(points: np.ndarray) -> np.ndarray:
    return np.round(points * 32) / 32


def trial(rng: np.random.Generator, k1: float) -> tuple[Table, np.ndarray, np.ndarray]:
    """Nine marks read to 1/32 in: the fitted table, and its errors and the plain fit's over the lit area, inches."""
    matrix, lens = random_rig(rng), Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1)
    marks = marks_of(read_to_a_32nd(lit(matrix, lens.undo(NINE))), NINE + rng.uniform(-1 / 8, 1 / 8, NINE.shape))
    wanted = lit(matrix, lens.undo(FRAME[(FRAME > 0).all(axis=1) & (FRAME < (WIDTH_PX, HEIGHT_PX)).all(axis=1)]))
    read = Placing(1 / 32 / 12**0.5, 1 / 4 / 12**0.5)
    plain = normalise(fit_marks(marks, WIDTH_PX, HEIGHT_PX, read, PLAIN).matrix)
    tables = [fit_table(marks, WIDTH_PX, HEIGHT_PX, placing=read), Table(WIDTH_PX, HEIGHT_PX, plain, marks)]
    found = [np.linalg.norm(lit(matrix, lens.undo(table.to_frame(wanted))) - wanted, axis=1) for table in tables]
    return tables[0], found[0], found[1]


@pytest.mark.parametrize("k1", [-0.05, -0.02, 0.02, 0.05])
def test_nine_marks_read_to_a_32nd_light_a_bent_frame_within_a_32nd(k1: float) -> None:
    rng = np.random.default_rng(30)
    trials = [trial(rng, k1) for _ in range(40)]
    assert np.mean([errors <= 1 / 32 for _, errors, _ in trials]) >= 0.95
    assert np.mean([(errors <= 1 / 32).all() for _, errors, _ in trials]) >= 0.9  # every place of the frame at once
    assert all(np.mean(plain**2) > np.mean(errors**2) for _, errors, plain in trials)


def test_without_distortion_the_lens_costs_less_than_a_third_of_the_error() -> None:
    rng = np.random.default_rng(31)
    found = [(np.mean(errors**2), np.mean(plain**2)) for _, errors, plain in (trial(rng, 0.0) for _ in range(60))]
    ours, plain = np.mean(found, axis=0)
    assert ours <= 1.33**2 * plain


def test_true_errors_stay_under_the_predicted_ones_with_a_fitted_lens() -> None:
    rng = np.random.default_rng(32)
    held = []
    for _ in range(120):
        matrix, lens = random_rig(rng), Lens.for_frame(WIDTH_PX, HEIGHT_PX, float(rng.choice([-0.05, 0.05])))
        pixels = frame_grid(WIDTH_PX, HEIGHT_PX, 4, 3, 0.05)
        placed = lit(matrix, lens.undo(pixels)) + rng.normal(0, 1 / 32, pixels.shape)
        table = fit_table(marks_of(placed, pixels + rng.normal(0, 0.25, pixels.shape)), WIDTH_PX, HEIGHT_PX)
        wanted = lit(matrix, lens.undo(rng.uniform((20, 20), (WIDTH_PX - 20, HEIGHT_PX - 20), (6, 2))))
        missed = np.linalg.norm(lit(matrix, lens.undo(table.to_frame(wanted))) - wanted, axis=1)
        held.append(missed <= Uncertainty(table).error_in(wanted))
    assert 0.93 <= np.mean(held) <= 0.97, np.mean(held)


def test_four_marks_never_get_a_lens() -> None:
    matrix, lens = random_rig(np.random.default_rng(7)), Lens.for_frame(WIDTH_PX, HEIGHT_PX, k1=-0.05)
    assert fit_table(marks_of(lit(matrix, lens.undo(CORNERS)), CORNERS), WIDTH_PX, HEIGHT_PX).lens is None


def test_one_wild_mark_does_not_pass_for_a_lens_that_folds() -> None:
    rng = np.random.default_rng(8)
    for _ in range(30):
        matrix = random_rig(rng)
        marks = list(marks_of(lit(matrix, NINE), NINE))
        index = int(rng.integers(9))
        x, y = marks[index].table
        marks[index] = Mark((x + rng.uniform(-0.3, 0.3), y + rng.uniform(-0.3, 0.3)), marks[index].pixel)
        table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
        np.testing.assert_allclose(table.to_frame(table.to_table(FRAME)), FRAME, atol=1e-6)
