"""Planning around what is cut already."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.cutting.resolve import resolve
from jobs.model.choices import Hang, Panels
from jobs.model.cuts import Placement
from jobs.model.piece import Flaw, Piece
from jobs.planning.planner import plan_cuts, plan_job
from tests.jobs.made import below_top, cloth, cut_list, job, whole_cuts, window
from tests.jobs.random_jobs import flaws, halves, jobs, with_piece


def _around(made, fixed):
    return plan_cuts(resolve(made).sound(), fixed=fixed)


def _at(made, name, start, piece=1):
    return Placement(next(cut for cut in cut_list(made) if cut.id in (name, f"{name}-whole")), piece, Fraction(start))


def test_what_is_cut_stays_and_the_rest_lies_around_it():
    # 30 in are cut from 50 on; 40 goes before it, 60 only behind.
    made = with_piece(whole_cuts(cloth(), [30, 40, 60]), 200, Fraction(0))
    plan = _around(made, [_at(made, "bay-1", 50)])
    assert [(one.cut.id, one.start) for one in plan.placements] == [
        ("bay-2-whole", 0),
        ("bay-1-whole", 50),
        ("bay-3-whole", 80),
    ]
    assert (plan.used, plan.bound, plan.short) == (140, 140, 0)
    assert plan.proved_shortest


def test_cloth_that_is_cut_counts_as_used_though_nothing_follows_it():
    made = with_piece(whole_cuts(cloth(), [30, 40]), 200, Fraction(0))
    plan = _around(made, [_at(made, "bay-1", 150)])
    assert plan.used == plan.bound == plan.pieces[0].used == 180
    assert plan.proved_shortest


def test_with_everything_cut_the_plan_is_what_is_cut():
    made = with_piece(whole_cuts(cloth(), [30, 40]), 200, Fraction(0))
    fixed = [_at(made, "bay-2", 110), _at(made, "bay-1", 50)]
    plan = _around(made, fixed)
    assert plan.placements == (fixed[1], fixed[0])
    assert (plan.used, plan.short, plan.proved_shortest) == (150, 0, True)


def test_a_cut_of_a_window_left_out_takes_its_cloth_all_the_same():
    made = with_piece(whole_cuts(cloth(), [30, 40]), 200, Fraction(0))
    gone = replace(_at(made, "bay-1", 0).cut, id="gone", window="Gone")
    plan = _around(made, [Placement(gone, 1, Fraction(10))])
    assert [(one.cut.id, one.start) for one in plan.placements] == [
        ("gone", 10),
        ("bay-1-whole", 40),
        ("bay-2-whole", 70),
    ]
    assert [cut.id for cut in plan.cuts] == ["bay-1-whole", "bay-2-whole", "gone"]


def test_the_rest_of_a_panel_follows_the_rows_its_first_cut_really_has():
    # Two cuts of 50 on a repeat of 20, the row 5 below the top: starts at 15 + 20 k. The first was cut 3 further along.
    made = with_piece(job(cloth(20), window("Bay", 50, Panels.WHOLE, 2, row=below_top(5))), 300, Fraction(0))
    first, second = cut_list(made)
    plan = _around(made, [Placement(first, 1, Fraction(18))])
    assert [one.start for one in plan.placements] == [18, 78]
    assert (plan.placements[0].cut, plan.placements[1].cut.row) == (first, second.row - 3)


def test_a_window_that_is_begun_is_finished_from_its_piece():
    # Behind the flaw the second cut takes 32 in more than on the first piece, and still it stays with its fellow.
    spoilt = Piece(Fraction(300), flaws=(Flaw(Fraction(60), Fraction(90)),))
    made = job(cloth(pieces=(Piece(Fraction(300)), spoilt)), window("Bay", 58, hang=Hang.SAME))
    assert {one.piece for one in plan_job(made).placements} == {1}
    plan = _around(made, [_at(made, "bay-right", 0, 2)])
    assert [(one.piece, one.start) for one in plan.placements] == [(2, 0), (2, 90)]
    assert plan.spread == ()


def test_a_begun_window_that_its_piece_cannot_hold_is_finished_from_another():
    of = cloth(pieces=(Piece(Fraction(100)), Piece(Fraction(300))))
    made = job(of, window("Bay", 58, hang=Hang.SAME))
    plan = _around(made, [_at(made, "bay-right", 10, 1)])
    assert (plan.short, plan.spread) == (0, ("Bay",))


def test_a_half_cut_stays_beside_the_one_it_shares_its_cloth_with():
    made = with_piece(
        job(cloth(), window("Bay", 40, Panels.PAIR, hang=Hang.SAME, cuts_per_panel=Fraction(3, 2))), 300, Fraction(0)
    )
    halves_of = [one for one in plan_job(made).placements if one.cut.beside]
    assert len(halves_of) == 2
    fixed = replace(halves_of[0], start=Fraction(100))
    plan = _around(made, [fixed])
    assert {one.start for one in plan.placements if one.cut.beside} == {100}
    spoilt = with_piece(made, 300, Fraction(0), (Flaw(Fraction(110), Fraction(112)),))
    apart = {one.cut.id: one.start for one in _around(spoilt, [fixed]).placements}
    assert apart[halves_of[1].cut.id] != 100


def test_what_does_not_fit_around_leaves_only_what_is_cut():
    made = with_piece(whole_cuts(cloth(), [30, 60]), 100, Fraction(0))
    fixed = (_at(made, "bay-1", 30),)
    plan = _around(made, fixed)
    # 60 behind 60 ends at 120.
    assert (plan.short, plan.placements) == (20, fixed)


def test_a_piece_that_is_not_there_is_a_fault_of_the_caller():
    made = with_piece(whole_cuts(cloth(), [30]), 100, Fraction(0))
    with pytest.raises(ValueError, match="piece"):
        _around(made, [_at(made, "bay-1", 0, 2)])


@settings(max_examples=40)
@given(jobs(), halves(0, 20), flaws(), st.integers(0, 5), halves(0, 30))
def test_any_part_of_a_plan_may_be_cut_and_the_rest_is_planned_soundly_around_it(made, first_row, spoilt, some, gap):
    made = with_piece(made, 10_000, first_row, spoilt)
    before = plan_job(made)
    fixed = before.placements[:some]
    again = _around(made, fixed)
    assert again.used == before.used
    assert set(fixed) <= set(again.placements)
    # The same, all that is cut lying further along by whole repeats: what comes before it is free again.
    along = made.cloth.repeat.along if made.cloth.repeat else gap
    later = [replace(one, start=one.start + 7 * along) for one in fixed]
    plan = _around(made, later)
    placed = sorted((one.start, one.end) for one in plan.placements)
    assert sorted(one.cut.id for one in plan.placements) == sorted(cut.id for cut in plan.cuts)
    assert all(first[1] <= second[0] for first, second in pairwise(placed))
    assert plan.bound <= plan.used == placed[-1][1]
    for one in plan.placements:
        if one not in later:
            assert not any(one.start < flaw.end and flaw.start < one.end for flaw in spoilt)
        if made.cloth.repeat:
            assert (one.start - first_row - one.cut.phase) % along == 0


def test_a_house_is_planned_around_what_is_cut_from_several_pieces():
    pieces = tuple(Piece(Fraction(length), Fraction(row)) for length, row in ((900, 3), (800, 11), (700, 0)))
    windows = [window(f"Bay {n}", 60 + 7 * n, hang=Hang.SAME, row=below_top(n)) for n in range(1, 9)]
    made = job(cloth(18, pieces=pieces), *windows, squaring=1)
    before = plan_job(made)
    fixed = [one for number in (1, 2, 3) for one in [p for p in before.placements if p.piece == number][:2]]
    plan = _around(made, fixed)
    assert (plan.short, plan.spread) == (0, ())
    assert set(fixed) <= set(plan.placements)
    assert plan.bound <= plan.used
    for first, second in pairwise(plan.placements):
        assert first.piece < second.piece or first.end <= second.start
