"""Small prints: their pluses stay apart."""

from fractions import Fraction

import pytest

from jobs.model.print import Repeat
from projector.scene.marks import PLUS_HALF_IN, Kind
from projector.scene.stop_scene import scene_of_stop
from tests.projector.scene.plans import Wish, plan_of

F = Fraction


def pluses_of(repeat: Repeat) -> list[float]:
    """Lengths of the strokes of all pluses."""
    plan = plan_of(Wish(repeat=repeat, first_row=F(1, 4)))
    crossings = scene_of_stop(plan, plan.stops[0]).of(Kind.CROSSING)
    assert crossings
    return [abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in (mark.points for mark in crossings)]


def test_pluses_of_a_small_print_take_no_more_than_two_fifths_of_the_way_to_the_next():
    # A fifth of the smaller repeat to each side; labels may shorten some.
    assert max(pluses_of(Repeat(F(3, 4), F(1)))) == pytest.approx(2 * 0.2 * 0.75)


def test_pluses_of_a_usual_print_are_as_large_as_ever():
    assert max(pluses_of(Repeat(F(3), F(3)))) == pytest.approx(2 * PLUS_HALF_IN)
