"""A key that is held down: how often it counts. Slowly at first, so that one step is one step, then ever faster."""

from __future__ import annotations

from projector.session.actions import AnyAction

REPEAT_AFTER_S = 0.4
"""No step but the first comes sooner."""
SLOW_PER_S, FAST_PER_S = 8.0, 64.0
FAST_AFTER_S = 2.0
"""So long after the second step the fastest pace is reached; it grows evenly until then."""
MOST_AT_ONCE = 8
"""However late they are counted, no more steps than this are taken before the light is shown again."""


def steps_in(held_s: float) -> int:
    """How often a key counts that has been held for so long, its press included.

    After the wait the pace p grows evenly from ``SLOW_PER_S`` to ``FAST_PER_S``, so in time t it makes
    p0 t + (p1 - p0) t^2 / (2 T) steps until T, and p1 a second from then on.
    """
    t = held_s - REPEAT_AFTER_S
    if t < 0:
        return 1
    growing = min(t, FAST_AFTER_S)
    made = SLOW_PER_S * growing + (FAST_PER_S - SLOW_PER_S) * growing**2 / (2 * FAST_AFTER_S)
    return 2 + int(made + FAST_PER_S * (t - growing))


class Held:
    """What the key in hand asks for: when it was pressed, and how many of its steps were taken."""

    def __init__(self) -> None:
        self.action: AnyAction | None = None
        self._since_s, self._taken = 0.0, 0

    def press(self, action: AnyAction, now_s: float) -> None:
        """A key goes down; its first step is taken by whoever saw it."""
        self.action, self._since_s, self._taken = action, now_s, 1

    def release(self) -> None:
        """Nothing is held."""
        self.action = None

    def due(self, now_s: float) -> int:
        """How many steps to take now. Those that would come in a heap, after the light was slow, are let go."""
        if self.action is None:
            return 0
        total = steps_in(now_s - self._since_s)
        steps, self._taken = total - self._taken, total
        return min(max(steps, 0), MOST_AT_ONCE)

    def wait_s(self, now_s: float) -> float | None:
        """How long nothing is due; None when nothing is held."""
        if self.action is None:
            return None
        if now_s - self._since_s < REPEAT_AFTER_S:
            return self._since_s + REPEAT_AFTER_S - now_s
        return 1 / FAST_PER_S
