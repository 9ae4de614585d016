"""From rod and fullness to cuts. A figure from a published source names it beside the value."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.cutting.columns import seams
from jobs.cutting.resolve import resolve
from jobs.cutting.widths import cuts_for, flat_width, reached
from jobs.model.choices import Hang, Panels, ReturnsAdded
from jobs.model.job import Job
from jobs.model.lengths import CENTIMETRE
from jobs.model.print import Repeat
from jobs.model.problems import Code
from jobs.model.window import Window
from tests.jobs.made import cloth, cut_list, job, window
from tests.jobs.refused import refused

F = Fraction
CM = CENTIMETRE


def from_rod(rod: Fraction | int, panels: Panels = Panels.PAIR, finished: int = 90, **more: object) -> Window:
    return window("Bay", finished, panels, rod=F(rod), cuts_per_panel=None, hang=Hang.SAME, **more)


def cuts(made: Job) -> Fraction:
    """Cuts of the whole window."""
    (bay,) = made.windows
    return resolve(made).windows[0].count * (2 if bay.panels is Panels.PAIR else 1)


def test_rod_overlap_and_returns_become_eight_cuts():
    # M.Y.L. workroom, commonly used formulas: rod 125, overlap 4, returns 6 + 6, fullness 2.5, cloth 48: overall 141,
    # flat 352.5, 7.34 -> 8 cuts; finished 90 + 16, repeat 24: raw 106 -> 120; 960 in = 26 2/3 yd (computed).
    bay = from_rod(125, overlap=F(4), returns=F(6), fullness=F(5, 2))
    made = job(cloth(width=F(48)), bay, heading=8, hem=8)
    width = flat_width(bay, made)
    assert (width.overall, width.flat) == (141, F(705, 2))
    assert float(width.flat / 48) == pytest.approx(7.34, abs=0.005)
    assert cuts(made) == 8
    # Printed 48 wide, two columns of 24 (M. Yates, Textiles: A Handbook for Designers), with selvedges of 1/2.
    of = cloth(width=F(49), selvedge=F(1, 2), repeat=Repeat(F(24), F(24)))
    patterned = cut_list(job(of, bay, heading=8, hem=8, seam="1/2"))
    assert [(cut.length, cut.handbook) for cut in patterned] == [(106, 120)] * 8
    assert sum(cut.handbook for cut in patterned) == 960


def test_three_times_a_small_window_takes_four_cuts():
    # DRP, measuring for draperies: window 63, fullness 3, cloth 54: 3.5 -> 4 cuts; raw 114: 456 in = 12 2/3 yd.
    # The source rounds the window up to whole cuts; half a cut more for each hand would be 1 3/4 cuts, so 2 here too.
    bay = from_rod(63, finished=114, fullness=F(3))
    made = job(cloth(width=F(54)), bay)
    assert flat_width(bay, made).flat / 54 == F(7, 2)
    assert cuts(made) == 4
    assert sum(cut.length for cut in cut_list(made)) == 456


def test_one_and_a_half_cuts_a_side():
    # Curtains & Fabx, measuring guide: 200 cm x 1.5 + 20, cloth 122 cm: 2.62 -> 3 cuts, 1 1/2 a side.
    bay = from_rod(200 * CM, fullness=F(3, 2), finished=53)
    made = job(cloth(width=122 * CM), bay, side_hem=5 * CM)
    width = flat_width(bay, made)
    assert 2 * width.needed == 320 * CM
    assert float(2 * width.needed / (122 * CM)) == pytest.approx(2.62, abs=0.005)
    assert resolve(made).windows[0].count == F(3, 2)


def test_sixty_inches_two_and_a_half_times_take_three_cuts():
    # Barkcloth Hawaii, measuring for drapes: (48 + 12) x 2.5, cloth 54: 2.78 -> 3.
    bay = from_rod(48, returns=F(6), fullness=F(5, 2))
    made = job(cloth(width=F(54)), bay)
    assert float(flat_width(bay, made).flat / 54) == pytest.approx(2.78, abs=0.005)
    assert cuts(made) == 3


@pytest.mark.parametrize(
    ("panels", "flat"),
    [
        (Panels.PAIR, 2 * (100 + 3 * 2)),
        (Panels.WHOLE, 2 * (100 + 3 * 2)),
        (Panels.LEFT, 2 * (100 + 3)),
        (Panels.RIGHT, 2 * (100 + 3)),
    ],
)
def test_a_single_panel_has_one_return_and_the_others_two(panels, flat):
    bay = from_rod(100, panels, returns=F(3))
    assert flat_width(bay, job(cloth(), bay)).flat == flat


def test_returns_may_be_added_after_the_fullness():
    bay = from_rod(100, overlap=F(4), returns=F(3), fullness=F(5, 2))
    made = replace(job(cloth(), bay), returns_added=ReturnsAdded.AFTER)
    assert flat_width(bay, made).flat == 104 * F(5, 2) + 6
    assert flat_width(bay, job(cloth(), bay)).flat == 110 * F(5, 2)


@pytest.mark.parametrize(
    ("needed", "count"),
    [
        (27, "1/2"),
        ("109/4", 1),
        (54, 1),
        ("217/4", "3/2"),
        (80, "3/2"),
        (81, 2),
        (107, 2),
        (108, "5/2"),
        (133, "5/2"),
        (134, 3),
    ],
)
def test_plain_cloth_loses_a_seam_allowance_at_each_joined_edge(needed, count):
    # 54 wide, seam 1/2: 1 1/2 cuts give 81 - 1 = 80, 2 give 108 - 1 = 107, 2 1/2 give 135 - 2 = 133.
    made = job(cloth(), window("Bay", 80), seam="1/2")
    assert cuts_for(F(needed), made.cloth, seams(made.cloth, made.allowances)) == F(count)


@pytest.mark.parametrize(
    ("needed", "count"), [("107/2", 1), (54, "3/2"), ("269/4", "3/2"), (68, 2), (94, 2), (95, "5/2"), (108, 3)]
)
def test_patterned_cloth_is_counted_to_its_outer_printed_edges(needed, count):
    # 55 wide, selvedges 3/4: 53 1/2 of print, three columns of 13 1/2 between the seams (a fourth would leave 1/2, less
    # than the least seam of 3/4): 1 1/2 cuts reach 26 3/4 + 40 1/2 = 67 1/4, two 53 1/2 + 40 1/2 = 94, 2 1/2 107 3/4.
    sheet = cloth(18, width=F(55), selvedge=F(3, 4), repeat=Repeat(F(18), F(27, 2)))
    made = job(sheet, window("Bay", 80), seam="1/2", least_seam="3/4")
    lines = seams(made.cloth, made.allowances)
    assert lines.columns == 3
    assert cuts_for(F(needed), made.cloth, lines) == F(count)


def test_seam_lines_lie_whole_columns_apart_in_the_middle_of_the_print():
    sheet = cloth(18, width=F(55), selvedge=F(3, 4), repeat=Repeat(F(18), F(27, 2)))
    lines = seams(sheet, job(sheet, seam="1/2").allowances)
    assert (lines.near, 55 - lines.far, lines.between) == (F(29, 4), F(191, 4), F(81, 2))


def test_a_wide_panel_is_refused_where_the_repeat_across_is_not_known():
    made = job(cloth(18, repeat=Repeat(F(18))), from_rod(100), seam="1/2")
    with refused(Code.ACROSS_NOT_KNOWN):
        cut_list(made)


def test_a_rod_of_a_mile_is_taken_for_a_slip():
    with refused(Code.TOO_MANY_CUTS):
        cut_list(job(cloth(), from_rod(5000)))


@settings(max_examples=100)
@given(st.fractions(1, 600, max_denominator=4), st.integers(0, 8))
def test_the_count_is_the_least_that_gives_enough(needed, seam_quarters):
    # C. Merrick and R. Day, The Encyclopaedia of Curtains, pp. 116-119: round up, never down.
    made = job(cloth(), window("Bay", 80), seam=F(seam_quarters, 4))
    lines = seams(made.cloth, made.allowances)
    count = cuts_for(needed, made.cloth, lines)
    assert (2 * count).denominator == 1
    assert reached(count, made.cloth, lines) >= needed
    assert count == F(1, 2) or reached(count - F(1, 2), made.cloth, lines) < needed
