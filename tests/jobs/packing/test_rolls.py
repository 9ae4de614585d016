"""Where cuts may start. The print is laid out mark by mark here, and looked at as the panels hang."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.model.choices import End
from jobs.model.cuts import Edge, Placement, Way
from jobs.model.piece import Flaw
from jobs.packing.rolls import Roll, Shape, Units, earliest_start, end_in_order, merged_flaws
from jobs.planning.planner import plan_job
from tests.jobs.made import MIRROR_DOWN, below_top, cloth, cut_list, job, window
from tests.jobs.random_jobs import halves, with_piece


def marks_along(first_row: Fraction, repeat: Fraction, offset: Fraction, length: int) -> list[tuple[str, Fraction]]:
    """A print with mirror lines: rows, the mirror images of the rows, and one more mark with its own image.

    Mirror lines lie ``offset`` from every row and half a repeat from each other.
    """
    mirror = first_row + offset
    marks = []
    for count in range(-30, int(length / repeat) + 30):
        base = count * repeat
        marks += [("row", base + first_row), ("row", base + 2 * mirror - first_row)]
        knot = first_row + repeat / 7
        marks += [("knot", base + knot), ("knot", base + 2 * mirror - knot)]
    return marks


def as_hung(placement: Placement, marks: list[tuple[str, Fraction]]) -> set[tuple[str, Fraction]]:
    """What is seen at which depth below the top edge."""
    depths = ((name, abs(at - placement.top)) for name, at in marks if placement.start <= at <= placement.end)
    return set(depths)


@pytest.mark.parametrize("towards", list(End))
@pytest.mark.parametrize("offset", [0, "3/2", "7/3", 5])
@pytest.mark.parametrize("below", [0, 2, "17/4"])
def test_both_panels_of_a_turned_pair_show_the_same_marks_at_the_same_depths(towards, offset, below):
    sheet = replace(MIRROR_DOWN, mirror_offset=Fraction(offset), top_towards=towards)
    made = job(cloth(9, print=sheet), window("Bay", 50, row=below_top(below)), heading=3, hem=5)
    plan = plan_job(with_piece(made, 400, Fraction(7, 3)))
    down = Fraction(offset) if towards is End.FIRST else -Fraction(offset)
    marks = marks_along(Fraction(7, 3), Fraction(9), down, 400)
    by_hand = {placement.cut.hand: placement for placement in plan.placements}
    left, right = by_hand["left"], by_hand["right"]
    assert right.cut.way is Way.TURNED
    seen = as_hung(left, marks)
    assert len(seen) >= 6 + 2 * 6  # 58 in of cut hold at least 6 rows and 12 knots
    assert seen == as_hung(right, marks)
    assert ("row", 3 + Fraction(below)) in seen


@pytest.mark.parametrize("towards", list(End))
def test_upright_rows_land_where_promised(towards):
    sheet = replace(MIRROR_DOWN, top_towards=towards)
    made = job(cloth(9, print=sheet), window("Bay", 50, row=below_top(4)), heading=3, hem=5)
    plan = plan_job(with_piece(made, 400, Fraction(5)))
    for placement in plan.placements:
        if placement.cut.way is Way.UPRIGHT:
            row = placement.top + (7 if placement.cut.top_edge is Edge.FIRST else -7)
            assert (row - 5) % 9 == 0


def test_grains_measure_every_length_exactly():
    units = Units.fitting([Fraction(1, 3), Fraction(5, 16), Fraction(50, 127)])
    assert units.inches(units.count(Fraction(5, 16))) == Fraction(5, 16)
    with pytest.raises(ValueError, match="not a whole number of units"):
        units.count(Fraction(1, 5))


def test_touching_and_overlapping_flaws_become_one():
    flaws = [Flaw(Fraction(a), Fraction(b)) for a, b in [(5, 8), (1, 2), (8, 9), (6, 7), (20, 20)]]
    assert merged_flaws(flaws) == ((1, 2), (5, 9), (20, 20))


def test_a_cut_may_touch_a_flaw_but_not_lie_on_it():
    roll = Roll(repeat=0, first_row=0, begin=0, flaws=((10, 12),))
    assert earliest_start(roll, Shape(10, 0), 0) == 0
    assert earliest_start(roll, Shape(10, 0), 1) == 12
    assert earliest_start(roll, Shape(1, 0), 12) == 12


def test_a_flaw_without_length_is_still_skipped():
    assert earliest_start(Roll(0, 0, 0, ((5, 5),)), Shape(8, 0), 0) == 5


def test_after_a_flaw_the_cut_waits_for_its_row():
    roll = Roll(repeat=7, first_row=2, begin=0, flaws=((10, 12),))
    assert earliest_start(roll, Shape(9, 1), 0) == 17


def test_nothing_to_lay_ends_where_the_roll_begins():
    assert end_in_order(Roll(7, 0, 3), []) == 3


@settings(max_examples=100)
@given(
    st.integers(0, 9),
    st.lists(st.tuples(st.integers(0, 40), st.integers(0, 5)), max_size=4),
    st.integers(1, 12),
    st.integers(0, 8),
    st.integers(0, 50),
)
def test_the_earliest_start_is_the_first_good_one(repeat, spoilt, length, phase, after):
    flaws = merged_flaws(Flaw(Fraction(start), Fraction(start + size)) for start, size in spoilt)
    roll = Roll(repeat, 1, 0, tuple((int(start), int(end)) for start, end in flaws))
    shape = Shape(length, phase)

    def good(start: int) -> bool:
        on_row = not repeat or (start - 1 - phase) % repeat == 0
        return on_row and all(start >= end or start + length <= begin for begin, end in roll.flaws)

    expected = next(start for start in range(after, 200) if good(start))
    assert earliest_start(roll, shape, after) == expected


@settings(max_examples=30)
@given(halves(1, 9), halves(0, 20), halves(0, 9))
def test_a_cut_list_lands_on_rows_for_any_first_row(repeat, below, first_row):
    made = job(cloth(repeat, print=MIRROR_DOWN), window("Bay", 30, row=below_top(below)), heading=2)
    for placement in plan_job(with_piece(made, 400, first_row)).placements:
        step = -placement.cut.top_edge.sense
        assert (placement.top + step * (2 + below) - first_row) % repeat == 0
    assert len(cut_list(made)) == 2
