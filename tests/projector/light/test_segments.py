"""Line types, hatching and the way from polylines to segments."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projector.light.segments import Segments, dashed, hatch, segments_of
from projector.light.styles import Style
from projector.scene.marks import Point

MORSE = Style(0.1, (1.0, 0.5, 0.25, 0.25), 0xFFFFFF)
EXACT_IN = 1e-9  # rounding of sums of a few hundred lengths


def lit_segments(points: tuple[Point, ...], style: Style = MORSE) -> Segments:
    return dashed(segments_of([points], [0]), [style])


def test_a_pattern_begins_at_the_first_point_and_is_cut_off_at_the_last() -> None:
    segments = lit_segments(((2.0, 5.0), (5.1, 5.0)))
    # Period 2: lit 0-1, 1.5-1.75, 2-3, then dark 3-3.1.
    assert segments.starts[:, 0] == pytest.approx([2.0, 3.5, 4.0])
    assert segments.ends[:, 0] == pytest.approx([3.0, 3.75, 5.0])
    assert not segments.joined.any()


def test_a_pattern_runs_on_round_a_bend_and_the_dash_in_it_is_joined() -> None:
    segments = lit_segments(((0.0, 0.0), (0.6, 0.0), (0.6, 3.0)))
    assert segments.starts == pytest.approx(np.array([(0, 0), (0.6, 0), (0.6, 0.9), (0.6, 1.4), (0.6, 2.9)]))
    assert segments.ends == pytest.approx(np.array([(0.6, 0), (0.6, 0.4), (0.6, 1.15), (0.6, 2.4), (0.6, 3.0)]))
    assert segments.joined.tolist() == [[False, True], [True, False], [False, False], [False, False], [False, False]]


@settings(max_examples=60)
@given(st.lists(st.tuples(st.floats(-40, 40), st.floats(-40, 40)), min_size=2, max_size=6), st.integers(1, 3))
def test_dashes_cover_the_lit_share_of_any_polyline(points: list[Point], pairs: int) -> None:
    style = Style(0.1, (0.7, 0.3, 1.1, 0.4, 0.2, 0.9)[: 2 * pairs])
    segments = segments_of([points], [0])
    total = float(segments.lengths.sum())
    parts = dashed(segments, [style])
    lit = float(parts.lengths.sum())
    begins = np.concatenate([[0.0], np.cumsum(style.dashes_in)])
    period, rest = begins[-1], total % begins[-1]
    whole = (total // period) * sum(style.dashes_in[::2])
    tail = sum(max(min(rest, stop) - start, 0.0) for start, stop in zip(begins[:-1:2], begins[1::2], strict=True))
    # A total that is a whole number of periods to the last bit may be counted either way.
    assert lit == pytest.approx(whole + tail, abs=1e-6) or min(rest, period - rest) < EXACT_IN


def test_an_unbroken_polyline_is_joined_at_its_bends_and_a_closed_one_all_round() -> None:
    open_line = segments_of([((0, 0), (1, 0), (1, 1))], [0])
    assert open_line.joined.tolist() == [[False, True], [True, False]]
    closed = segments_of([((0, 0), (1, 0), (1, 1), (0, 0))], [0])
    assert closed.joined.all()


def test_points_that_repeat_and_strokes_of_one_point_are_left_out() -> None:
    segments = segments_of(
        [((0, 0), (0, 0), (2, 0), (2, 0)), ((5, 5),), ((7, 7), (7, 7)), ((3, 3), (4, 3))], [0, 1, 1, 2]
    )
    assert segments.starts.tolist() == [[0, 0], [3, 3]]
    assert segments.styles.tolist() == [0, 2]
    assert not segments.joined.any()
    assert len(segments_of([], [])) == 0
    assert len(dashed(segments_of([((0, 0), (1e-300, 0))], [0]), [MORSE])) == 0


def test_a_motion_moves_the_pattern_with_its_stroke() -> None:
    still = lit_segments(((0.0, 0.0), (9.0, 0.0)))
    nudge = np.array([[1.0, 0.0, 0.0625], [0.0, 1.0, -0.5]])
    moved = still.moved(nudge)
    assert moved.starts == pytest.approx(still.starts + nudge[:, 2])
    assert moved.ends == pytest.approx(still.ends + nudge[:, 2])


def test_hatching_is_parallel_evenly_spaced_and_inside() -> None:
    lines = np.array(hatch([(0, 0), (10, 0), (10, 4), (0, 4)], spacing_in=1.0, angle_deg=45.0))
    direction = lines[:, 1] - lines[:, 0]
    assert np.allclose(direction[:, 0], direction[:, 1])
    level = (lines[:, 0] @ np.array([-1.0, 1.0])) / np.sqrt(2)
    assert np.diff(np.sort(level)) == pytest.approx(1.0)
    assert lines.min() > -EXACT_IN
    assert lines[..., 0].max() < 10 + EXACT_IN
    assert lines[..., 1].max() < 4 + EXACT_IN
    # Area is length times spacing, to the corners: 40 sq in.
    assert np.hypot(*direction.T).sum() == pytest.approx(40, abs=1.5)


def test_hatching_leaves_the_notch_of_a_bent_outline_dark() -> None:
    notched = [(0, 0), (9, 0), (9, 9), (6, 9), (6, 3), (3, 3), (3, 9), (0, 9)]
    lines = np.array(hatch(notched, spacing_in=1.0, angle_deg=0.0))
    middle = lines.mean(axis=1)
    assert not ((middle[:, 0] > 3) & (middle[:, 0] < 6) & (middle[:, 1] > 3)).any()
    assert len(lines) == 3 + 2 * 6


def test_an_outline_without_area_gives_no_hatching() -> None:
    assert hatch([(0, 0), (5, 5)]) == []
    assert hatch([]) == []
    assert all(np.hypot(b[0] - a[0], b[1] - a[1]) < EXACT_IN for a, b in hatch([(0, 0), (9, 0), (4, 0)]))
