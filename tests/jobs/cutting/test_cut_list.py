"""From windows to cuts. A figure from a published source names it beside the value."""

from dataclasses import replace
from fractions import Fraction
from itertools import permutations

import pytest

from jobs.cutting.mirroring import top_edge
from jobs.cutting.widths import handbook_cut
from jobs.model.choices import End, Hang, Panels, Symmetry, Unit
from jobs.model.cuts import Edge, Hand, Way, leading_edge
from jobs.model.lengths import CENTIMETRE
from jobs.model.print import Print
from jobs.model.problems import Code
from jobs.model.window import RowRule
from tests.jobs.made import MIRROR_DOWN, above_foot, below_top, cloth, cut_list, job, window
from tests.jobs.refused import refused

CM = CENTIMETRE


@pytest.mark.parametrize(
    ("finished", "added", "repeat", "raw", "handbook", "source"),
    [
        (96, 0, 27, 96, 108, "Figuring Pattern Repeats, DIY Ideas: 4 repeats, 12 waste"),
        (100, 16, 25, 116, 125, "Workroom Threads newsletter, Aug 2011: waste 9"),
        (90, 16, 24, 106, 120, "M.Y.L. workroom, commonly used formulas"),
        (100, 18, 13, 118, 130, "B. Talmadge, drapery maker, 2016/2017: 10 repeats (130 computed)"),
        (100, 0, 26, 100, 104, "Olde Worlde Lace, pattern repeat: rounding up (computed)"),
        (114, 0, 11, 114, 121, "DRP, measuring for draperies (computed)"),
        (135, 0, 27, 135, 135, "Curtains & Fabx, measuring guide: an exact multiple takes nothing extra (our rule)"),
        (50, 8, "45/4", 58, "135/2", "common practice, no source: 6 repeats of 11 1/4"),
    ],
)
def test_cut_length_and_handbook_cut(finished, added, repeat, raw, handbook, source):
    made = job(cloth(repeat), window("Bay", finished, Panels.WHOLE), heading=added)
    (cut,) = cut_list(made)
    assert (cut.length, cut.handbook) == (Fraction(raw), Fraction(handbook)), source


def test_centimetres_round_up_to_whole_repeats_exactly():
    # Schoener Leben, Musterrapport: raw 245 cm, repeat 50 cm: 4.9 -> 5 repeats, 250 cm.
    assert handbook_cut(245 * CM, 50 * CM) == 250 * CM
    # MyDecozo soft-furnishing notes, half drops: raw 250 cm, repeat 27 cm: 10 repeats, 270 cm.
    assert handbook_cut(250 * CM, 27 * CM) == 270 * CM


def test_plain_cloth_takes_its_length_and_has_no_rows():
    # Barkcloth Hawaii, measuring for drapes: (92 + 16) x 5 cuts = 540 in = 15 yd.
    cuts = cut_list(job(cloth(), window("Bay", 92, Panels.WHOLE, cuts=5), heading=6, hem=10))
    assert sum(cut.handbook for cut in cuts) == 15 * 36
    assert {cut.row for cut in cuts} == {None}


def test_shrinkage_grosses_up_length_allowances_and_row():
    # 97 in of finished cloth from 100 in bought, at 3 %: (84 + 5 + 8) / 0.97 = 100.
    made = job(
        cloth(30, shrinkage=Fraction(3, 100)), window("Bay", 84, Panels.WHOLE, row=below_top("97/2")), heading=5, hem=8
    )
    (cut,) = cut_list(made)
    assert cut.length == 100
    assert cut.heading == Fraction(500, 97)
    assert cut.hem == Fraction(800, 97)
    assert cut.row == (Fraction(107, 2) / Fraction(97, 100)) % 30


@pytest.mark.parametrize(
    ("rule", "row"),
    [
        (None, "9/2"),  # a row at the finished top: under the heading of 4 1/2
        (below_top(5), "19/2"),  # 4 1/2 + 5
        (below_top(20), "23/4"),  # 24 1/2 - 18 3/4
        (above_foot(0), "14"),  # 96 1/2 - 7 1/2 = 89 = 4 x 18 3/4 + 14
    ],
)
def test_the_first_row_follows_the_rule(rule, row):
    made = job(cloth("75/4"), window("Bay", "169/2", Panels.WHOLE, row=rule), heading="9/2", hem="15/2")
    (cut,) = cut_list(made)
    assert cut.row == Fraction(row)


def test_a_row_above_the_foot_is_there_when_measured_from_the_foot():
    made = job(cloth(13), window("Bay", 80, Panels.WHOLE, row=above_foot(6)), heading=4, hem=8)
    (cut,) = cut_list(made)
    rows = [cut.row + 13 * count for count in range(8)]
    assert cut.length - cut.hem - 6 in rows


@pytest.mark.parametrize(
    ("hand", "way", "towards", "selvedge"),
    [
        # The top lies left, the near selvedge below it; hung, the near selvedge is at the left (see jobs.cutting).
        (Hand.LEFT, Way.UPRIGHT, End.FIRST, Edge.FAR),
        (Hand.RIGHT, Way.UPRIGHT, End.FIRST, Edge.NEAR),
        (Hand.WHOLE, Way.UPRIGHT, End.FIRST, Edge.FAR),
        (Hand.LEFT, Way.TURNED, End.FIRST, Edge.NEAR),
        (Hand.RIGHT, Way.TURNED, End.FIRST, Edge.FAR),
        (Hand.RIGHT, Way.FACE_DOWN, End.FIRST, Edge.FAR),
        (Hand.LEFT, Way.UPRIGHT, End.LAST, Edge.NEAR),
        (Hand.RIGHT, Way.UPRIGHT, End.LAST, Edge.FAR),
        (Hand.RIGHT, Way.TURNED, End.LAST, Edge.NEAR),
        (Hand.RIGHT, Way.FACE_DOWN, End.LAST, Edge.NEAR),
    ],
)
def test_the_leading_selvedge(hand, way, towards, selvedge):
    of = cloth(10, print=Print(top_towards=towards))
    assert leading_edge(hand, top_edge(way, of), way) is selvedge


@pytest.mark.parametrize("towards", list(End))
@pytest.mark.parametrize("cloth_of", ["turned", "face down"])
def test_the_same_selvedge_leads_in_both_panels_of_a_mirrored_pair(towards, cloth_of):
    sheet = replace(MIRROR_DOWN if cloth_of == "turned" else Print(), top_towards=towards)
    left, right = cut_list(job(cloth(10, print=sheet, faces_alike=True), window("Bay", 80)))
    assert right.way == cloth_of
    assert left.leading_edge is right.leading_edge
    assert (left.top_edge is right.top_edge) is (cloth_of == "face down")


def test_a_same_way_pair_leads_with_different_selvedges():
    left, right = cut_list(job(cloth(10), window("Bay", 80, hang=Hang.SAME)))
    assert left.leading_edge is not right.leading_edge
    assert left.top_edge is Edge.FIRST
    assert right.top_edge is Edge.FIRST


def test_cuts_carry_names_and_numbers_within_their_panel():
    cuts = cut_list(job(cloth(), window("East bay", 80, cuts=2), window("Küche", 60, Panels.LEFT)))
    assert [cut.id for cut in cuts] == [
        "east-bay-left-1",
        "east-bay-left-2",
        "east-bay-right-1",
        "east-bay-right-2",
        "küche-left",
    ]
    assert [(cut.panel, cut.number, cut.of) for cut in cuts[1:3]] == [
        ("East bay, left", 2, 2),
        ("East bay, right", 1, 2),
    ]


def test_ids_do_not_depend_on_the_order_of_the_windows():
    windows = [window(name, 80) for name in ("East bay", "east-bay", "West")]
    seen = {
        frozenset((cut.window, cut.hand, cut.id) for cut in cut_list(job(cloth(), *order)))
        for order in permutations(windows)
    }
    assert len(seen) == 1
    assert len({entry[2] for entry in next(iter(seen))}) == 6


def test_all_problems_are_told_at_once():
    made = job(
        cloth(10, drop=Fraction(1, 2)),
        window("A", 80, Panels.WHOLE, rod=Fraction(90)),
        window("B", 80, Panels.WHOLE, cuts=Fraction(4, 3)),
        window("C", 80, Panels.WHOLE, cuts=2),
        window("D", 80, Panels.WHOLE, row=RowRule(level_with="A")),
        window("E", 80),
        window("E", 80, Panels.LEFT),
    )
    with refused(Code.CUTS_OR_ROD) as problems:
        cut_list(made)
    assert [(problem.path[1], problem.code) for problem in problems] == [
        (0, Code.CUTS_OR_ROD),
        (1, Code.NOT_HALVES),
        (2, Code.DROP_NEEDS_COLUMNS),
        (4, Code.NO_MIRROR_LINE),
        (5, Code.NAME_TWICE),
        (3, Code.HEIGHT_NOT_KNOWN),
        (3, Code.HEIGHT_NOT_KNOWN),
    ]
    assert [problem.value("name") for problem in problems[-2:]] == ["D", "A"]


def test_a_job_without_windows_is_refused():
    with refused(Code.NO_WINDOW):
        cut_list(job(cloth()))


def test_a_drop_does_no_harm_to_panels_of_one_cut():
    half_drop = cloth(10, drop=Fraction(1, 2), print=MIRROR_DOWN)
    left, right = cut_list(job(half_drop, window("Bay", 80)))
    assert (left.way, right.way) == (Way.UPRIGHT, Way.TURNED)


def test_unit_of_the_job_changes_no_length():
    windows = [window("Bay", 80, Panels.WHOLE)]
    assert cut_list(job(cloth(7), *windows)) == cut_list(job(cloth(7), *windows, unit=Unit.CENTIMETRE))


def test_a_print_with_side_to_side_mirror_hangs_both_upright():
    sheet = Print(side_to_side=Symmetry.MIRROR)
    cuts = cut_list(job(cloth(10, print=sheet), window("Bay", 80)))
    assert {cut.way for cut in cuts} == {Way.UPRIGHT}
