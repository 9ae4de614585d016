"""How a person has set the light: moved and turned it, hidden layers, widened lines, chosen colours."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import field, replace
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from pathlib import Path

from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.numbers import show_number
from jobs.model.records import dataclass
from projector.files.settings import LightSettings, write_light
from projector.files.write import CannotWrite
from projector.light.appearance import Illumination
from projector.light.choosing import Choice, ranked_choices
from projector.light.styles import name_of_colour
from projector.scene.marks import Point
from projector.scene.moved import Affine, turned_about
from projector.scene.stop_scene import Layers
from projector.session.actions import NUDGES_64THS, TURNS, Action

STEPS_PER_INCH = 64
STEPS_PER_DEGREE = 20
THINNEST, WIDEST = -4, 8


class Layer(StrEnum):
    """What can be hidden to see the cloth better."""

    CUT_LINES = "cut lines"
    ROWS = "rows and columns"
    MATCH_MARKS = "match marks"
    TRIMS = "trim lines"
    FOLDS = "fold lines"
    PINS = "pin places"
    LETTERS = "letters"


LAYER_NAMES = tuple(layer.value for layer in Layer if layer is not Layer.CUT_LINES)
"""Layers that a file may name as dark."""


@dataclass(frozen=True)
class Motion:
    """Exact steps: shift in 64ths of an inch (right, away) and turn in 0.05 degree counter-clockwise."""

    right_64ths: int = 0
    away_64ths: int = 0
    turn_steps: int = 0

    @property
    def dx(self) -> Fraction:
        """Inches to the right, exact."""
        return Fraction(self.right_64ths, STEPS_PER_INCH)

    @property
    def dy(self) -> Fraction:
        """Inches away from the person, exact."""
        return Fraction(self.away_64ths, STEPS_PER_INCH)

    @property
    def turn_deg(self) -> Fraction:
        """Degrees counter-clockwise, exact."""
        return Fraction(self.turn_steps, STEPS_PER_DEGREE)

    @property
    def is_still(self) -> bool:
        """Whether the light lies where the calibration puts it."""
        return self == Motion()

    def shifted(self, right_64ths: int, away_64ths: int) -> Motion:
        """The same motion, moved further."""
        return Motion(self.right_64ths + right_64ths, self.away_64ths + away_64ths, self.turn_steps)

    def turned(self, steps: int) -> Motion:
        """The same motion, turned further."""
        return Motion(self.right_64ths, self.away_64ths, self.turn_steps + steps)

    def affine(self, about: Point) -> Affine:
        """The map of table inches to table inches that turns about ``about`` and then shifts."""
        return turned_about(about, float(self.turn_deg), (float(self.dx), float(self.dy)))

    def in_words(self, unit: Unit) -> str:
        """What was moved, in the unit of the job; empty when still."""
        ways = ((self.dx, "right", "left"), (self.dy, "away", "nearer"))
        parts = [f"{_size(abs(by), unit)} {onward if by > 0 else back}" for by, onward, back in ways if by]
        if self.turn_steps:
            parts.append(f"turned {abs(float(self.turn_deg)):.2f} degrees {'left' if self.turn_steps > 0 else 'right'}")
        return ", ".join(parts)


def _size(length: Fraction, unit: Unit) -> str:
    """A shift as read off a tape: whole 64ths in inches, tenths of a millimetre otherwise."""
    if unit is not Unit.INCH:
        return f"{float(length * Fraction(254, 10)):.1f} mm"
    return f"{show_number(length)} in"


@dataclass(frozen=True)
class Light:
    """``width_step`` counts presses of wider (positive) and thinner, ``colour`` presses of the colour key."""

    motion: Motion = field(default_factory=Motion)
    hidden: frozenset[Layer] = frozenset()
    width_step: int = 0
    colour: int = 0

    @property
    def width_factor(self) -> float:
        """How much wider than usual lines are lit."""
        return float(1.2**self.width_step)

    @property
    def layers(self) -> Layers:
        """The layers of the scene that are not hidden."""
        return Layers(
            cut=Layer.CUT_LINES not in self.hidden,
            rows=Layer.ROWS not in self.hidden,
            match=Layer.MATCH_MARKS not in self.hidden,
            trims=Layer.TRIMS not in self.hidden,
            folds=Layer.FOLDS not in self.hidden,
            letters=Layer.LETTERS not in self.hidden,
            pins=Layer.PINS not in self.hidden,
        )


LAYERS: dict[Action, Layer] = {
    Action.CUT_LINES: Layer.CUT_LINES,
    Action.ROWS: Layer.ROWS,
    Action.MATCH_MARKS: Layer.MATCH_MARKS,
    Action.TRIMS: Layer.TRIMS,
    Action.FOLDS: Layer.FOLDS,
    Action.PINS: Layer.PINS,
    Action.LETTERS: Layer.LETTERS,
}

MOVING, BACK, WIDTH, COLOURS = "moving the light", "putting the light back", "the width of lines", "the colours"
RUNS = frozenset({MOVING, WIDTH, COLOURS})
"""A run of presses of these is taken back as one."""


def adjusted(light: Light, action: Action) -> tuple[Light, str]:
    """The light changed as asked, and what that is called; the same light where the action is not about it."""
    if action in LAYERS:
        return replace(light, hidden=light.hidden ^ {LAYERS[action]}), LAYERS[action].value
    if action in NUDGES_64THS:
        return replace(light, motion=light.motion.shifted(*NUDGES_64THS[action])), MOVING
    if action in TURNS:
        return replace(light, motion=light.motion.turned(TURNS[action])), MOVING
    match action:
        case Action.LIGHT_BACK:
            return replace(light, motion=Motion()), BACK
        case Action.COLOURS:
            return replace(light, colour=light.colour + 1), COLOURS
        case Action.WIDER:
            return replace(light, width_step=min(light.width_step + 1, WIDEST)), WIDTH
        case Action.THINNER:
            return replace(light, width_step=max(light.width_step - 1, THINNEST)), WIDTH
    return light, ""


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


def choice_at(job: Job, presses: int) -> Choice:
    """The colours after so many presses of the colour key, the best for the job's cloth first and after the last."""
    choices = _choices(job)
    return choices[presses % len(choices)]


def colours_in_words(job: Job, presses: int) -> str:
    """Which set of colours that is, and how its cut lines are lit."""
    one = choice_at(job, presses).chosen[0]
    count = len(_choices(job))
    return (
        f"colours {presses % count + 1} of {count}: cut lines {name_of_colour(one.colour)}, "
        f"{one.contrast:.1f} times as bright as the cloth beside them"
    )


@lru_cache(maxsize=4)
def _choices(job: Job) -> tuple[Choice, ...]:
    return ranked_choices(job.cloth.colour, job.cloth.motif_colours, light_on(job))


def light_on(job: Job) -> Illumination:
    """What falls on the table, as the job says."""
    return Illumination(float(job.light.room), float(job.light.projector))
