"""Cuts narrower than the cloth lie beside others in one length, whatever their lengths, each on its own row."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.resolve import resolve
from jobs.model.choices import Panels
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece
from jobs.packing.items import lanes_of
from jobs.packing.shared_bound import least_shared, rounded
from jobs.planning.planner import fits, plan_job
from projector.words.proof import proof_words
from tests.jobs.made import MIRROR_DOWN, below_top, cloth, job, ordered, window
from tests.jobs.packing.checker import faults_of
from tests.jobs.packing.shared_jobs import least_by_solver, random_job

F = Fraction
LONG = (Piece(F(2000)),)


def strip(name: str, length: int, width: int) -> object:
    """A panel without fullness, so wide with its hems."""
    return replace(window(name, length, Panels.WHOLE), rod=F(width), cuts_per_panel=None, fullness=F(1))


def strips(of: object, *sizes: tuple[int, int]) -> Job:
    return job(of, *(strip(f"S{n}", *size) for n, size in enumerate(sizes)))


def test_six_strips_of_26_in_take_three_lengths_and_that_is_proved():
    # Two lie across 54. In order of length: 63 beside 64, 65 beside 66, 67 beside 68: 64 + 66 + 68 = 198.
    made = strips(cloth(pieces=LONG), *((63 + n, 26) for n in range(6)))
    plan = plan_job(made)
    assert not faults_of(plan)
    assert (plan.used, plan.proved_shortest) == (198, True)
    assert ordered(replace(made, cloth=cloth())).guaranteed == 198
    assert proof_words(plan) == "no other order is shorter, whatever lies side by side"


def test_one_and_a_half_widths_of_100_and_of_96_in_share_the_halves():
    # Whole cuts 100 + 96, and both halves in one length of 100.
    windows = [replace(window(f"W{n}", n, Panels.LEFT), cuts_per_panel=F(3, 2)) for n in (100, 96)]
    plan = plan_job(job(cloth(pieces=LONG), *windows))
    assert not faults_of(plan)
    assert (plan.used, plan.proved_shortest) == (296, True)
    assert [{cut.id for cut in lane} for lane in lanes_of(plan.cuts) if len(lane) > 1] == [
        {"w100-left-2", "w96-left-2"}
    ]


def test_what_shares_a_length_lies_on_its_own_row():
    # Rows 2 and 7 below the tops, repeat 10: the first begins 8 after a row, the second 3 after one, that is 5 further
    # on. 40 long from 0 to 40, 33 long from 5 to 38: one length of 40. On its own the second would take 33 more.
    windows = [
        replace(
            window(name, length, Panels.LEFT if name == "A" else Panels.RIGHT, row=below_top(row)),
            cuts_per_panel=F(3, 2),
        )
        for name, length, row in (("A", 40, 2), ("B", 33, 7))
    ]
    made = job(cloth(10, pieces=LONG), *windows)
    halves = [cut for cut in resolve(made).sound().cuts if cut.number == 2]
    assert {cut.beside for cut in halves} == {"a-left-2"}
    assert [(cut.before, cut.length, cut.after) for cut in halves] == [(0, 40, 0), (5, 33, 2)]
    plan = plan_job(made)
    assert not faults_of(plan)
    assert plan.proved_shortest


def test_a_turned_half_lies_beside_an_upright_one():
    # A pair whose right panel is turned has both halves joined at the far side; the left half of a single right panel
    # that lies upright is joined at the near one.
    pair = replace(window("Pair", 40, Panels.PAIR, row=below_top(3)), cuts_per_panel=F(3, 2))
    single = replace(window("Side", 37, Panels.RIGHT, row=below_top(3)), cuts_per_panel=F(3, 2))
    plan = plan_job(job(cloth(12, print=MIRROR_DOWN, pieces=LONG), pair, single))
    assert not faults_of(plan)
    shared = [lane for lane in lanes_of(plan.cuts) if len(lane) > 1]
    assert len(shared) == 1
    assert plan.proved_shortest


def test_a_panel_wider_than_half_the_cloth_takes_a_narrow_one_beside_it_and_else_keeps_its_width():
    beside = plan_job(strips(cloth(pieces=LONG), (60, 36), (40, 16)))
    assert not faults_of(beside)
    assert beside.used == 60
    assert [cut.across for cut in beside.cuts] == [(0, 36), (36, 52)]
    alone = plan_job(strips(cloth(pieces=LONG), (60, 36), (40, 30)))
    assert (alone.used, alone.cuts[0].across) == (100, (0, 54))


def test_where_sharing_is_forbidden_each_has_a_length_of_its_own():
    made = strips(cloth(side_by_side=False, pieces=LONG), (60, 26), (60, 26))
    assert plan_job(made).used == 120


def test_a_flaw_may_make_another_way_to_share_the_better_one():
    # 30 clear before the flaw: 30 beside 30 lie there and 50 beside 50 behind it; 30 beside 50 twice would waste it.
    of = cloth(pieces=(Piece(F(400), flaws=(Flaw(F(30), F(35)),)),))
    plan = plan_job(strips(of, (30, 26), (50, 26), (30, 26), (50, 26)))
    assert not faults_of(plan)
    assert (plan.used, plan.proved_shortest) == (85, True)


def test_a_job_that_fits_only_where_widths_are_shared_is_said_to_fit():
    made = strips(cloth(pieces=(Piece(F(66)), Piece(F(66)))), (63, 26), (64, 26), (65, 26), (66, 26))
    assert fits(resolve(made).sound())
    assert plan_job(made).short == 0


@pytest.mark.parametrize("share", [F(26, 54), F(1, 2), F(1, 3), F(3, 4), F(1)])
@pytest.mark.parametrize("k", [1, 2, 3, 4])
def test_shares_that_have_room_beside_each_other_still_do_when_rounded(share, k):
    for other in (F(n, 54) for n in range(55)):
        for third in (F(n, 18) for n in range(19)):
            if share + other + third <= 1:
                assert sum(rounded(one, k) for one in (share, other, third)) <= 1


def test_many_narrow_cuts_share_soundly_and_come_near_what_no_way_can_beat():
    sizes = [(60 + 7 * n % 40, 10 + 11 * n % 17) for n in range(40)]
    made = strips(cloth(pieces=(Piece(F(3000)),)), *sizes)
    plan = plan_job(made)
    assert not faults_of(plan)
    resolved = resolve(made).sound()
    assert not resolved.all_ways
    least, _ = least_shared(resolved.cuts, resolved.shares, made, made.cloth.pieces, 1)
    assert least <= plan.bound <= plan.used <= F(115, 100) * least


def test_the_order_of_windows_does_not_change_what_shares_a_length():
    sizes = [(60 + 7 * n % 40, 10 + 11 * n % 17) for n in range(12)]
    made = strips(cloth(), *sizes)
    other = replace(made, windows=made.windows[::-1])
    of_one, of_other = ({cut.id: cut for cut in resolve(one).sound().cuts} for one in (made, other))
    assert of_one == of_other


@pytest.mark.parametrize("seed", range(25))
def test_a_general_solver_finds_nothing_shorter_and_agrees_where_it_proves(seed):
    made = random_job(seed)
    plan = plan_job(made)
    assert not faults_of(plan)
    least, proved = least_by_solver(made, work=2)
    assert plan.used <= least
    assert plan.bound <= least
    if proved:
        assert plan.used == least
        assert plan.proved_shortest


def test_what_was_enough_when_it_was_ordered_is_enough_when_it_lies_on_the_table():
    """Eight strips 26 in wide, more than every way to share is tried of, lie two and two on 54 in: 67 + 65 + 63 + 61 =
    256 in are ordered. On a piece of just that no two windows were tied, as they take more than a third of it, and it
    was said to be 252 in short."""
    made = strips(cloth(), *((60 + n, 26) for n in range(8)))
    assert ordered(made).guaranteed == 256
    delivered = replace(made, cloth=replace(made.cloth, pieces=(Piece(F(256)),)))
    plan = plan_job(delivered)
    assert (plan.short, plan.used, faults_of(plan)) == (0, 256, [])
