"""Cloth run sideways: how tall, how long, where the tops and the rows lie, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.reach import Reach
from jobs.model.choices import Hang, Panels, Run, Symmetry, TurnedOver
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Hand, Way
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece
from jobs.model.print import Print, Repeat
from jobs.model.problems import Code, JobRefused
from jobs.model.resolved import Pairing
from jobs.model.window import RowRule, Window
from jobs.packing.items import sound_part
from jobs.planning.planner import plan_job
from tests.jobs.made import above_foot, below_top, cloth, cut_list, job, ordered, window
from tests.jobs.refused import refused

F = Fraction


def tall(along: int | None = None, across: int = 10, **more: object) -> Cloth:
    """Cloth 118 in wide, selvedges of 1 in, run sideways; such widths are sold for it (common practice, no source)."""
    repeat = Repeat(F(along), F(across)) if along else None
    return cloth(width=F(118), selvedge=F(1), run=Run.SIDEWAYS, repeat=repeat, **more)


def bay(finished: int = 90, name: str = "Bay", rod: int = 60, panels: Panels = Panels.PAIR, **more: object) -> Window:
    return window(name, finished, panels, cuts_per_panel=None, rod=F(rod), **more)


def made(of: Cloth, *windows: Window, **more: object) -> Job:
    return job(of, *windows, **{"heading": 8, "hem": 10, "side_hem": 3, "squaring": 1, **more})  # type: ignore[arg-type]


def cuts(of: Cloth, *windows: Window) -> tuple[Cut, ...]:
    return cut_list(made(of, *windows))


def test_a_panel_is_one_cut_as_long_as_its_flat_width_and_as_tall_as_heading_and_hem_make_it() -> None:
    # Rod 60 x 2 = 120 flat, 60 to a panel, and two side hems of 3. 90 + 8 + 10 = 108 high, below the selvedge at 117.
    left, right = cuts(tall(), bay())
    assert (left.length, right.length, left.of) == (66, 66, 1)
    assert left.across == (9, 117)
    assert {left.top_edge, right.top_edge} == {Edge.FAR}
    assert {left.leading_edge, right.leading_edge} == {Edge.FIRST, Edge.LAST}


def test_the_leading_edge_of_a_left_panel_lies_towards_the_last_end_that_of_a_right_one_towards_the_first() -> None:
    # Top away from the person and face up, a panel lies as it hangs: its left side towards the first end.
    left, right = plan_job(made(tall(), bay())).placements
    assert (left.start, left.end, left.leading, left.returning) == (1, 67, 67, 1)
    assert (right.start, right.leading, right.returning) == (67, 67, 133)
    assert (left.top, left.foot) == (117, 9)


def test_what_shrinks_along_lengthens_the_cut_and_what_shrinks_across_makes_it_taller() -> None:
    # 66 / (1 - 1/12) = 72; 105 + ... : (84 + 6 + 6) / (1 - 1/25) = 100.
    one = made(tall(shrinkage=F(1, 12), shrinkage_across=F(1, 25)), bay(84), heading=6, hem=6)
    cut = cut_list(one)[0]
    assert cut.length == 72
    assert cut.across == (17, 117)
    assert (cut.heading, cut.hem) == (F(25, 4), F(25, 4))


def test_cloth_that_is_not_tall_enough_is_refused_with_what_is_missing() -> None:
    with refused(Code.NOT_TALL_ENOUGH) as problems:
        cuts(tall(), bay(100))
    assert [problems[0].value(name) for name in ("takes", "lies", "missing")] == [118, 116, 2]


def test_cloth_just_tall_enough_is_taken_from_selvedge_to_selvedge() -> None:
    assert cuts(tall(), bay(98))[0].across == (1, 117)


def test_a_window_whose_width_is_not_known_is_refused() -> None:
    with refused(Code.WIDTH_NOT_KNOWN):
        cuts(tall(), window("Bay", 90))


def test_patterned_cloth_needs_its_repeat_across() -> None:
    with refused(Code.SIDEWAYS_NEEDS_ACROSS):
        cuts(replace(tall(24), repeat=Repeat(F(24))), bay(panels=Panels.WHOLE))


# Columns of 118 in cloth with a repeat of 10 across and selvedges of 1: eleven, centred, from 9 to 109.
@pytest.mark.parametrize(
    ("row", "top", "below"),
    [
        # 8 in heading and 2: a row 10 below the top edge, so the top lies on a column; the highest below 117 is 109...
        # ... but at least 1 + 78 + 18 = 97 is needed for the foot: 109 it is.
        (below_top(2), 109, 0),
        (below_top(9), 116, 7),
        (above_foot(68), 117, 8),
        (None, 117, 8),
    ],
)
def test_the_height_of_a_row_fixes_the_top_edge_but_for_whole_repeats(
    row: RowRule | None, top: int, below: int
) -> None:
    cut = cuts(tall(24), bay(78, panels=Panels.WHOLE, row=row))[0]
    assert cut.across == (top - 96, top)
    assert cut.row == below


def test_a_row_that_the_spare_height_does_not_reach_is_refused_and_the_nearest_one_works() -> None:
    # 116 - 113 = 3 in to spare: the top lies between 114 and 117, so rows hang 5 to 8 below the top edge: with a
    # heading of 8 that is 7 to 10 below the finished top. 5 1/2 is asked for: 7 is nearest.
    with refused(Code.ROW_NOT_REACHED) as problems:
        cuts(tall(24), bay(95, panels=Panels.WHOLE, row=below_top("11/2")))
    assert (problems[0].value("key_name"), problems[0].value("value")) == ("below_top", 7)
    cut = cuts(tall(24), bay(95, panels=Panels.WHOLE, row=below_top(7)))[0]
    assert cut.across == (1, 114)


def test_a_row_from_the_foot_is_put_right_in_the_same_words() -> None:
    with refused(Code.ROW_NOT_REACHED) as problems:
        cuts(tall(24), bay(95, panels=Panels.WHOLE, row=above_foot("19/2")))
    assert (problems[0].value("key_name"), problems[0].value("value")) == ("above_foot", 8)
    assert cuts(tall(24), bay(95, panels=Panels.WHOLE, row=above_foot(8)))[0].across == (1, 114)


@pytest.mark.parametrize("wanted", range(0, 40, 3))
def test_the_nearest_row_that_is_offered_is_always_taken(wanted: int) -> None:
    of = tall(24, 11, shrinkage_across=F(1, 40), first_column=F(13, 8))
    asked = F(wanted, 4)
    try:
        cuts(of, bay(92, panels=Panels.WHOLE, row=below_top(asked)))
    except JobRefused as error:
        offered = error.problems[0].value("value")
        assert cuts(of, bay(92, panels=Panels.WHOLE, row=below_top(offered)))
        period = 11 * F(39, 40)
        assert min((offered - asked) % period, (asked - offered) % period) > 0


def test_rows_hang_level_in_windows_of_different_height() -> None:
    # The tops are 6 in apart, so a row 4 below the higher one is 2 above the lower one: 8 below it, a repeat on.
    high = bay(78, "High", top_height=F(90), row=below_top(4), panels=Panels.WHOLE)
    low = bay(72, "Low", top_height=F(84), row=RowRule(level_with="High"), panels=Panels.WHOLE)
    one, two = cuts(tall(24), high, low)
    assert one.row == (8 + 4) % 10
    assert two.row == (8 - 2) % 10


def test_a_window_level_with_one_that_takes_the_print_as_it_lies_follows_it() -> None:
    high = bay(78, "High", top_height=F(90), panels=Panels.WHOLE)
    low = bay(72, "Low", top_height=F(84), row=RowRule(level_with="High"), panels=Panels.WHOLE)
    one, two = cuts(tall(24), high, low)
    # 117 - 109 = 8 below the top edge, that is at the finished top: 6 above the lower top, 4 below it.
    assert (one.row, two.row) == (8, (8 - 6) % 10)


def test_a_pair_that_cannot_mirror_is_refused_beside_windows_that_can_hang() -> None:
    with refused(Code.NO_MIRROR_LINE) as problems:
        cuts(tall(24), bay(name="Pair"), bay(95, "Whole", panels=Panels.WHOLE, row=below_top("11/2")))
    assert [problem.code for problem in problems] == [Code.NO_MIRROR_LINE, Code.ROW_NOT_REACHED]


def test_leading_edges_lie_on_a_row_of_the_print() -> None:
    left, right = cuts(tall(24, print=Print(top_to_bottom=Symmetry.MIRROR)), bay())
    # 66 long: a row at its last edge means it begins 66 before one, 6 after one. The right one begins on a row.
    assert (left.phase, right.phase) == ((-66) % 24, 0)
    assert {left.way, right.way} == {Way.UPRIGHT}


def test_panels_whose_print_mirrors_across_the_cloth_meet_on_its_mirror_line() -> None:
    of = tall(24, print=Print(top_to_bottom=Symmetry.MIRROR, mirror_offset=F(5)))
    left, right = cuts(of, bay())
    assert (left.phase, right.phase) == ((5 - 66) % 24, 5)
    assert ordered(made(of, bay())).guaranteed <= 24 + 2 * 66
    one, two = plan_job(made(replace(of, pieces=(Piece(F(200)),)), bay())).placements
    assert (one.cut.hand, one.end) == (Hand.LEFT, two.start)


def test_a_turned_panel_lies_as_far_from_the_near_selvedge_as_its_partner_from_the_far_one() -> None:
    left, right = cuts(tall(24, print=Print(side_to_side=Symmetry.MIRROR)), bay())
    assert (left.across, right.across) == ((9, 117), (1, 109))
    assert (left.top_edge, right.top_edge) == (Edge.FAR, Edge.NEAR)
    assert left.phase == right.phase
    assert left.row == right.row


def test_where_the_mirror_line_lies_aside_both_panels_are_moved_until_they_fit() -> None:
    # Columns at 2, 12, ..., 112, each a mirror line: tops t and 10 k + 4 - t. 116 - 112 = 4 in to spare: t from 113 to
    # 117 and t' from 1 to 5: 124 - t reaches 7 to 11, 114 - t 1 (at 113): only there both fit.
    of = tall(24, print=Print(side_to_side=Symmetry.MIRROR), first_column=F(2))
    only = bay(94)
    assert Reach(of, F(112), Pairing.TURNED).tops() == ((113, 113),)
    left, right = cuts(of, only)
    assert (left.across, right.across) == ((1, 113), (1, 113))


def test_a_pair_whose_mirror_image_lies_out_of_reach_is_refused() -> None:
    # 2 in to spare: t + t' lies between 116 and 120, and must be 4 and whole repeats of 10.
    of = tall(24, print=Print(side_to_side=Symmetry.MIRROR), first_column=F(2))
    with refused(Code.PARTNER_DOES_NOT_FIT):
        cuts(of, bay(96))
    assert cuts(of, bay(96, hang=Hang.SAME))


def test_a_panel_is_turned_about_a_slide_half_a_repeat_along() -> None:
    left, right = cuts(tall(24, print=Print(side_to_side=Symmetry.GLIDE)), bay())
    assert left.phase is not None
    assert right.phase == (left.phase + 12) % 24


def test_a_slide_across_takes_half_a_repeat_of_height() -> None:
    slid = Print(top_to_bottom=Symmetry.GLIDE)
    left, right = cuts(tall(24, print=slid), bay())
    assert (left.across, right.across) == ((9, 117), (4, 112))
    with refused(Code.PARTNER_DOES_NOT_FIT):
        cuts(tall(24, print=slid), bay(94))


def test_equal_panels_take_no_more_than_the_handbook_says() -> None:
    of = tall(24, print=Print(top_to_bottom=Symmetry.MIRROR))
    bought = ordered(made(of, *(bay(name=f"Bay {number}") for number in range(4))))
    # 66 takes 72 along; eight cuts and a repeat of 24. Leading edge to leading edge two panels waste nothing.
    assert bought.handbook == 8 * 72 + 24
    assert bought.guaranteed < bought.handbook


def test_a_flaw_beyond_the_foot_does_no_harm_and_one_in_the_panel_is_passed_by() -> None:
    for across, start in (((F(2), F(8)), 1), ((F(20), F(22)), 31)):
        flawed = Piece(F(150), flaws=(Flaw(F(30), F(31), across),))
        plan = plan_job(made(tall(pieces=(flawed,)), bay(panels=Panels.WHOLE, rod=30)))
        assert plan.placements[0].start == start


def test_heading_and_hem_lie_across_where_a_flaw_may_hide_in_them() -> None:
    hidden = (TurnedOver.HEADING, TurnedOver.HEM, TurnedOver.SIDE_HEM)
    one = replace(made(tall(), bay()), flaws_may_lie_in=hidden)
    sound = sound_part(cut_list(one)[0], one)
    assert (sound.near, sound.far) == (9 + 10, 117 - 8)
    assert (sound.start, sound.end) == (3, 63)


def test_the_strip_below_the_foot_is_left_over() -> None:
    beside = plan_job(made(tall(), bay())).pieces[0].beside
    assert [(span.start, span.end, span.across) for span in beside] == [(1, 67, (1, 9)), (67, 133, (1, 9))]


@pytest.mark.parametrize("table", [None, 96, 48, 30])
def test_on_a_short_table_every_edge_is_lit_and_the_last_one_is_known(table: int | None) -> None:
    plan = plan_job(made(tall(), bay()), None if table is None else F(table))
    for placed in plan.placements:
        own = [stop for stop in plan.stops if stop.placement.cut.id == placed.cut.id]
        assert {name for stop in own for name in stop.shows} == {"top", "foot", "leading", "return"}
        last = "leading" if placed.cut.hand is Hand.LEFT else "return"
        assert [stop.shows_last_edge for stop in own] == [last in stop.shows for stop in own]
        assert own[-1].shows_last_edge


def short(name: str, finished: int, rod: int = 60, **more: object) -> Window:
    return bay(finished, name, rod, Panels.WHOLE, **more)


def test_short_panels_of_one_width_lie_one_above_the_other_the_tallest_uppermost() -> None:
    # 50, 38 and 28 with heading and hem (8 + 10): 50 + 38 + 28 = 116, just what lies between the selvedges.
    found = {cut.window: cut for cut in cuts(tall(), short("A", 20), short("B", 32), short("C", 10))}
    assert {name: cut.across for name, cut in found.items()} == {"B": (67, 117), "A": (29, 67), "C": (1, 29)}
    assert {cut.beside for cut in found.values()} == {"b-whole"}
    plan = plan_job(made(tall(), short("A", 20), short("B", 32), short("C", 10)))
    assert {(one.start, one.end) for one in plan.placements} == {(1, 127)}
    assert plan.used == 127


def test_a_pair_of_short_panels_takes_half_the_cloth() -> None:
    assert ordered(made(tall(), bay(40))).guaranteed == 66
    assert ordered(made(tall(side_by_side=False), bay(40))).guaranteed == 132
    assert ordered(made(tall(), bay(40, side_by_side=False))).guaranteed == 132


def test_panels_of_unlike_width_share_the_length_of_the_wider() -> None:
    wide, narrow = cuts(tall(), short("A", 20), short("B", 20, rod=50))
    assert narrow.beside == wide.beside != ""
    assert (wide.before, wide.after) == (narrow.before, 0) == (0, 0)
    assert narrow.shared_length == wide.length > narrow.length


def test_panels_too_tall_together_or_patterned_get_a_length_each() -> None:
    for of, windows in (
        (tall(), (short("A", 41), short("B", 40))),
        (tall(24), (short("A", 20), short("B", 20))),
    ):
        assert not any(cut.beside for cut in cuts(of, *windows))


def test_the_order_of_windows_does_not_change_what_lies_above_what() -> None:
    windows = [short("A", 20), short("B", 32), short("C", 10), short("D", 60)]
    one, other = (cuts(tall(), *listed) for listed in (windows, windows[::-1]))
    assert sorted(one, key=lambda cut: cut.id) == sorted(other, key=lambda cut: cut.id)
