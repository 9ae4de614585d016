"""The planner with flaws, against trying every order and against a constraint solver."""

import random
from collections import Counter
from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from jobs.packing.engines.one_roll import beam_order, exact_order, shortest, shortest_possible
from jobs.packing.rolls import Roll, Shape, end_in_order, starts_in_order


@st.composite
def problems(draw: st.DrawFn) -> tuple[Roll, list[Shape]]:
    repeat = draw(st.sampled_from([0, 1, 3, 7, 12, 30]))
    shape = st.builds(Shape, st.integers(1, 25), st.integers(0, max(0, repeat - 1)))
    at, flaws = 0, []
    for gap, size in draw(st.lists(st.tuples(st.integers(1, 30), st.integers(0, 4)), max_size=4)):
        flaws.append((at + gap, at + gap + size))
        at += gap + size
    roll = Roll(repeat, draw(st.integers(0, max(0, repeat - 1))), draw(st.integers(0, 5)), tuple(flaws))
    return roll, draw(st.lists(shape, min_size=1, max_size=6))


@settings(max_examples=250)
@given(problems())
def test_the_shortest_of_all_orders_is_found_and_proved(problem):
    roll, shapes = problem
    least = min(end_in_order(roll, order) for order in permutations(shapes))
    found = shortest(roll, shapes)
    assert (found.end, found.bound, found.proved) == (least, least, True)
    assert sorted(found.order) == sorted(shapes)
    assert end_in_order(roll, found.order) == least


@settings(max_examples=150)
@given(problems())
def test_a_search_cut_short_stays_honest(problem):
    roll, shapes = problem
    least = min(end_in_order(roll, order) for order in permutations(shapes))
    found = shortest(roll, shapes, most_steps=1)
    assert found.bound <= least <= found.end
    assert found.proved is (found.end == found.bound)
    assert sorted(found.order) == sorted(shapes)


@settings(max_examples=100)
@given(problems())
def test_the_beam_lays_every_shape_and_the_bound_is_below_it(problem):
    roll, shapes = problem
    order = beam_order(roll, Counter(shapes))
    assert sorted(order) == sorted(shapes)
    assert shortest_possible(roll, shapes) <= end_in_order(roll, order)


def solved_by_constraints(roll: Roll, shapes: list[Shape]) -> int:
    """The least end by OR-tools CP-SAT: intervals that do not overlap, each on its own place in the repeat."""
    model = cp_model.CpModel()
    most = end_in_order(roll, shapes)
    ends, intervals = [], []
    for shape in shapes:
        start = model.new_int_var(roll.begin, most, "")
        if roll.repeat:
            count = model.new_int_var(-1000, 1000, "")
            model.add(start == roll.first_row + shape.phase + roll.repeat * count)
        ends.append(start + shape.length)
        intervals.append(model.new_fixed_size_interval_var(start, shape.length, ""))
    intervals += [model.new_fixed_size_interval_var(start, end - start, "") for start, end in roll.flaws]
    model.add_no_overlap(intervals)
    last = model.new_int_var(0, most, "")
    model.add_max_equality(last, ends)
    model.minimize(last)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = 20
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(solver.objective_value)


@pytest.mark.parametrize("seed", range(6))
def test_a_constraint_solver_finds_the_same_length(seed):
    dice = random.Random(seed)
    repeat = dice.choice([0, 8, 20])
    shapes = [Shape(dice.randint(20, 60), dice.randrange(repeat) if repeat else 0) for _ in range(7)]
    roll = Roll(repeat, 3 if repeat else 0, 2, ((70, 74), (150, 151), (230, 240)))
    assert shortest(roll, shapes).end == solved_by_constraints(roll, shapes)


def test_a_dozen_different_cuts_with_flaws_are_proved():
    dice = random.Random(12)
    shapes = [Shape(dice.randint(400, 900), dice.randrange(180)) for _ in range(12)]
    found = shortest(Roll(180, 40, 16, ((700, 716), (2000, 2100), (3333, 3340))), shapes)
    assert found.proved


def test_any_number_of_different_cuts_without_flaws_is_proved():
    dice = random.Random(4)
    shapes = [Shape(dice.randint(400, 900), dice.randrange(180)) for _ in range(400)]
    roll = Roll(180, 40, 16)
    found = shortest(roll, shapes)
    assert found.proved
    assert found.end == end_in_order(roll, found.order) < end_in_order(roll, shapes)
    assert sorted(found.order) == sorted(shapes)


def test_many_different_cuts_with_flaws_still_get_an_order():
    dice = random.Random(3)
    shapes = [Shape(dice.randint(400, 900), dice.randrange(180)) for _ in range(400)]
    roll = Roll(180, 40, 16, tuple((at, at + 20) for at in range(5000, 100_000, 5000)))
    found = shortest(roll, shapes)
    assert sorted(found.order) == sorted(shapes)
    assert found.bound <= found.end


def test_the_given_order_is_kept_when_it_is_as_short_as_any():
    shapes = [Shape(9, 0), Shape(5, 0), Shape(9, 0), Shape(5, 0)]
    assert list(shortest(Roll(0, 0, 0), shapes).order) == shapes


def test_an_exact_search_that_cannot_beat_the_mark_says_so():
    shapes = Counter([Shape(5, 0), Shape(6, 0)])
    roll = Roll(0, 0, 0, ((7, 8),))
    assert exact_order(roll, shapes, beat=13) is None
    # The 6 lies before the flaw at 0 to 6, the 5 after it at 8 to 13; the other way round ends at 14.
    assert exact_order(roll, shapes, beat=14) == (Shape(6, 0), Shape(5, 0))


def test_cuts_never_overlap_one_another_or_a_flaw():
    dice = random.Random(8)
    for _ in range(50):
        shapes = [Shape(dice.randint(3, 20), dice.randrange(6)) for _ in range(6)]
        roll = Roll(6, 2, 1, ((15, 17), (40, 41)))
        order = shortest(roll, shapes).order
        spans = [(at, at + shape.length) for at, shape in zip(starts_in_order(roll, order), order, strict=True)]
        taken = sorted([*spans, *roll.flaws])
        assert all(first[1] <= second[0] for first, second in pairwise(taken))
        assert spans[0][0] >= roll.begin
