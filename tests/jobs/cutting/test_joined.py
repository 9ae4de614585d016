"""Cuts joined into one panel: rows run level across the seams, whatever the drop."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.cutting.columns import columns_across, seams
from jobs.model.choices import End, Hang, Panels, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Hand, Way
from jobs.model.job import Job
from jobs.model.lengths import CENTIMETRE
from jobs.model.print import Print, Repeat
from tests.jobs.cutting.hanging import PER_IN, far, hung, near
from tests.jobs.cutting.tilings import Lattice, Tiling, top_to_bottom
from tests.jobs.made import below_top, cut_list, job, window

F = Fraction
SAME_PIXELS = 1e-9
NINE = F(9)
MIRROR = Print(top_to_bottom=Symmetry.MIRROR, mirror_offset=F(3, 2))


def of_drop(drop: Fraction, across: Fraction = NINE, **more: object) -> Cloth:
    return Cloth("Steps", F(54), F(1, 2), Repeat(F(12), across), drop, **more)


def made_of(cloth: Cloth, panels: Panels, cuts: Fraction, **more: object) -> Job:
    bay = window("Bay", 26, panels, cuts_per_panel=cuts, row=below_top(4), **more)
    return job(cloth, bay, heading=3, hem=5, side_hem=2, seam="1/2")


def as_if_unjoined(tiling: Tiling, first: Cut, made: Job, width_px: int) -> np.ndarray:
    """The panel as one cloth wide enough would show it, from the place of its first cut."""
    lead_near = first.leading_edge is Edge.NEAR
    lead = (near(first) if lead_near else far(first)).line
    start = first.phase
    top, sense = (start, 1) if first.top_edge is Edge.FIRST else (start + first.length, -1)
    down = (np.arange(26 * PER_IN) + 0.5) / PER_IN
    inside = (np.arange(width_px) + 0.5) / PER_IN
    across = float(lead) + (inside if lead_near else -inside) - float(columns_across(made.cloth)[0])
    along = float(top) + sense * (float(first.heading) + down)
    return tiling.at(np.stack(np.meshgrid(along, across, indexing="ij"), -1))


@settings(max_examples=40)
@given(
    st.sampled_from([F(0), F(1, 2), F(1, 3), F(2, 3), F(1, 4), F(3, 5)]),
    st.sampled_from([F(9), F(7), F(17)]),
    st.sampled_from([F(3, 2), F(2), F(5, 2), F(4)]),
    st.sampled_from(list(Panels)),
    st.sampled_from(list(End)),
    st.booleans(),
)
def test_the_print_runs_on_across_every_seam(drop, across, count, panels, towards, alike):
    sheet = of_drop(drop, across, print=Print(top_towards=towards), faces_alike=alike)
    hang = Hang.MIRRORED if alike else Hang.SAME
    made = made_of(sheet, panels, count, hang=hang)
    tiling = Tiling(Lattice(12.0, float(across), float(drop)), [])
    for hand in Hand:
        cuts = [cut for cut in cut_list(made) if cut.hand is hand]
        if cuts:
            shown = hung(tiling, cuts, made, F(0), [5 * number for number in range(len(cuts))])
            assert np.abs(shown - as_if_unjoined(tiling, cuts[0], made, shown.shape[1])).max() < SAME_PIXELS


@pytest.mark.parametrize("towards", list(End))
@pytest.mark.parametrize("across", ["9", "17"])
def test_the_print_runs_on_across_the_seams_of_a_turned_panel(towards, across):
    sheet = of_drop(F(1, 2), F(across), print=Print(Symmetry.MIRROR, mirror_offset=F(3, 2), top_towards=towards))
    made = made_of(sheet, Panels.PAIR, F(3))
    tiling = Tiling(Lattice(12.0, float(F(across)), 0.5), [top_to_bottom(1.5)])
    turned = [cut for cut in cut_list(made) if cut.way is Way.TURNED]
    assert len(turned) == 3
    shown = hung(tiling, turned, made, F(0), [0, 3, 8])
    assert np.abs(shown - as_if_unjoined(tiling, turned[0], made, shown.shape[1])).max() < SAME_PIXELS


@pytest.mark.parametrize(
    ("drop", "across", "columns", "rows"),
    [
        # The next cut of a half-drop over an odd number of columns shows its rows half a repeat off: A, B, A, B.
        # MyDecozo soft-furnishing notes, half drops; C. Merrick and R. Day, The Encyclopaedia of Curtains, pp. 116-119.
        ("1/2", "17", 3, ["7", "1", "7", "1"]),
        # Over an even number the rows come level again.
        ("1/2", "13", 4, ["7", "7", "7", "7"]),
        # Rows of a left panel, whose far selvedge leads: each cut 4/3 of 12 earlier, that is 4 less, modulo 12.
        ("1/3", "13", 4, ["7", "3", "11", "7"]),
        ("0", "13", 4, ["7", "7", "7", "7"]),
    ],
)
def test_rows_of_the_following_cuts(drop, across, columns, rows):
    sheet = of_drop(F(drop), F(across))
    made = made_of(sheet, Panels.LEFT, F(4))
    assert seams(made.cloth, made.allowances).columns == (4 if across == "13" else 3) == columns
    cuts = cut_list(made)
    assert [cut.row for cut in cuts] == [F(row) for row in rows]


def test_a_right_panel_goes_the_other_way():
    cuts = cut_list(made_of(of_drop(F(1, 3), F(13)), Panels.RIGHT, F(4)))
    assert [cut.row for cut in cuts] == [7, 11, 3, 7]


def test_six_half_drop_cuts_are_ten_repeats_each():
    # MyDecozo soft-furnishing notes, half drops: raw 250 cm, repeat 27, half-drop, 6 cuts: 10 repeats, 270 each.
    cm = CENTIMETRE
    sheet = Cloth("Steps", 137 * cm, cm, Repeat(27 * cm, F(135, 2) * cm), drop=F(1, 2))
    cuts = cut_list(job(sheet, window("Bay", 250 * cm, hang=Hang.SAME, cuts=3), seam=F(1, 2)))
    assert [cut.handbook for cut in cuts] == [270 * cm] * 6
    assert len({cut.row for cut in cuts}) == 1  # two columns of 67 1/2 lie between the seams: level again


def test_the_sides_of_joined_cuts_are_seamed_hemmed_and_trimmed():
    # 54 wide, selvedge and seam 1/2: 52 hold four columns of 12, seams at 3 and 51, trimmed at 2 1/2 and 51 1/2.
    first, middle, last = cut_list(made_of(of_drop(F(0), F(12)), Panels.RIGHT, F(3)))
    assert (near(first).line, near(first).joined, near(first).trim) == (F(5, 2), False, None)
    assert (far(first).line, far(first).joined, far(first).trim) == (51, True, F(103, 2))
    assert (near(middle).line, near(middle).trim) == (3, F(5, 2))
    assert (near(last).line, far(last).line, far(last).joined) == (3, F(103, 2), False)


def test_plain_cuts_are_seamed_at_the_selvedge_and_nothing_is_trimmed():
    plain = Cloth("Linen", F(54), F(1, 2))
    first, last = cut_list(job(plain, window("Bay", 26, Panels.RIGHT, cuts=2), side_hem=2, seam="1/2"))
    assert (far(first).line, far(first).trim, near(last).line) == (F(107, 2), None, F(1, 2))


def test_a_slide_across_costs_half_a_repeat_of_width():
    # The right panel begins half a repeat of 9 further in, the left one ends half a repeat earlier.
    sheet = of_drop(F(0), print=Print(top_to_bottom=Symmetry.GLIDE))
    left, right = cut_list(made_of(sheet, Panels.PAIR, F(1)))
    assert left.leading_edge is right.leading_edge is Edge.FAR
    assert (near(left).trim, far(left).trim) == (5, None)
    assert (near(right).trim, far(right).trim) == (None, 49)
    assert far(left).line - near(left).line == far(right).line - near(right).line == 53 - F(9, 2) - 4


def test_a_slide_along_moves_the_rows_of_the_right_panel_by_half_a_repeat():
    sheet = of_drop(F(0), print=Print(side_to_side=Symmetry.GLIDE))
    left, right = cut_list(made_of(sheet, Panels.PAIR, F(1)))
    assert (left.row, right.row) == (7, 1)
    assert {left.way, right.way} == {Way.UPRIGHT}


def test_a_half_drop_pair_from_a_side_to_side_mirror_is_cut_on_the_same_or_the_other_row():
    mirror = Print(side_to_side=Symmetry.MIRROR)
    # Three columns of 17: the outer ones lie level; four of 13: one of them half a repeat lower.
    rows = {
        across: [cut.row for cut in cut_list(made_of(of_drop(F(1, 2), F(across), print=mirror), Panels.PAIR, F(1)))]
        for across in (17, 13)
    }
    assert rows == {17: [7, 7], 13: [7, 1]}
