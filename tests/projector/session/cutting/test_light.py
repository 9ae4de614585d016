"""The light moved by exact steps, and what is remembered of how a person set it."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.model.choices import Unit
from projector.session.actions import NUDGES_64THS, Action
from projector.session.cutting.light import Motion


@given(st.lists(st.sampled_from(sorted(NUDGES_64THS)), max_size=50))
def test_nudges_in_any_order_add_up_exactly_and_can_be_walked_back(nudges: list[Action]) -> None:
    there = Motion()
    for nudge in nudges:
        there = there.shifted(*NUDGES_64THS[nudge])
    assert there.dx == sum((Fraction(NUDGES_64THS[nudge][0], 64) for nudge in nudges), Fraction(0))
    back = there
    for nudge in reversed(nudges):
        right, away = NUDGES_64THS[nudge]
        back = back.shifted(-right, -away)
    assert back.is_still


def test_a_turn_leaves_its_middle_where_it_is() -> None:
    (a, b, c), (d, e, f) = Motion(turn_steps=20).affine((30.0, 20.0))
    assert (a * 30 + b * 20 + c, d * 30 + e * 20 + f) == pytest.approx((30, 20), abs=1e-12)
    # Twenty steps of 0.05 degree are one degree: sin 1 deg = 0.0174524 (any table of sines).
    assert d == pytest.approx(0.0174524, abs=1e-7)


def test_a_motion_is_said_as_a_tape_reads() -> None:
    assert Motion().in_words(Unit.INCH) == ""
    assert Motion(-96, 4, -2).in_words(Unit.INCH) == "1 1/2 in left, 1/16 in away, turned 0.10 degrees right"
