"""Strips filled in rounds: nothing twice, nothing half, nothing beyond an end, and little left bare."""

import pytest
from hypothesis import given, settings

from jobs.layout.many.bound import least_used
from jobs.layout.many.house import House, layout_of
from jobs.layout.many.rounds import filled_in_rounds
from jobs.layout.many.shelf import Shelf
from jobs.layout.placing import Shape, Strip
from tests.jobs.layout.many.houses import assert_sound, house_of, houses, random_house


def bundles_laid(house: House, orders: list[list[int]]) -> set[int]:
    """The bundles laid; every one of them must be laid whole, and no item twice."""
    items = [item for order in orders for item in order]
    laid = {house.item_bundles[item] for item in items}
    assert sorted(items) == sorted(item for bundle in laid for item in house.bundle_items[bundle])
    return laid


@settings(max_examples=150)
@given(houses(most_bundles=6, most_items=12))
def test_what_is_laid_is_laid_whole_in_one_lot_and_before_the_ends(house):
    orders = filled_in_rounds(house, house.lots)
    bundles_laid(house, orders)
    assert layout_of(house, orders).over == 0
    for lot in house.lots:
        inside = {house.item_bundles[item] for strip in lot for item in orders[strip]}
        outside = [item for strip, order in enumerate(orders) if strip not in lot for item in order]
        assert inside.isdisjoint(house.item_bundles[item] for item in outside)


@pytest.mark.parametrize("kind", ["whole", "same", "mirrored"])
@pytest.mark.parametrize("repeat", [0, 18])
def test_three_hundred_cuts_lie_within_two_in_a_hundred_of_the_bound(kind, repeat):
    house = random_house(5, 300, 12, repeat, kind)
    layout = layout_of(house, filled_in_rounds(house, house.lots))
    assert_sound(house, layout)
    assert layout.over == 0
    assert layout.used <= 1.02 * least_used(house)


def test_strips_that_share_a_lot_are_filled_together():
    house = random_house(5, 120, 6, 18, "mirrored")
    shared = House(house.shapes, house.bundles, house.strips, ((0, 1, 2), (3, 4, 5)))
    layout = layout_of(shared, filled_in_rounds(shared, shared.lots))
    assert_sound(shared, layout)
    assert layout.used <= 1.02 * least_used(shared)


def test_grains_too_fine_to_be_counted_in_floating_point_give_nearly_the_same_layout():
    # One grain of 1/16 in cut into 3 ** 40: places go beyond 2 ** 70.
    house, fine = random_house(5, 60, 4, 18, "mirrored", slack=1.2), 3**40
    shapes = tuple(Shape(shape.length * fine, shape.residue * fine) for shape in house.shapes)
    strips = tuple(
        Strip(
            strip.repeat * fine,
            strip.first_row * fine,
            strip.begin * fine,
            tuple((start * fine, end * fine) for start, end in strip.flaws),
            (),
            (strip.end or 0) * fine,
        )
        for strip in house.strips
    )
    finer = House(shapes, house.bundles, strips, house.lots)
    orders = filled_in_rounds(finer, finer.lots)
    assert bundles_laid(finer, orders) == set(range(len(finer.bundles)))
    assert layout_of(finer, orders).used <= 1.03 * fine * layout_of(house, filled_in_rounds(house, house.lots)).used


def test_of_many_equal_places_in_the_repeat_others_come_up_at_every_turn():
    house = house_of([[Shape(20 + number, 0)] for number in range(6)], (Strip(10, 0, 0, end=200),), [(0,)])
    shelf = Shelf(house)
    shelf._classes = [(shelf.residues, shelf.live)]
    seen = {int(entry) for turn in range(3) for entry in shelf.near(shelf.residues[:1], 2, turn)[0]}
    assert seen == set(range(6))


def test_bare_cloth_costs_nothing_but_its_length_on_plain_cloth():
    house = house_of([[Shape(20, 0)], [Shape(30, 0)]], (Strip(0, 0, 0, end=200),), [(0,)])
    assert sorted(Shelf(house).worth) == [20, 30]


def test_cloth_is_dear_where_the_cuts_cover_most_of_it_and_a_whole_repeat_is_worth_a_repeat():
    # On a repeat of 10 two cuts cover residues 0 to 5 and one of them 5 to 8: dear, cheaper, cheapest.
    house = house_of([[Shape(15, 0)], [Shape(18, 0)]], (Strip(10, 0, 0, end=200),), [(0,)])
    shelf = Shelf(house)
    worth = {int(length): float(value) for length, value in zip(shelf.lengths, shelf.worth, strict=True)}
    assert 10 + 5 < worth[15] < worth[18] < 20
    assert worth[18] - worth[15] < 3
