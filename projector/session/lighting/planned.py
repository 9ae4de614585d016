"""The scene of a stop as planned, kept: most keys at the table change nothing of it."""

from __future__ import annotations

from functools import lru_cache

from jobs.model.plan import Plan, Stop
from projector.scene.identity import ByIdentity
from projector.scene.marks import Scene
from projector.scene.stop_scene import Layers, scene_of_stop

KEPT = 32
"""Scenes kept: the stops on both sides of this one, with a few layers hidden."""


def planned_scene(plan: Plan, stop: Stop, done: frozenset[str], lit_width_in: float | None, layers: Layers) -> Scene:
    """The scene of ``scene_of_stop`` for the same plan and stop, made once."""
    return _scene(ByIdentity(plan), ByIdentity(stop), done, lit_width_in, layers)


@lru_cache(maxsize=KEPT)
def _scene(
    plan: ByIdentity[Plan], stop: ByIdentity[Stop], done: frozenset[str], lit_width_in: float | None, layers: Layers
) -> Scene:
    return scene_of_stop(plan.value, stop.value, done=done, lit_width_in=lit_width_in, layers=layers)
