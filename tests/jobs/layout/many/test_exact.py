"""Exact layouts over several strips, against trying everything."""

from hypothesis import given, settings

from jobs.layout.many.bound import least_used
from jobs.layout.many.exact import exact_layout
from jobs.layout.placing import Shape, Strip
from tests.jobs.layout.many.houses import assert_sound, house_of, houses, least_cost, random_house


@settings(max_examples=200)
@given(houses())
def test_no_way_to_share_out_and_order_the_cuts_costs_less(house):
    layout = exact_layout(house)
    assert layout is not None
    assert (layout.over, layout.used, layout.opened) == least_cost(house)
    assert_sound(house, layout)


@settings(max_examples=200)
@given(houses())
def test_the_bound_is_never_above_the_least_use(house):
    layout = exact_layout(house)
    assert layout is not None
    if not layout.over:
        assert least_used(house) <= layout.used


def test_a_search_that_would_take_too_long_is_left_alone():
    assert exact_layout(random_house(1, 40, 3, 12, "mirrored")) is None


def test_ten_different_cuts_on_four_pieces_are_searched_whole():
    layout = exact_layout(random_house(2, 10, 4, 12, "whole", flaws=2, slack=1.5))
    assert layout is not None
    assert layout.over == 0


def test_of_equal_uses_the_one_that_opens_fewer_pieces_is_taken():
    # Two cuts of 10 without squaring: 20 on one strip, or 10 on each of two. Both use 20.
    house = house_of([[Shape(10, 0)], [Shape(10, 0)]], (Strip(0, 0, 0, end=20), Strip(0, 0, 0, end=20)), [(0,), (1,)])
    layout = exact_layout(house)
    assert layout is not None
    assert (layout.used, layout.opened) == (20, 1)


def test_what_is_missing_counts_before_what_is_used():
    # 12 and 9 from strips of 12 and 10: the 12 must take the first although a flaw there makes the 9 end later.
    strips = (Strip(0, 0, 0, end=12), Strip(0, 0, 0, ((0, 1),), end=10))
    layout = exact_layout(house_of([[Shape(12, 0)], [Shape(9, 0)]], strips, [(0,), (1,)]))
    assert layout is not None
    assert (layout.over, layout.used) == (0, 22)
