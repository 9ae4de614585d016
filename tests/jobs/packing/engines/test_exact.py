"""Exact layouts over several rolls, against trying everything."""

from hypothesis import given, settings

from jobs.packing.bound import least_used
from jobs.packing.engines.exact import exact_layout, shared_out
from jobs.packing.rolls import Roll, Shape
from tests.jobs.packing.instances import assert_sound, instance_of, instances, least_cost, random_instance


@settings(max_examples=200)
@given(instances())
def test_no_way_to_share_out_and_order_the_cuts_costs_less(instance):
    layout = exact_layout(instance)
    assert layout is not None
    assert (layout.over, layout.opened, layout.used) == least_cost(instance)
    assert_sound(instance, layout)


@settings(max_examples=200)
@given(instances())
def test_the_bound_is_never_above_the_least_use(instance):
    layout = exact_layout(instance)
    assert layout is not None
    if not layout.over:
        assert least_used(instance) <= layout.used


def test_a_search_that_would_take_too_long_is_left_alone():
    assert exact_layout(random_instance(1, 40, 3, 12, "mirrored")) is None


def test_ten_different_cuts_on_four_pieces_are_searched_whole():
    layout = exact_layout(random_instance(2, 10, 4, 12, "whole", flaws=2, slack=1.5))
    assert layout is not None
    assert layout.over == 0


def test_of_equal_uses_the_one_that_opens_fewer_pieces_is_taken():
    # Two cuts of 10 without squaring: 20 on one roll, or 10 on each of two. Both use 20.
    instance = instance_of(
        [[Shape(10, 0)], [Shape(10, 0)]], (Roll(0, 0, 0, end=20), Roll(0, 0, 0, end=20)), [(0,), (1,)]
    )
    layout = exact_layout(instance)
    assert layout is not None
    assert (layout.used, layout.opened) == (20, 1)


def test_what_is_missing_counts_before_what_is_used():
    # 12 and 9 from rolls of 12 and 10: the 12 must take the first although a flaw there makes the 9 end later.
    rolls = (Roll(0, 0, 0, end=12), Roll(0, 0, 0, ((0, 1),), end=10))
    layout = exact_layout(instance_of([[Shape(12, 0)], [Shape(9, 0)]], rolls, [(0,), (1,)]))
    assert layout is not None
    assert (layout.over, layout.used) == (0, 22)


@settings(max_examples=150)
@given(instances())
def test_bundles_shared_out_over_rolls_are_laid_soundly_and_what_is_proved_is_the_least(instance):
    found = shared_out(instance)
    if len(instance.rolls) == 1 or any(len(lot) > 1 for lot in instance.lots):
        assert found is None
        return
    assert_sound(instance, found.layout)
    over, opened, used = least_cost(instance)
    least = used + opened * instance.opening + over * instance.penalty
    assert found.bound <= least <= found.layout.cost
    assert found.bound == found.layout.cost


def test_a_house_of_eight_windows_is_proved_shortest_by_sharing_it_out():
    instance = random_instance(11, 16, 3, 18, "mirrored", flaws=1, slack=1.3)
    found = shared_out(instance)
    assert_sound(instance, found.layout)
    assert found.layout.over == 0
    assert found.bound == found.layout.cost
    assert least_used(instance) < found.layout.used


def test_too_many_ways_to_share_out_are_not_looked_at():
    assert shared_out(random_instance(11, 40, 3, 18, "mirrored")) is None
