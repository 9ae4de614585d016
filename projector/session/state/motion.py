"""How far the person has moved and turned the light on the cloth: exact steps, one affine map at the end."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.numbers import show_number
from projector.scene.marks import Point
from projector.scene.moved import Affine, turned_about

STEPS_PER_INCH = 64
STEPS_PER_DEGREE = 20


def middle_of(area: tuple[Point, ...]) -> Point:
    """The point the light is turned about: the mean of the corners of the part of the table that is surely lit."""
    return (sum(x for x, _ in area) / len(area), sum(y for _, y in area) / len(area)) if area else (0.0, 0.0)


@dataclass(frozen=True)
class Motion:
    """Shift in 64ths of an inch (right, away) and turn in steps of 0.05 degree counter-clockwise."""

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
        parts = [
            *_shift(self.dx, "right", "left", unit),
            *_shift(self.dy, "away", "nearer", unit),
        ]
        if self.turn_steps:
            parts.append(f"turned {abs(float(self.turn_deg)):.2f} degrees {'left' if self.turn_steps > 0 else 'right'}")
        return ", ".join(parts)


def _shift(length: Fraction, onward: str, back: str, unit: Unit) -> list[str]:
    if not length:
        return []
    return [f"{_size(abs(length), unit)} {onward if length > 0 else back}"]


def _size(length: Fraction, unit: Unit) -> str:
    """A shift as read off a tape: whole 64ths in inches, tenths of a millimetre otherwise."""
    if unit is not Unit.INCH:
        return f"{float(length * Fraction(254, 10)):.1f} mm"
    return f"{show_number(length)} in"
