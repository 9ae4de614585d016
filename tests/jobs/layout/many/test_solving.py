"""The search over many pieces: sound, honest, the same every time, and not behind a solver of constraints."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from jobs.layout.many import solving
from jobs.layout.many.solving import solved
from jobs.layout.many.watch import Watch
from jobs.layout.placing import Core, Shape, Spot, Strip
from tests.jobs.layout.many.houses import assert_sound, house_of, houses, least_cost, random_house
from tests.jobs.layout.many.solver import solved_by_constraints


@pytest.fixture
def brief(monkeypatch):
    """Short walks, and nothing found exactly."""
    monkeypatch.setattr(solving, "STEPS_SMALL", 3000)
    monkeypatch.setattr(solving, "exact_layout", lambda house: None)


@settings(max_examples=80)
@given(houses())
def test_small_houses_are_solved_and_proved(house):
    found = solved(house, Watch())
    assert (found.layout.over, found.layout.used, found.layout.opened) == least_cost(house)
    assert found.bound == found.layout.used


def test_a_search_without_the_exact_one_is_sound_and_honest(brief):
    @settings(max_examples=60)
    @given(houses())
    def check(house):
        found = solved(house, Watch())
        assert_sound(house, found.layout)
        least = least_cost(house)
        assert (found.layout.over, found.layout.used) >= least[:2]
        assert found.bound <= found.layout.used
        if not found.layout.over:
            assert found.bound <= least[1]

    check()


@pytest.mark.parametrize("kind", ["whole", "same", "mirrored"])
@pytest.mark.parametrize("repeat", [0, 18])
def test_forty_cuts_on_three_pieces_fit_and_come_near_the_bound(brief, kind, repeat):
    house = random_house(3, 40, 3, repeat, kind, slack=1.12)
    found = solved(house, Watch())
    assert_sound(house, found.layout)
    assert found.layout.over == 0
    assert found.bound <= found.layout.used <= found.bound * 1.08


def test_the_same_house_gives_the_same_layout(brief):
    house = random_house(5, 30, 3, 12, "mirrored")
    assert solved(house, Watch()).layout == solved(house, Watch()).layout


@pytest.mark.parametrize("kind", ["whole", "mirrored"])
def test_a_constraint_solver_given_some_seconds_is_not_ahead(kind):
    house = random_house(4, 24, 3, 12, kind, flaws=2, slack=1.15)
    found = solved(house, Watch())
    other, _ = solved_by_constraints(house, seconds=4)
    assert found.layout.over == 0
    assert other is None or found.layout.used <= other


def test_a_constraint_solver_agrees_where_it_can_prove_its_answer():
    house = random_house(6, 6, 2, 12, "whole", flaws=2, slack=1.3)
    other, proved = solved_by_constraints(house, seconds=20)
    assert proved
    assert solved(house, Watch()).layout.used == other


def test_a_thousand_cuts_on_forty_pieces_are_laid_soundly_and_within_one_in_a_hundred_of_the_bound():
    house = random_house(1, 1000, 40, 18, "mirrored", level=True)
    found = solved(house, Watch())
    assert_sound(house, found.layout)
    assert found.layout.over == 0
    assert found.layout.used <= found.bound * 1.01


def test_an_interrupt_gives_the_best_so_far():
    house = random_house(7, 60, 4, 18, "mirrored")
    told = []

    class Impatient(Watch):
        def beat(self):
            told.append(self.best)
            if len(told) == 3:
                raise KeyboardInterrupt

    found = solved(house, Impatient())
    assert found.stopped
    assert_sound(house, found.layout)
    assert found.layout == told[-1]
    assert found.bound <= found.layout.used


def test_an_interrupt_while_strips_are_filled_keeps_those_that_are_filled():
    house = random_house(7, 300, 12, 18, "mirrored")
    first = []

    class Impatient(Watch):
        beats = 0

        def beat(self):
            first.append(self.best)
            self.beats += 1
            if self.beats == 9:
                raise KeyboardInterrupt

    found = solved(house, Impatient())
    assert found.stopped
    assert_sound(house, found.layout)
    assert found.layout.cost < first[0].cost


def test_a_long_search_tells_what_is_found_the_bound_and_how_much_of_the_next_is_laid(monkeypatch):
    monkeypatch.setattr("jobs.layout.many.watch.FIRST_AFTER", 0.0)
    monkeypatch.setattr("jobs.layout.many.watch.EVERY", 0.0)
    told = []
    found = solved(random_house(7, 300, 12, 18, "mirrored"), Watch(1.0, told.append))
    assert all(one.used >= found.layout.used and 0 < one.bound <= found.layout.used for one in told)
    laid = [one.laid for one in told if one.laid]
    assert laid == sorted(laid)
    assert len(laid) > 10
    assert told[-1].laid == 0


def test_a_bundle_that_an_interrupt_left_half_laid_is_taken_off():
    strip = Strip(0, 0, 0, end=90)
    house = house_of([[Shape(10, 0), Shape(12, 0)], [Shape(11, 0)]], (strip, strip), [(0,), (1,)])
    pair = next(number for number, kind in enumerate(house.bundles) if len(kind) == 2)
    half, (single,) = house.bundle_items[pair][0], house.bundle_items[1 - pair]
    assert solving._whole(house, [[half, single], []]) == [[single], []]


def test_flaws_that_harm_only_some_cuts_are_used_by_the_others():
    # A flaw over the far half of the cloth from 10 to 20 harms the cut that takes that half; the other lies across it.
    near, far = Core(0, 30, 0, 5), Core(0, 30, 5, 10)
    strip = Strip(0, 0, 0, (), (Spot(10, 20, 6, 7),), 80)
    house = house_of([[Shape(30, 0, (near,))], [Shape(30, 0, (far,))]], (strip,), [(0,)])
    assert solved(house, Watch()).layout.used == 60
    both_far = house_of([[Shape(30, 0, (far,))], [Shape(30, 0, (far,))]], (strip,), [(0,)])
    assert solved(both_far, Watch()).layout.used == 80


def test_a_strip_that_is_too_short_tells_how_much_is_missing():
    house = house_of([[Shape(30, 0)], [Shape(30, 0)]], (Strip(0, 0, 1, end=50), Strip(0, 0, 1, end=20)), [(0,), (1,)])
    found = solved(house, Watch())
    assert (found.layout.over, found.layout.used) == (11, 61)
    longer = replace(house, strips=(replace(house.strips[0], end=61), house.strips[1]))
    assert solved(longer, Watch()).layout.over == 0
