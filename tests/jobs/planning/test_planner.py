from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.model.choices import Hang, Panels
from jobs.model.job import CuttingTable
from jobs.model.piece import Flaw, Piece
from jobs.model.problems import Code
from jobs.packing.rolls import merged_flaws
from jobs.planning.planner import plan_job
from tests.jobs.made import MIRROR_DOWN, cloth, job, ordered, whole_cuts, window
from tests.jobs.random_jobs import flaws, halves, jobs, least_used, with_piece
from tests.jobs.refused import refused


def test_four_cuts_from_too_short_a_piece_are_8_in_short():
    # A 2010 cutting account (a short piece): four cuts of 110 from 12 yd, refused, 8 in short.
    plan = plan_job(with_piece(whole_cuts(cloth(), [110] * 4), 12 * 36, Fraction(0)))
    assert plan.short == 8
    assert (plan.placements, plan.stops, plan.pieces[0].used) == ((), (), 0)
    assert plan.used == plan.bound == 440


def test_a_turned_pair_lies_head_to_head_on_the_mirror_row():
    # Common practice, no source: 58 in on a repeat of 11 1/4; foot at 0, heads together at 58 (row 58 = 5 V + 1 3/4).
    made = job(cloth("45/4", print=MIRROR_DOWN), window("Bay", 58))
    plan = plan_job(with_piece(made, 200, Fraction(7, 4)))
    right, left = plan.placements
    assert (right.cut.id, right.start, right.top) == ("bay-right", 0, 58)
    assert (left.cut.id, left.top, left.foot) == ("bay-left", 58, 116)
    assert plan.used == 116
    assert plan.proved_shortest


def test_without_pieces_one_as_ordered_is_assumed():
    made = job(cloth(10), window("Bay", 90, Panels.WHOLE), squaring=1)
    plan = plan_job(made)
    assert plan.assumed_piece
    assert plan.pieces[0].piece == Piece(ordered(made).buy)
    assert plan.short == 0
    assert not plan_job(with_piece(made, 200, Fraction(0))).assumed_piece


def test_every_problem_of_the_cuts_is_refused_before_anything_is_laid():
    of = cloth(10, pieces=(Piece(Fraction(100)), Piece(Fraction(100))))
    with refused(Code.NO_MIRROR_LINE) as problems:
        plan_job(job(of, window("Bay", 80)))
    assert len(problems) == 1


def test_a_pair_too_long_for_the_first_piece_is_cut_from_the_second():
    # Two cuts of 58 need 116 head to head; 100 holds one of them, and a pair comes from one piece.
    of = cloth(pieces=(Piece(Fraction(100)), Piece(Fraction(130))))
    plan = plan_job(job(of, window("Bay", 58, hang=Hang.SAME)))
    assert {placement.piece for placement in plan.placements} == {2}
    assert [use.used for use in plan.pieces] == [0, 116]
    assert plan.used == 116


def test_a_flaw_over_part_of_the_width_counts_over_all_of_it():
    part = (Flaw(Fraction(10), Fraction(12), across=(Fraction(1), Fraction(2))),)
    plan = plan_job(with_piece(whole_cuts(cloth(), [50]), 100, Fraction(0), part))
    assert plan.placements[0].start == 12


def test_the_job_own_table_is_used_unless_another_is_given():
    made = whole_cuts(cloth(), [100])
    made = replace(made, table=CuttingTable(Fraction(60), Fraction(50)))
    assert len(plan_job(made).stops) == 2
    assert len(plan_job(made, Fraction(120)).stops) == 1


@settings(max_examples=150)
@given(jobs(), halves(0, 20), flaws())
def test_the_plan_is_the_shortest_of_all_orders_and_sound(made, first_row, spoilt):
    made = with_piece(made, 10_000, first_row, spoilt)
    plan = plan_job(made)
    assert plan.used == plan.bound == least_used(made)
    assert plan.proved_shortest
    assert sorted(placement.cut.id for placement in plan.placements) == sorted(cut.id for cut in plan.cuts)
    taken = sorted([(placement.start, placement.end) for placement in plan.placements])
    assert taken[0][0] >= made.allowances.squaring
    assert taken[-1][1] == plan.used == plan.pieces[0].used
    assert all(first[1] <= second[0] for first, second in pairwise(taken))
    assert not any(start < flaw.end and end > flaw.start for start, end in taken for flaw in spoilt)


@settings(max_examples=80)
@given(jobs(), halves(0, 20), flaws())
def test_cuts_flaws_squaring_and_leftovers_make_up_the_piece(made, first_row, spoilt):
    plan = plan_job(with_piece(made, 10_000, first_row, spoilt))
    squaring = made.allowances.squaring
    covered = [(placement.start, placement.end) for placement in plan.placements]
    covered += [(span.start, span.end) for span in plan.pieces[0].leftovers]
    covered += [(max(start, squaring), end) for start, end in merged_flaws(spoilt) if end > squaring]
    assert sum(end - start for start, end in covered) == 10_000 - squaring
    assert all(span.end > span.start for span in plan.pieces[0].leftovers)


@settings(max_examples=80)
@given(jobs(), halves(0, 20), flaws(), st.randoms(use_true_random=False))
def test_the_order_of_the_windows_changes_no_length(made, first_row, spoilt, dice):
    made = with_piece(made, 90, first_row, spoilt)
    windows = list(made.windows)
    dice.shuffle(windows)
    first, second = plan_job(made), plan_job(replace(made, windows=tuple(windows)))
    assert (first.used, first.bound, first.short) == (second.used, second.bound, second.short)


@settings(max_examples=80)
@given(jobs())
def test_what_is_bought_always_suffices_without_flaws(made):
    assert plan_job(made).short == 0
