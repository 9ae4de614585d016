"""A block of labels: lines of letters under each other, some with a chevron at each side, moved as one."""

from __future__ import annotations

from dataclasses import dataclass

from projector.scene.boxes import Box
from projector.scene.lettering import DESCENT, text_width
from projector.scene.marks import Kind, Mark, Point, Stroke, Text

_LEADING_IN = 0.1
"""Dark between the lines of a block, over and above their tails and accents."""


@dataclass(frozen=True)
class Line:
    """One line of a block.

    ``pointing`` -1 or +1 puts a chevron to the left or right at each side of it, ``rising`` one towards the person or
    away from them, 0 none.
    """

    kind: Kind
    text: str
    height: float
    pointing: int = 0
    rising: int = 0

    @property
    def chevron_width(self) -> float:
        return (1.0 if self.rising else 0.5) * self.height

    @property
    def chevron_off(self) -> float:
        """Dark between the word and a chevron."""
        return 0.5 * self.height

    @property
    def width(self) -> float:
        sides = 2 * (self.chevron_width + self.chevron_off) if self.pointing or self.rising else 0.0
        return text_width(self.text, self.height) + sides

    @property
    def depth(self) -> float:
        return self.height * (1 + 2 * DESCENT)

    def marks(self, middle: Point) -> tuple[Mark, ...]:
        """The letters and chevrons with the middle of the line at ``middle``."""
        x, y = middle
        word = Text(self.kind, self.text, middle, self.height)
        if not self.pointing and not self.rising:
            return (word,)
        reach = text_width(self.text, self.height) / 2 + self.chevron_off + self.chevron_width / 2
        return (word, self._chevron(x - reach, y), self._chevron(x + reach, y))

    def _chevron(self, x: float, y: float) -> Stroke:
        if self.rising:
            side, tip, tail = (
                self.chevron_width / 2,
                y + self.rising * self.height / 4,
                y - self.rising * self.height / 4,
            )
            return Stroke(Kind.TOP, ((x - side, tail), (x, tip), (x + side, tail)))
        tip, tail = x + self.pointing * self.chevron_width / 2, x - self.pointing * self.chevron_width / 2
        half = self.height / 2
        return Stroke(Kind.TOP, ((tail, y - half), (tip, y), (tail, y + half)))


@dataclass(frozen=True)
class Block:
    """Lines under each other, the first one farthest from the person."""

    lines: tuple[Line, ...]

    @property
    def width(self) -> float:
        return max(line.width for line in self.lines)

    @property
    def depth(self) -> float:
        return sum(line.depth for line in self.lines) + _LEADING_IN * (len(self.lines) - 1)

    def marks(self, box: Box) -> tuple[Mark, ...]:
        """All marks of the block, centred in a box of its size."""
        found: list[Mark] = []
        x, far = box.middle[0], box.middle[1] + self.depth / 2
        for line in self.lines:
            found += line.marks((x, far - line.depth / 2))
            far -= line.depth + _LEADING_IN
        return tuple(found)
