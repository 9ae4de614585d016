"""Pieces that need not be opened stay whole: the fewest first, then the least cloth, and what is proved of it."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings

from jobs.cutting.resolve import resolve
from jobs.model.choices import Panels
from jobs.model.cloth import BOLT
from jobs.model.piece import Piece
from jobs.ordering.order import order
from jobs.packing.engines.first_fit import completed
from jobs.packing.instance import layout_of
from jobs.packing.opening import Some, choices_of, exchanged, least_on_few, opened_at_least, spilled
from jobs.packing.rolls import Roll, Shape
from jobs.packing.solve import Effort, solve
from jobs.packing.watch import Watch
from jobs.planning.planner import plan_job
from projector.words.proof import proof_words, whole_words
from tests.jobs.made import MIRROR_DOWN, below_top, cloth, job, window
from tests.jobs.packing.checker import faults_of
from tests.jobs.packing.instances import assert_sound, instance_of, instances, least_cost, random_instance

BRIEF = Effort(work=0, steps=3000)


def rolls(*ends: int, **more: object) -> tuple[Roll, ...]:
    return tuple(Roll(0, 0, 0, end=end, **more) for end in ends)  # type: ignore[arg-type]


def alone(count: int) -> list[tuple[int, ...]]:
    return [(number,) for number in range(count)]


def test_one_long_piece_is_opened_rather_than_two_short_ones_that_use_less():
    # Two cuts of 30. Each short roll holds one and begins at once; the long one loses 5 to a flaw at its beginning.
    long = Roll(0, 0, 0, ((0, 5),), (), 70)
    instance = instance_of([[Shape(30, 0)], [Shape(30, 0)]], (*rolls(30, 30), long), alone(3))
    found = solve(instance, Watch())
    assert (found.layout.opened, found.layout.used) == (1, 65)
    assert (found.least_opened, found.bound) == (1, 65)


@settings(max_examples=80)
@given(instances())
def test_no_layout_opens_fewer_or_uses_less_on_as_few_than_is_said(instance):
    over, opened, used = least_cost(instance)
    if over:
        return
    assert opened_at_least(instance) <= opened
    assert least_on_few(instance, opened) <= used


def test_a_piece_that_is_begun_counts_as_open():
    begun = replace(rolls(100)[0], taken=((0, 10),))
    instance = instance_of([[Shape(30, 0)]], (*rolls(60), begun), alone(2))
    found = solve(instance, Watch())
    assert found.layout.orders == ((), (0,))
    assert (found.layout.opened, found.least_opened, found.layout.used) == (1, 1, 40)


@pytest.mark.parametrize("kind", ["whole", "same", "mirrored"])
def test_a_house_with_half_as_much_cloth_again_leaves_a_third_of_it_whole(kind):
    instance = random_instance(4, 90, 12, 18, kind, slack=1.6)
    found = solve(instance, Watch(), BRIEF)
    assert_sound(instance, found.layout)
    assert found.layout.over == 0
    # What the fewest rolls could give, the bound on their number and one more where that is not reached.
    assert found.layout.opened <= found.least_opened + 1
    assert found.layout.opened <= 9
    assert found.bound <= found.layout.used <= found.bound * 1.08


def test_what_finds_no_room_on_few_rolls_spills_over_on_one_more():
    # Rolls of 50 hold one cut of 30 each, whatever the sum of their lengths says.
    instance = instance_of([[Shape(30, 0)]] * 3, rolls(50, 50, 50, 50), alone(4))
    found = solve(instance, Watch(), BRIEF)
    assert (found.layout.over, found.layout.opened, found.least_opened) == (0, 3, 3)
    piled = layout_of(instance, [[0, 1], [2], [], []])
    assert spilled(instance, piled) == [[0], [2], [], []]


def test_lots_are_opened_whole_or_by_their_rolls():
    instance = replace(instance_of([[Shape(30, 0)]] * 3, rolls(50, 40, 90, 20), alone(4)), lots=((0, 1), (2, 3)))
    assert choices_of(instance, 2) == [(0, 2), (2, 3)]


def test_some_rolls_keep_what_may_come_from_them_and_say_when_nothing_may():
    instance = replace(instance_of([[Shape(30, 0)]] * 2, rolls(50, 40, 90), alone(3)), allowed=((1,), (1, 2)))
    some = Some(instance, (1, 2)).instance
    assert some is not None
    assert (some.lots, some.allowed) == (((0,), (1,)), ((0,), (0, 1)))
    assert Some(instance, (0, 2)).instance is None


def test_what_lies_on_an_open_roll_goes_to_a_whole_one_that_wastes_less():
    spoilt = Roll(0, 0, 0, ((0, 9),), (), 50)
    instance = instance_of([[Shape(30, 0)]], (spoilt, *rolls(50)), alone(2))
    assert exchanged(instance, layout_of(instance, [[0], []])).orders == ((), (0,))
    kept = replace(instance, allowed=((0,),))
    assert exchanged(kept, layout_of(kept, [[0], []])).orders == ((0,), ())


def hotel(windows: int, pieces: int) -> object:
    """Pairs of a hotel on more pieces than they need, of lengths and rows that differ."""
    dice = random.Random(8)
    sizes = [(dice.randrange(600, 1100), dice.randrange(25)) for _ in range(pieces)]
    of = cloth(25, print=MIRROR_DOWN, pieces=tuple(Piece(Fraction(length), Fraction(row)) for length, row in sizes))
    made = [
        window(f"Room {n}", 60 + Fraction(dice.randrange(60), 2), Panels.PAIR, row=below_top(dice.randrange(12)))
        for n in range(windows)
    ]
    return job(of, *made, squaring=1)


def test_a_hotel_keeps_pieces_whole_and_is_told_which():
    made = hotel(30, 15)
    plan = plan_job(made)
    assert not faults_of(plan)
    assert plan.opened + len(plan.whole) == 15
    # No fewer than are needed if no cloth were lost between cuts, and at most one more.
    lengths = sorted((use.piece.length for use in plan.pieces), reverse=True)
    cut = sum(placed.cut.length for placed in plan.placements)
    sure = next(count for count in range(1, 16) if sum(lengths[:count]) >= cut)
    assert sure <= plan.least_opened <= plan.opened <= plan.least_opened + 1
    assert whole_words(plan).endswith("take them back unopened.")
    assert all(str(number) in whole_words(plan) for number in plan.whole)


def test_of_three_pieces_the_two_that_hold_most_are_not_both_needed_and_the_proof_says_so():
    of = cloth(pieces=(Piece(Fraction(50)), Piece(Fraction(130)), Piece(Fraction(70))))
    plan = plan_job(job(of, window("A", 60, Panels.WHOLE), window("B", 60, Panels.WHOLE)))
    assert (plan.whole, plan.least_opened, plan.used) == ((1, 3), 1, 120)
    assert proof_words(plan) == "fewer pieces do not hold the cuts, and no other order of 1 piece is shorter"
    assert whole_words(plan) == "Pieces 1 and 3 stay whole: take them back unopened."


def test_an_order_is_split_into_bolts_of_sixty_yards_unless_the_job_says_otherwise():
    # 20 windows of 180 in = 100 yd of plain cloth: 12 windows fill a bolt of 2,160 in, 8 the second piece.
    made = job(cloth(), *(window(f"W {n}", 180, Panels.WHOLE) for n in range(20)))
    assert order(resolve(made)).pieces == (BOLT, Fraction(8 * 180))
    longer = replace(made, cloth=replace(made.cloth, longest_piece=Fraction(4000)))
    assert order(resolve(longer)).pieces == (Fraction(3600),)


def test_a_window_longer_than_a_bolt_gets_a_piece_of_its_own_and_is_named_where_no_length_is_told():
    # Pairs of 1,100 in: 2,200 each, more than 2,160.
    made = job(cloth(), window("Hall", 1100, Panels.PAIR), window("Bay", 90, Panels.PAIR))
    found = order(resolve(made))
    assert (found.pieces, found.too_long) == ((Fraction(2205), Fraction(180)), ("Hall",))


def test_what_found_no_room_is_laid_in_a_lot_that_it_may_come_from():
    # Two of 30, each roll a lot of its own: the first may come from the roll of 40 alone, the second then needs the 90.
    instance = replace(instance_of([[Shape(30, 0)]] * 2, rolls(50, 40, 90), alone(3)), allowed=((1,), (1, 2)))
    assert completed(instance, [[], [], []], [(0,), (1,), (2,)]) == [[], [0], [1]]
