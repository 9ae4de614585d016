"""Rolls filled in rounds: nothing twice, nothing half, nothing beyond an end, and little left bare."""

import pytest
from hypothesis import given, settings

from jobs.packing.bound import least_used
from jobs.packing.engines.fill import fill
from jobs.packing.engines.pool import Pool
from jobs.packing.instance import Instance, layout_of
from jobs.packing.rolls import Roll, Shape
from tests.jobs.packing.instances import assert_sound, instance_of, instances, random_instance


def _pool(instance):
    pool = Pool(instance)
    assert pool.offer(0)
    return pool


def _filled(instance):
    orders = [[] for _ in instance.rolls]
    fill(instance, instance.lots, orders)
    return orders


def bundles_laid(instance: Instance, orders: list[list[int]]) -> set[int]:
    """The bundles laid; every one of them must be laid whole, and no item twice."""
    items = [item for order in orders for item in order]
    laid = {instance.item_bundles[item] for item in items}
    assert sorted(items) == sorted(item for bundle in laid for item in instance.bundle_items[bundle])
    return laid


@settings(max_examples=150)
@given(instances(most_bundles=6, most_items=12))
def test_what_is_laid_is_laid_whole_in_one_lot_and_before_the_ends(instance):
    orders = _filled(instance)
    bundles_laid(instance, orders)
    assert layout_of(instance, orders).over == 0
    for lot in instance.lots:
        inside = {instance.item_bundles[item] for roll in lot for item in orders[roll]}
        outside = [item for roll, order in enumerate(orders) if roll not in lot for item in order]
        assert inside.isdisjoint(instance.item_bundles[item] for item in outside)


@pytest.mark.parametrize("kind", ["whole", "same", "mirrored"])
@pytest.mark.parametrize("repeat", [0, 18])
def test_three_hundred_cuts_lie_within_two_in_a_hundred_of_the_bound(kind, repeat):
    instance = random_instance(5, 300, 12, repeat, kind)
    layout = layout_of(instance, _filled(instance))
    assert_sound(instance, layout)
    assert layout.over == 0
    assert layout.used <= 1.02 * least_used(instance)


def test_rolls_that_share_a_lot_are_filled_together():
    instance = random_instance(5, 120, 6, 18, "mirrored")
    shared = Instance(instance.shapes, instance.bundles, instance.rolls, ((0, 1, 2), (3, 4, 5)))
    layout = layout_of(shared, _filled(shared))
    assert_sound(shared, layout)
    assert layout.used <= 1.02 * least_used(shared)


def test_grains_too_fine_to_be_counted_in_floating_point_give_nearly_the_same_layout():
    # One unit of 1/16 in cut into 3 ** 40: places go beyond 2 ** 70.
    instance, fine = random_instance(5, 60, 4, 18, "mirrored", slack=1.2), 3**40
    shapes = tuple(Shape(shape.length * fine, shape.phase * fine) for shape in instance.shapes)
    rolls = tuple(
        Roll(
            roll.repeat * fine,
            roll.first_row * fine,
            roll.begin * fine,
            tuple((start * fine, end * fine) for start, end in roll.flaws),
            (),
            (roll.end or 0) * fine,
        )
        for roll in instance.rolls
    )
    finer = Instance(shapes, instance.bundles, rolls, instance.lots)
    orders = _filled(finer)
    assert bundles_laid(finer, orders) == set(range(len(finer.bundles)))
    assert layout_of(finer, orders).used <= 1.03 * fine * layout_of(instance, _filled(instance)).used


def test_of_many_equal_places_in_the_repeat_others_come_up_at_every_turn():
    instance = instance_of([[Shape(20 + number, 0)] for number in range(6)], (Roll(10, 0, 0, end=200),), [(0,)])
    pool = _pool(instance)
    pool._sort([pool.live])
    seen = {int(entry) for turn in range(3) for entry in pool.near(pool.phases[:1], 2, turn)[0]}
    assert seen == set(range(6))


def test_bare_cloth_costs_nothing_but_its_length_on_plain_cloth():
    instance = instance_of([[Shape(20, 0)], [Shape(30, 0)]], (Roll(0, 0, 0, end=200),), [(0,)])
    assert sorted(_pool(instance).worth) == [20, 30]


def test_cloth_is_dear_where_the_cuts_cover_most_of_it_and_a_whole_repeat_is_worth_a_repeat():
    # On a repeat of 10 two cuts cover phases 0 to 5 and one of them 5 to 8: dear, cheaper, cheapest.
    instance = instance_of([[Shape(15, 0)], [Shape(18, 0)]], (Roll(10, 0, 0, end=200),), [(0,)])
    pool = _pool(instance)
    worth = {int(length): float(value) for length, value in zip(pool.lengths, pool.worth, strict=True)}
    assert 10 + 5 < worth[15] < worth[18] < 20
    assert worth[18] - worth[15] < 3
