"""Changes of the light that can be taken back: what it was before each, and when that was."""

from __future__ import annotations

from dataclasses import dataclass, field

from projector.session.state.motion import Motion
from projector.session.state.pages import Layer

MOST_KEPT = 200
"""Older changes of the light than so many are not taken back any more."""


@dataclass(frozen=True)
class Light:
    """How a person has set the light: moved, layers hidden, lines wider, other colours."""

    motion: Motion = field(default_factory=Motion)
    hidden: frozenset[Layer] = frozenset()
    width_step: int = 0
    colour: int = 0


@dataclass(frozen=True)
class Moment:
    """How many ticks, layings and confirmed ways there were: it orders what is taken back, the last thing first."""

    ticks: int
    layings: int
    ways: int

    def is_not_before(self, other: Moment) -> bool:
        """Whether nothing was ticked, laid or confirmed since."""
        return self.ticks >= other.ticks and self.layings >= other.layings and self.ways >= other.ways


@dataclass(frozen=True)
class LightStep:
    """One change of the light, or a run of like ones: what it was called, the light ``before`` it, and when."""

    what: str
    before: Light
    moment: Moment
