"""What one session leaves to the next besides ticks and layings."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from projector.files.settings import LightSettings, write_light
from projector.files.write import CannotWrite
from projector.session.pressing.adjusting import THINNEST, WIDEST
from projector.session.state.confirmed import Confirmed
from projector.session.state.motion import Motion
from projector.session.state.pages import Layer
from projector.session.state.steps import Light


@dataclass(frozen=True)
class Before:
    """``ways`` of panels that were confirmed, how the ``light`` was set, whether the plan was ``made_anew``.

    ``said`` are sentences to be read in the light before the first cut: what the record or the changed job asks for.
    """

    ways: tuple[Confirmed, ...] = ()
    light: Light | None = None
    made_anew: bool = False
    said: tuple[str, ...] = ()


AT_FIRST = Before()

KeepLight = Callable[[Light], None]
"""Remembers how the light is set for the next session; a failure is no reason to stop."""


def forget_light(light: Light) -> None:
    """Remembers nothing: for the demo."""


def keep_light(path: Path, light: Light) -> None:
    """Write the light beside its job; where that cannot be, it is as at first next time, for no tick depends on it."""
    with suppress(CannotWrite):
        write_light(path, settings_of(light))


def settings_of(light: Light) -> LightSettings:
    """What of the light is remembered: not how it was moved, and never that cut lines are dark."""
    dark = tuple(layer.value for layer in Layer if layer in light.hidden and layer is not Layer.CUT_LINES)
    return LightSettings(dark, light.width_step, light.colour)


def light_of(settings: LightSettings) -> Light:
    """The light as it was remembered; widths beyond what the keys give are brought within."""
    width = max(THINNEST, min(WIDEST, settings.wider))
    return Light(Motion(), frozenset(Layer(name) for name in settings.dark), width, settings.colours)


LAYER_NAMES = tuple(layer.value for layer in Layer if layer is not Layer.CUT_LINES)
"""Layers that a file may name as dark."""
