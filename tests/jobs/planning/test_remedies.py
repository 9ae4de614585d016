from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from jobs.model.choices import Hang, Panels, Run, TurnedOver
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.problems import Code, JobRefused, problem
from jobs.ordering import assumed, order
from jobs.planning.planner import plan_job
from jobs.planning.remedies import Remedy, remedies, savings
from tests.jobs.made import MIRROR_DOWN, below_top, cloth, job, ordered, whole_cuts, window
from tests.jobs.random_jobs import with_piece

EXAMPLES = Path(__file__).parents[3] / "jobs" / "examples"


def savings_of(made: Job) -> tuple[Remedy, ...]:
    resolved = assumed(made).resolved
    return savings(resolved, order(resolved))


def remedies_of(made: Job) -> tuple[Remedy, ...]:
    plan = plan_job(made)
    return remedies(plan.resolved, plan.short)


def codes(found: tuple[Remedy, ...]) -> list[Code]:
    return [remedy.change.code for remedy in found]


def test_a_job_that_fits_needs_no_remedy():
    assert remedies_of(with_piece(whole_cuts(cloth(), [50]), 60, Fraction(0))) == ()


def test_every_remedy_is_enough_and_says_what_was_missing():
    # Two cuts of 58 the same way on 11 1/4, a row at 1 3/4: 1 3/4 + 67 1/2 + 58 = 127 1/4; 120 is 7 1/4 short.
    made = job(cloth("45/4", print=MIRROR_DOWN), window("Bay", 50, hang=Hang.SAME), hem=8)
    made = with_piece(made, 120, Fraction(7, 4))
    found = remedies_of(made)
    assert {remedy.saves for remedy in found} == {Fraction(29, 4)}
    for remedy in found:
        assert plan_job(remedy.job).short == 0
    # Turned, the second lies head to head with the first on the row at 58 = 5 V + 1 3/4: 116.
    assert Code.PAIR_MIRRORED in codes(found)
    # 56 1/4 is five repeats: a hem 1 3/4 in smaller saves the whole of the sixth, so 2 in in steps of 1/2.
    assert problem(("allowances", "hem"), Code.SHALLOWER, left=Fraction(6), now=Fraction(8)) in [
        r.change for r in found
    ]
    assert codes(found)[-1] is Code.ANOTHER_PIECE


def test_the_smallest_step_that_is_enough_is_told():
    made = with_piece(whole_cuts(cloth(), [50, 50]), 99, Fraction(0))
    made = replace(made, allowances=replace(made.allowances, hem=Fraction(6)))
    # Plain: 2 x 56 = 112, 13 short; 6 steps of 1/2 in take 3 in off each, 6 in all: no hem is enough.
    assert codes(remedies_of(made)) == [Code.ANOTHER_PIECE]
    made = with_piece(made, 110, Fraction(0))
    smaller = problem(("allowances", "hem"), Code.SHALLOWER, left=Fraction(5), now=Fraction(6))
    assert remedies_of(made)[0].change == smaller


def test_a_row_moved_is_offered_where_it_brings_two_tops_together():
    # The turned cut ends 2 t past a row of the upright one's start: with t = 0 they lie head to head.
    made = job(cloth(10, print=MIRROR_DOWN), replace(window("Bay", 50), row=below_top(1)))
    short = next(
        with_piece(made, length, Fraction(0))
        for length in range(110, 99, -1)
        if plan_job(with_piece(made, length, Fraction(0))).short
    )
    found = remedies_of(short)
    assert codes(found)[0] is Code.ROWS_MOVED
    assert plan_job(found[0].job).short == 0


def test_savings_are_less_cloth_for_the_same_job_and_the_most_comes_first():
    made = job(cloth("45/4", print=MIRROR_DOWN), window("Bay", 50, hang=Hang.SAME), hem=8)
    made = replace(made, cloth=replace(made.cloth, sold_by=Fraction(9)))
    found = savings_of(made)
    assert found
    assert [remedy.saves for remedy in found] == sorted((remedy.saves for remedy in found), reverse=True)
    for remedy in found:
        assert ordered(made).buy - ordered(remedy.job).buy == remedy.saves > 0


@pytest.mark.parametrize(
    ("heading", "hem", "doubled", "stiffener", "least"),
    [
        # Common practice, no source: a tape 3 in deep at the top; a 4 in hem with its edge turned in by 3/4 in.
        ("4", "6", (), None, {"heading": "3", "hem": "19/4"}),
        # A stiffener 4 in deep, 1/2 in below the cut edge; a 4 in hem turned twice.
        ("6", "10", (TurnedOver.HEM,), Fraction(1, 2), {"heading": "9/2", "hem": "8"}),
        ("3", "4", (), None, {"heading": "3", "hem": "4"}),
    ],
)
def test_no_heading_or_hem_is_offered_that_a_workroom_would_laugh_at(heading, hem, doubled, stiffener, least):
    # Plain cloth sold by the quarter inch: every step of hem and heading saves, so the least one saves most.
    bays = [replace(window(f"Bay {number}", 50), hang=Hang.SAME) for number in range(4)]
    made = job(cloth(sold_by=Fraction(1, 4)), *bays, heading=heading, hem=hem)
    made = replace(made, doubled=doubled, stiffener=stiffener)
    for name, shortest in least.items():
        offered = [remedy.job.allowances for remedy in savings_of(made) if remedy.change.path[-1] == name]
        lengths = [getattr(allowances, name) for allowances in offered]
        steps = (getattr(made.allowances, name) - Fraction(shortest)) // Fraction(1, 2)
        assert lengths == ([getattr(made.allowances, name) - Fraction(steps, 2)] if steps else [])


def test_one_way_cloth_is_never_offered_turned():
    one_way = replace(MIRROR_DOWN, one_way=True)
    made = with_piece(job(cloth("45/4", print=one_way), window("Bay", 58, hang=Hang.SAME)), 120, Fraction(0))
    assert Code.PAIR_MIRRORED not in codes((*remedies_of(made), *savings_of(made)))


@pytest.mark.parametrize("length", [50, 90])
def test_a_further_piece_is_as_short_as_is_enough(length):
    made = with_piece(whole_cuts(cloth(), [length, length]), length, Fraction(0))
    made = replace(made, cloth=replace(made.cloth, sold_by=Fraction(9)))
    last = remedies_of(made)[-1].job.cloth.pieces[-1]
    assert last == Piece(-(-length // 9) * Fraction(9))


def test_no_further_piece_is_longer_than_the_cloth_is_sold():
    # Two windows of one cut each, 80 and 50; the piece of 60 holds the shorter.
    made = with_piece(whole_cuts(cloth(sold_by=Fraction(9)), [80, 50]), 60, Fraction(0))
    assert remedies_of(made)[-1].job.cloth.pieces[-1] == Piece(Fraction(81))
    # 81 in is sold; 80 is not in steps of 9, and 72 is too short.
    for longest, offered in ((81, True), (80, False)):
        sold = replace(made, cloth=replace(made.cloth, longest_piece=Fraction(longest)))
        assert (Code.ANOTHER_PIECE in codes(remedies_of(sold))) is offered


def test_a_window_longer_than_any_piece_that_is_sold_is_short_and_no_fault():
    # Four cuts of 50 in one window, sold up to 120: nothing can be ordered for it, and one more piece holds two.
    tall = job(cloth(longest_piece=Fraction(120)), window("Bay", 50, Panels.WHOLE, 4))
    with pytest.raises(JobRefused):
        ordered(tall)
    assert remedies_of(with_piece(tall, 60, Fraction(0))) == ()


def test_plain_cloth_that_is_tall_enough_is_offered_to_be_run_sideways():
    # Upright two lengths of 100 (they may not share one): 207 at steps of 9. Sideways two panels of 60 along: 126.
    wide = cloth(width=Fraction(118), selvedge=Fraction(1), sold_by=Fraction(9))
    bay = replace(window("Bay", 90), cuts_per_panel=None, rod=Fraction(60), fullness=Fraction(2))
    narrow_not_shared = replace(bay, side_by_side=False)
    found = savings_of(job(wide, narrow_not_shared, heading=4, hem=6))
    best = next(remedy for remedy in found if remedy.change.code is Code.RUN_SIDEWAYS)
    assert best.saves == 207 - 126
    assert ordered(best.job).buy == 126


def test_cloth_too_narrow_or_patterned_or_with_a_nap_is_not_offered_sideways():
    bay = replace(window("Bay", 90), cuts_per_panel=None, rod=Fraction(60))
    one_way = replace(cloth(width=Fraction(118)), print=replace(MIRROR_DOWN, one_way=True))
    for of in (cloth(), cloth(10, width=Fraction(118), print=MIRROR_DOWN), one_way):
        assert Code.RUN_SIDEWAYS not in codes(savings_of(job(of, bay)))


def test_nothing_but_another_piece_mends_cloth_run_sideways():
    wide = cloth(width=Fraction(118), run=Run.SIDEWAYS)
    bay = replace(window("Bay", 90), cuts_per_panel=None, rod=Fraction(60))
    short = with_piece(job(wide, bay, heading=4, hem=6), 100, Fraction(0))
    assert codes(remedies_of(short)) == [Code.ANOTHER_PIECE]
