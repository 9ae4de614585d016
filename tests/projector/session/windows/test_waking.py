"""A computer that slept is told from one that was merely idle, whichever of its clocks stood still."""

from __future__ import annotations

import pytest

from projector.session.windows.waking import SLEPT_S, WAKE_EVERY_S, Wakings


@pytest.mark.parametrize(
    ("steady", "wall", "slept"),
    [
        (1.0, 1.0, 0.0),
        (3.0, 3.0, 0.0),
        (1.0, 600.0, 600.0),  # the steady clock stood still in sleep
        (600.0, 600.0, 600.0),  # it ran on
        (1.0, -3600.0, 0.0),  # the wall clock was put back
        (1.0, SLEPT_S, 0.0),
    ],
)
def test_only_a_long_gap_is_a_sleep(steady: float, wall: float, slept: float) -> None:
    wakings = Wakings(50.0, 1_000_000.0)
    assert wakings.slept_s(50.0 + steady, 1_000_000.0 + wall) == slept
    # The next waking is counted from this one.
    assert wakings.slept_s(51.0 + steady, 1_000_001.0 + wall) == 0.0


def test_wakings_come_far_oftener_than_a_gap_is_long() -> None:
    assert 10 * WAKE_EVERY_S <= SLEPT_S
