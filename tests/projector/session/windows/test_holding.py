"""A key held down: one step, a wait, then ever faster, and never a heap of steps at once."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projector.session.actions import Action
from projector.session.windows.holding import (
    FAST_AFTER_S,
    FAST_PER_S,
    MOST_AT_ONCE,
    REPEAT_AFTER_S,
    SLOW_PER_S,
    Held,
    steps_in,
)


def test_a_tap_is_one_step_however_long_a_hand_takes_over_it() -> None:
    assert [steps_in(held) for held in (0.0, 0.1, 0.3, 0.399)] == [1, 1, 1, 1]


@pytest.mark.parametrize(
    ("held_s", "steps"),
    [
        (0.4, 2),
        # 8 t + (64 - 8) t^2 / 4: 2.16 after 0.2 s, 22 after 1 s, 72 after 2 s; then 64 a second.
        (0.6, 4),
        (1.4, 24),
        (2.4, 74),
        (3.4, 138),
    ],
)
def test_the_pace_grows_evenly_and_then_stays(held_s: float, steps: int) -> None:
    assert steps_in(held_s + 1e-9) == steps


@given(st.floats(0, 20), st.floats(0, 1))
def test_more_time_never_means_fewer_steps_nor_a_leap(held_s: float, more_s: float) -> None:
    gained = steps_in(held_s + more_s) - steps_in(held_s)
    # No faster than the fastest pace, the step that comes at the end of the wait, and the rounding to whole steps.
    assert 0 <= gained <= FAST_PER_S * more_s + 2


def test_the_first_pace_is_slow_enough_to_stop_at_a_step() -> None:
    # 1/8 s a step at first; a person lets go within about a quarter of a second (common practice, no source).
    assert SLOW_PER_S <= 8
    assert REPEAT_AFTER_S >= 0.3
    assert FAST_AFTER_S >= 1


@given(st.lists(st.floats(0.001, 0.3), min_size=1, max_size=60))
def test_steps_are_taken_once_however_often_one_looks(waits: list[float]) -> None:
    held, now, taken = Held(), 100.0, 1
    held.press(Action.LIGHT_LEFT, now)
    for wait in waits:
        now += wait
        due = held.due(now)
        assert 0 <= due <= MOST_AT_ONCE
        taken += due
    assert taken <= steps_in(now - 100.0)


def test_a_light_that_was_slow_does_not_run_on_afterwards() -> None:
    held = Held()
    held.press(Action.LIGHT_AWAY, 0.0)
    assert held.due(4.0) == MOST_AT_ONCE
    assert held.due(4.0) == 0


def test_nothing_is_due_when_nothing_is_held() -> None:
    held = Held()
    assert (held.due(5.0), held.wait_s(5.0)) == (0, None)
    held.press(Action.LIGHT_LEFT, 5.0)
    assert held.wait_s(5.0) == pytest.approx(REPEAT_AFTER_S)
    held.release()
    assert (held.due(9.0), held.wait_s(9.0)) == (0, None)
