"""Many cuts on several rolls: the worst rolls filled anew, bundles that change places in a ring."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from jobs.packing.bound import wasted
from jobs.packing.engines.exchange import exchanged_in_rings
from jobs.packing.engines.first_fit import first_fit
from jobs.packing.engines.refill import OTHERS, WORST, refilled
from jobs.packing.instance import layout_of
from jobs.packing.rolls import Roll, Shape
from jobs.packing.solve import MOST, solve
from jobs.packing.watch import Watch
from tests.jobs.packing.instances import assert_sound, instance_of, instances, random_instance


def _first(instance):
    return layout_of(instance, first_fit(instance, instance.lots))


def test_what_a_roll_wastes_is_its_use_beyond_what_the_lines_its_cuts_cover_would_need():
    """Repeat 10, cuts of 10 from the phases 0 and 5. Laid at 0 and 15 they end at 25. Each covers one line of phase 0;
    the second line of the roll lies at 10, and a last line may leave as little as 5 (of the cut from 5 to 15): 15."""
    bundles, roll = [[Shape(10, 0)], [Shape(10, 5)]], Roll(10, 0, 0, end=100)
    instance = instance_of(bundles, (roll, roll), [(0,), (1,)])
    assert wasted(instance, [[0, 1], []]) == {0: 25 - 15}
    # A flaw over the place 10 leaves 20 as the second line, so 25 is needed.
    flawed = replace(instance, rolls=(replace(roll, flaws=((10, 11),)), roll))
    assert layout_of(flawed, [[0, 1], []]).used == 25
    assert wasted(flawed, [[0, 1], []]) == {0: 0}


@settings(max_examples=150)
@given(instances(most_bundles=6, most_items=12))
def test_a_layout_filled_anew_is_sound_whatever_lay_there(instance):
    assert_sound(instance, refilled(instance, _first(instance), 0))


@settings(max_examples=150)
@given(instances(most_bundles=6, most_items=12))
def test_bundles_exchanged_leave_a_sound_layout_that_costs_no_more(instance):
    before = _first(instance)
    if not before.over:
        after = exchanged_in_rings(instance, before)
        assert_sound(instance, after)
        assert after.cost <= before.cost


def test_only_the_rolls_that_are_emptied_change():
    instance = random_instance(3, 500, 20, 18, "same")
    before = _first(instance)
    after = refilled(instance, before, 1)
    changed = sum(mine != other for mine, other in zip(before.orders, after.orders, strict=True))
    assert 0 < changed <= WORST + OTHERS
    assert_sound(instance, after)


def test_two_bundles_on_the_wrong_rolls_change_places():
    """Repeat 10. Rolls of 30 each hold a cut of 20 and one of 10 without bare cloth when the second starts where the
    first ends: phases 0 then 0 and 5 then 5. Crossed, 5 lie bare between them: 35 would be needed and the rolls of 40
    are used up to 35 and 40. Exchanged, 30 and 35 (the second roll begins 5 later, at the first place of its phase)."""
    bundles = [[Shape(20, 0)], [Shape(10, 0)], [Shape(20, 5)], [Shape(10, 5)]]
    rolls = (Roll(10, 0, 0, end=40), Roll(10, 0, 0, end=40))
    instance = instance_of(bundles, rolls, [(0,), (1,)])
    number = {instance.shapes[shape]: item for item, shape in enumerate(instance.item_shapes)}
    long0, short0, long5, short5 = (number[bundle[0]] for bundle in bundles)
    crossed = layout_of(instance, [[long0, short5], [long5, short0]])
    assert crossed.used == 35 + 40
    assert exchanged_in_rings(instance, crossed).used == 30 + 35


def test_three_bundles_change_places_in_a_ring_where_no_two_would_gain():
    """Three rolls of one lot each, repeat 12: the cut that would lie close lies on the next roll. Of phases 0, 4 and 8
    each wrong one costs 4 or 8 more; turned round the ring none does."""
    longs, shorts = [Shape(24, phase) for phase in (0, 4, 8)], [Shape(12, phase) for phase in (0, 4, 8)]
    rolls = (Roll(12, 0, 0, end=48), Roll(12, 0, 0, end=48), Roll(12, 0, 0, end=48))
    instance = instance_of([[shape] for shape in (*longs, *shorts)], rolls, [(0,), (1,), (2,)])
    number = {instance.shapes[shape]: item for item, shape in enumerate(instance.item_shapes)}
    order = [[number[longs[n]], number[shorts[(n + 1) % 3]]] for n in range(3)]
    crossed = layout_of(instance, order)
    # 0 + 24, 28 + 12 = 40; 4 + 24 = 28, 32 + 12 = 44; 8 + 24 = 32, 36 + 12 = 48.
    assert crossed.used == 40 + 44 + 48
    # 36, 40 and 44 where each follows its own.
    assert exchanged_in_rings(instance, crossed).used == 36 + 40 + 44


def test_a_cut_goes_to_another_roll_and_frees_its_own():
    # Alone each ends at 12; behind each other at 0 and 20 they need 32 of the 40, and 8 in lie bare, but one roll.
    roll = Roll(10, 0, 0, end=40)
    instance = instance_of([[Shape(12, 0)], [Shape(12, 0)]], (roll, roll), [(0,), (1,)])
    apart = layout_of(instance, [[0], [1]])
    assert (apart.opened, apart.used) == (2, 24)
    found = exchanged_in_rings(instance, apart)
    assert (found.opened, found.used, found.over) == (1, 32, 0)


def test_what_is_taken_of_a_roll_that_is_begun_is_left_alone():
    # 25 of the second roll are taken: its cut of 14 lies from 30 to 44, the other one of 12 from 50 to 62. The first
    # roll is free then, and the second was open anyway.
    rolls = (Roll(10, 0, 0, end=50), Roll(10, 0, 0, end=70, taken=((0, 25),)))
    instance = instance_of([[Shape(12, 0)], [Shape(14, 0)]], rolls, [(0,), (1,)])
    apart = layout_of(instance, [[0], [1]])
    assert (apart.opened, apart.used) == (2, 12 + 44)
    found = exchanged_in_rings(instance, apart)
    assert (found.opened, found.used, found.over) == (1, 62, 0)
    # With less of it left the cut has no room there.
    short = replace(instance, rolls=(rolls[0], replace(rolls[1], end=60)))
    assert exchanged_in_rings(short, layout_of(short, [[0], [1]])).orders == apart.orders


def test_a_bundle_that_may_come_from_one_lot_only_stays_there():
    bundles = [[Shape(20, 0)], [Shape(10, 0)], [Shape(20, 5)], [Shape(10, 5)]]
    rolls = (Roll(10, 0, 0, end=40), Roll(10, 0, 0, end=40))
    free = instance_of(bundles, rolls, [(0,), (1,)])
    number = {free.shapes[shape]: item for item, shape in enumerate(free.item_shapes)}
    long0, short0, long5, short5 = (number[bundle[0]] for bundle in bundles)
    lots = {long0: (0,), short5: (0,), long5: (1,), short0: (1,)}
    bound = replace(free, allowed=tuple(lots[item] for item in range(4)))
    crossed = layout_of(bound, [[long0, short5], [long5, short0]])
    assert exchanged_in_rings(bound, crossed) == crossed
    anew = refilled(bound, crossed, 0)
    assert [{lots[item] for item in order} for order in anew.orders] == [{(0,)}, {(1,)}]


def test_rolls_that_hold_more_than_can_be_tried_are_left_as_they_are():
    # Six hundred cuts on a roll: 600 times 600 are more than are tried.
    cuts = [[Shape(5 + number % 7, number % 10)] for number in range(1200)]
    instance = instance_of(cuts, (Roll(10, 0, 0, end=9_000), Roll(10, 0, 0, end=9_000)), [(0,), (1,)])
    before = layout_of(instance, [list(range(600)), list(range(600, 1200))])
    assert not before.over
    assert exchanged_in_rings(instance, before) == before


@pytest.mark.parametrize("kind", ["same", "mirrored"])
def test_five_hundred_cuts_take_less_than_when_they_are_only_filled(kind):
    instance = random_instance(2, 500, 20, 18, kind)
    filled = solve(instance, Watch(), replace(MOST, refills=0)).layout
    found = solve(instance, Watch()).layout
    assert_sound(instance, found)
    assert found.opened <= filled.opened
    assert found.cost < filled.cost
    assert solve(instance, Watch()).layout == found
