"""The search over many pieces: sound, honest, the same every time, and not behind a solver of constraints."""

from dataclasses import replace
from itertools import groupby

import pytest
from hypothesis import given, settings

from jobs.packing import solve as solving
from jobs.packing.rolls import Core, Roll, Shape, Spot
from jobs.packing.solve import Effort, solve
from jobs.packing.watch import Watch
from tests.jobs.packing.instances import assert_sound, instance_of, instances, least_cost, random_instance
from tests.jobs.packing.solver import solved_by_constraints

BRIEF = Effort(work=0, steps=3000)
"""Short walks, and nothing found exactly."""


@settings(max_examples=80)
@given(instances())
def test_small_instances_are_solved_and_proved(instance):
    found = solve(instance, Watch())
    assert (found.layout.over, found.layout.opened, found.layout.used) == least_cost(instance)
    assert (found.bound, found.least_opened) == (found.layout.used, found.layout.opened)


@settings(max_examples=60)
@given(instances())
def test_a_search_without_the_exact_one_is_sound_and_honest(instance):
    found = solve(instance, Watch(), BRIEF)
    assert_sound(instance, found.layout)
    least = least_cost(instance)
    assert (found.layout.over, found.layout.opened, found.layout.used) >= least
    assert found.bound <= found.layout.used
    if not found.layout.over:
        assert found.bound <= least[2]
        assert found.least_opened <= least[1]


@pytest.mark.parametrize("kind", ["whole", "same", "mirrored"])
@pytest.mark.parametrize("repeat", [0, 18])
def test_forty_cuts_on_three_pieces_fit_and_come_near_the_bound(kind, repeat):
    instance = random_instance(3, 40, 3, repeat, kind, slack=1.12)
    found = solve(instance, Watch(), BRIEF)
    assert_sound(instance, found.layout)
    assert found.layout.over == 0
    assert found.bound <= found.layout.used <= found.bound * 1.08


def test_the_same_instance_gives_the_same_layout():
    instance = random_instance(5, 30, 3, 12, "mirrored")
    assert solve(instance, Watch(), BRIEF).layout == solve(instance, Watch(), BRIEF).layout


def test_a_constraint_solver_agrees_where_it_can_prove_its_answer():
    instance = random_instance(6, 6, 2, 12, "whole", flaws=2, slack=1.3)
    other, proved = solved_by_constraints(instance, work=20)
    assert proved
    assert solve(instance, Watch()).layout.used == other


def test_a_thousand_cuts_on_forty_pieces_are_laid_soundly_and_within_one_in_a_hundred_of_the_bound():
    instance = random_instance(1, 1000, 40, 18, "mirrored", level=True)
    found = solve(instance, Watch())
    assert_sound(instance, found.layout)
    assert found.layout.over == 0
    assert found.layout.used <= found.bound * 1.01


def test_an_interrupt_gives_the_best_so_far():
    instance = random_instance(7, 60, 4, 18, "mirrored")
    told = []

    class Impatient(Watch):
        def beat(self):
            told.append(self.best)
            if len(told) == 3:
                raise KeyboardInterrupt

    found = solve(instance, Impatient())
    assert found.stopped
    assert_sound(instance, found.layout)
    assert found.layout == told[-1]
    assert found.bound <= found.layout.used


def test_an_interrupt_while_rolls_are_filled_keeps_those_that_are_filled():
    instance = random_instance(7, 300, 12, 18, "mirrored")
    first = []

    class Impatient(Watch):
        beats = 0

        def beat(self):
            first.append(self.best)
            self.beats += 1
            if self.beats == 9:
                raise KeyboardInterrupt

    found = solve(instance, Impatient())
    assert found.stopped
    assert_sound(instance, found.layout)
    assert found.layout.cost < first[0].cost


def test_a_long_search_tells_what_is_found_the_bound_and_how_much_of_the_next_is_laid(monkeypatch):
    monkeypatch.setattr("jobs.packing.watch.FIRST_AFTER", 0.0)
    monkeypatch.setattr("jobs.packing.watch.EVERY", 0.0)
    told = []
    found = solve(random_instance(7, 300, 12, 18, "mirrored"), Watch(1.0, told.append))
    assert all(one.used >= found.layout.used and 0 < one.bound <= found.layout.used for one in told)
    fills = [list(laid) for of, laid in groupby((one.laid for one in told), key=bool) if of]
    assert all(laid == sorted(laid) for laid in fills)
    assert max(map(len, fills)) > 10
    assert told[-1].laid == 0


def test_a_bundle_that_an_interrupt_left_half_laid_is_taken_off():
    roll = Roll(0, 0, 0, end=90)
    instance = instance_of([[Shape(10, 0), Shape(12, 0)], [Shape(11, 0)]], (roll, roll), [(0,), (1,)])
    pair = next(number for number, kind in enumerate(instance.bundles) if len(kind) == 2)
    half, (single,) = instance.bundle_items[pair][0], instance.bundle_items[1 - pair]
    assert solving._whole(instance, [[half, single], []]) == [[single], []]


def test_flaws_that_harm_only_some_cuts_are_used_by_the_others():
    # A flaw over the far half of the cloth from 10 to 20 harms the cut that takes that half; the other lies across it.
    near, far = Core(0, 30, 0, 5), Core(0, 30, 5, 10)
    roll = Roll(0, 0, 0, (), (Spot(10, 20, 6, 7),), 80)
    instance = instance_of([[Shape(30, 0, (near,))], [Shape(30, 0, (far,))]], (roll,), [(0,)])
    assert solve(instance, Watch()).layout.used == 60
    both_far = instance_of([[Shape(30, 0, (far,))], [Shape(30, 0, (far,))]], (roll,), [(0,)])
    assert solve(both_far, Watch()).layout.used == 80


def test_a_roll_that_is_too_short_tells_how_much_is_missing():
    instance = instance_of(
        [[Shape(30, 0)], [Shape(30, 0)]], (Roll(0, 0, 1, end=50), Roll(0, 0, 1, end=20)), [(0,), (1,)]
    )
    found = solve(instance, Watch())
    assert (found.layout.over, found.layout.used) == (11, 61)
    longer = replace(instance, rolls=(replace(instance.rolls[0], end=61), instance.rolls[1]))
    assert solve(longer, Watch()).layout.over == 0
