"""The order without flaws, against trying every order."""

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.packing.engines.ring import Trip, least_length, least_order, one_round
from jobs.packing.rolls import Roll, Shape, end_in_order


@st.composite
def problems(draw: st.DrawFn) -> tuple[Roll, list[Shape]]:
    repeat = draw(st.sampled_from([0, 1, 2, 5, 7, 12, 30]))
    shape = st.builds(Shape, st.integers(1, 25), st.integers(0, max(0, repeat - 1)))
    roll = Roll(repeat, draw(st.integers(0, max(0, repeat - 1))), draw(st.integers(0, 5)))
    return roll, draw(st.lists(shape, min_size=1, max_size=6))


@settings(max_examples=250)
@given(problems())
def test_no_order_is_shorter_and_the_one_given_is_as_short(problem):
    roll, shapes = problem
    least = min(end_in_order(roll, order) for order in permutations(shapes))
    assert roll.begin + least_length(roll, shapes) == least
    order = least_order(roll, shapes)
    assert sorted(order) == list(range(len(shapes)))
    assert end_in_order(roll, [shapes[number] for number in order]) == least


def test_heads_together_waste_nothing():
    # Two cuts of 7 on a repeat of 5, one turned: feet at phase 2, heads at 0. Turned first, then upright: no gap.
    upright, turned = Shape(7, 0), Shape(7, 3)
    roll = Roll(repeat=5, first_row=0, begin=3)
    assert least_length(roll, [upright, turned]) == 14
    assert least_order(roll, [upright, turned]) == [1, 0]


def test_separate_rounds_cost_one_more_repeat():
    # Each cut fits itself (length 10 = one repeat), but going from phase 0 to 5 and on wastes 5: 20 + 5.
    assert least_length(Roll(10, 0, 0), [Shape(10, 0), Shape(10, 5)]) == 25


def test_stops_that_do_not_hang_together_are_refused():
    with pytest.raises(ValueError, match="hang together"):
        one_round([Trip(leave=1, arrive=1), Trip(leave=5, arrive=5)])
    with pytest.raises(ValueError, match="lies behind"):
        one_round([Trip(leave=5, arrive=1)])
