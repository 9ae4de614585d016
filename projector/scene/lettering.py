"""Letters laid out without any font: how much room a line takes, blocks of lines, and a free place for a block."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache

from jobs.model.records import dataclass
from projector.scene.boxes import Box, around
from projector.scene.marks import CLEAR_IN, Kind, Mark, Point, Stroke, Text

DESCENT = 0.32
"""What hangs below the baseline, as a share of the cap height."""

_NARROW = frozenset("iljftrI.,:;!'|()[]/\\`-{} ")
_WIDE = frozenset("mwMW@%")


def _advance(letter: str) -> float:
    if letter in _NARROW:
        return 0.56
    if letter in _WIDE or ord(letter) > 0x2E80:
        return 1.4
    return 1.08 if letter.isupper() or letter == "&" else 0.92


@lru_cache(maxsize=4096)
def _advances(text: str) -> float:
    return sum(_advance(letter) for letter in text)


def text_width(text: str, height: float) -> float:
    """Width in inches that ``text`` takes at most at a cap height of ``height`` inches."""
    return height * _advances(text)


def text_box(text: str, at: Point, height: float) -> Box:
    """Room of an upright line of letters whose cap-height box is centred at ``at``, tails and accents included."""
    cap = around(at, text_width(text, height), height)
    return Box(cap.left, cap.near - DESCENT * height, cap.right, cap.far + DESCENT * height)


def box_of(text: Text) -> Box:
    """Room of an upright text mark."""
    return text_box(text.text, text.at, text.height)


def wrapped(text: str, height: float, width: float) -> tuple[str, ...]:
    """The text in lines no wider than ``width`` inches, broken between words; a word that is wider stands alone.

    A number keeps its fraction, its unit and what it is counted of, as long as they fit: "12 / 3/8 in" is misread.
    """
    lines: list[str] = []
    for word in _unbroken(text, height, width):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, height) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


_TORN = re.compile(r"(?<=\d) (?=\d+/\d)|(?<=\d) (?=(?:in|yd|ft|mm|cm|m)\b)|(?<=\d) (?=of \d)|(?<=\d of) (?=\d)")


def _unbroken(text: str, height: float, width: float) -> Iterator[str]:
    """The words of a text, those that only tell something together as one."""
    for part in _TORN.sub("\0", text).split():
        whole = part.replace("\0", " ")
        yield from (whole,) if text_width(whole, height) <= width else part.split("\0")


def shortened(text: str, height: float, width: float) -> str:
    """The text, or as much of its beginning as fits ``width`` inches, with two points to show that it goes on."""
    if text_width(text, height) <= width:
        return text
    for letters in range(len(text) - 1, 0, -1):
        short = text[:letters].rstrip() + ".."
        if text_width(short, height) <= width:
            return short
    return ""


Direction = tuple[int, int]
"""Along x and y of the table: -1, 0 or +1 each, one of them 0."""
MIDDLE: Direction = (0, 0)
_LEADING_IN = 0.1
"""Dark between the lines of a block, over and above their tails and accents."""


@dataclass(frozen=True)
class Line:
    """One line of a block.

    ``pointing`` puts a chevron at each side of it, that points so along x and y of the table; none where both are 0.
    """

    kind: Kind
    text: str
    height: float
    pointing: Direction = MIDDLE

    @property
    def chevron_width(self) -> float:
        return (1.0 if self.pointing[1] else 0.5) * self.height

    @property
    def chevron_off(self) -> float:
        """Dark between the word and a chevron."""
        return 0.5 * self.height

    @property
    def width(self) -> float:
        sides = 2 * (self.chevron_width + self.chevron_off) if self.pointing != MIDDLE else 0.0
        return text_width(self.text, self.height) + sides

    @property
    def depth(self) -> float:
        return self.height * (1 + 2 * DESCENT)

    def marks(self, middle: Point) -> tuple[Mark, ...]:
        """The letters and chevrons with the middle of the line at ``middle``."""
        x, y = middle
        word = Text(self.kind, self.text, middle, self.height)
        if self.pointing == MIDDLE:
            return (word,)
        reach = text_width(self.text, self.height) / 2 + self.chevron_off + self.chevron_width / 2
        return (word, self._chevron(x - reach, y), self._chevron(x + reach, y))

    def _chevron(self, x: float, y: float) -> Stroke:
        right, away = self.pointing
        if away:
            side, tip, tail = self.chevron_width / 2, y + away * self.height / 4, y - away * self.height / 4
            return Stroke(Kind.TOP, ((x - side, tail), (x, tip), (x + side, tail)))
        tip, tail = x + right * self.chevron_width / 2, x - right * self.chevron_width / 2
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


_STEP_IN = 1.0
_AWAY_IN = 8.0
"""So far from its first free place a block goes to lie on fewer motifs."""


@dataclass(frozen=True)
class Room:
    """A region for labels, the boxes taken in it already, and those of motifs, over which letters are hard to read."""

    region: Box
    taken: tuple[Box, ...] = ()
    motifs: tuple[Box, ...] = ()

    def with_taken(self, *boxes: Box) -> Room:
        """The room with these boxes taken too."""
        return replace(self, taken=self.taken + boxes)

    def is_free(self, box: Box) -> bool:
        """Whether a box lies inside the region and clear of all that is taken."""
        clear = box.grown(CLEAR_IN)
        return self.region.holds(box) and not any(clear.overlaps(other) for other in self.taken)

    def covered(self, box: Box) -> float:
        """Square inches of a box that lie on motifs."""
        shared = (box.cut_to(other) for other in self.motifs if box.overlaps(other))
        return sum(part.width * part.depth for part in shared if part is not None)


@dataclass(frozen=True)
class Fitted:
    """A placed block: its marks and the box they fill."""

    marks: tuple[Mark, ...]
    box: Box


def fit(blocks: Iterable[Block], room: Room, towards: Direction = MIDDLE, start: float = 0.0) -> Fitted | None:
    """The first block that finds a free place, nearest the end of the room that lies in this direction, or its middle.

    Places are tried from that end inwards and, at each, from the middle outwards; ``start`` keeps that many inches free
    at the end, when there is room. Of the free places near the first, the one least on motifs is taken. None when no
    block fits.
    """
    for block in blocks:
        places = _places(block, room.region, towards, start)
        first = next((box for box in places if room.is_free(box)), None)
        if first is not None:
            box = _calmest(first, places, room)
            return Fitted(block.marks(box), box)
    return None


def _calmest(first: Box, places: Iterator[Box], room: Room) -> Box:
    """The free place not far from the first that lies least on motifs; of several on none, the first."""
    best, least = first, room.covered(first)
    x, y = first.middle
    for box in places if least else ():
        near = abs(box.middle[0] - x) <= _AWAY_IN and abs(box.middle[1] - y) <= _AWAY_IN
        if near and (covered := room.covered(box)) < least and room.is_free(box):
            best, least = box, covered
            if not least:
                break
    return best


def _places(block: Block, region: Box, towards: Direction, start: float) -> Iterator[Box]:
    slack_x, slack_y = region.width - block.width, region.depth - block.depth
    if slack_x < 0 or slack_y < 0:
        return
    x, y = region.middle
    right, away = towards
    if away:
        for dy in _inwards(slack_y, away, start):
            for dx in _outwards(slack_x / 2, 0.0):
                yield around((x + dx, y + dy), block.width, block.depth)
        return
    for dx in _inwards(slack_x, right, start) if right else _outwards(slack_x / 2, 0.0):
        for dy in _outwards(slack_y / 2, 0.0):
            yield around((x + dx, y + dy), block.width, block.depth)


def _outwards(reach: float, first: float) -> Iterator[float]:
    yield first
    step = _STEP_IN
    while step < reach:
        yield first + step
        yield first - step
        step += _STEP_IN
    yield reach
    yield -reach


def _inwards(slack: float, towards: int, start: float) -> Iterator[float]:
    off = min(start, slack)
    while off < slack:
        yield towards * (slack / 2 - off)
        off += _STEP_IN
    yield -towards * slack / 2
    yield towards * slack / 2
