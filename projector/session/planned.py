"""The scene of a stop as planned, kept: most keys at the table change nothing of it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Generic, TypeVar

from jobs.plan import Plan, Stop
from projector.scene.layers import Layers
from projector.scene.marks import Scene
from projector.scene.stop_scene import scene_of_stop

T = TypeVar("T")
KEPT = 32
"""Scenes kept: the stops on both sides of this one, with a few layers hidden."""


@dataclass(frozen=True, eq=False)
class _One(Generic[T]):
    """A frozen value known by being that one: comparing a whole plan takes longer than the scene is worth."""

    value: T

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _One) and other.value is self.value

    def __hash__(self) -> int:
        return id(self.value)


def planned_scene(plan: Plan, stop: Stop, done: frozenset[str], lit_width_in: float | None, layers: Layers) -> Scene:
    """The scene of ``scene_of_stop`` for the same plan and stop, made once."""
    return _scene(_One(plan), _One(stop), done, lit_width_in, layers)


@lru_cache(maxsize=KEPT)
def _scene(
    plan: _One[Plan], stop: _One[Stop], done: frozenset[str], lit_width_in: float | None, layers: Layers
) -> Scene:
    return scene_of_stop(plan.value, stop.value, done=done, lit_width_in=lit_width_in, layers=layers)
