"""Blocks of shapes set one under another on pages of paper, with a head and a foot on each."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from enum import StrEnum

from jobs.model.records import dataclass
from projector.light.letters import text_width
from projector.papers.drawing import INK, QUIET, Anchor, Drawing, Path, Raster, Shape, Words

MARGIN_IN = 0.55
HEAD_IN = 0.85
FOOT_IN = 0.75
TEXT_IN = 0.095
LINE_IN = 0.19
PAPER = "#ffffff"
_HELD = "\x00"
_LENGTH = re.compile(r"\d+(?:\.\d+)?(?: \d+/\d+)?(?: (?:in|cm|mm|m|yd|ft)\b)?")


class PaperSize(StrEnum):
    """Sizes of paper."""

    LETTER = "letter"
    A4 = "a4"

    @property
    def size_in(self) -> tuple[float, float]:
        """Width and height in inches (ISO 216 for A4)."""
        return (8.5, 11.0) if self is PaperSize.LETTER else (210 / 25.4, 297 / 25.4)

    @property
    def room_in(self) -> tuple[float, float]:
        """Width and height of what is printed between the margins, head and foot."""
        width, height = self.size_in
        return width - 2 * MARGIN_IN, height - HEAD_IN - FOOT_IN


@dataclass(frozen=True)
class Block:
    """Shapes about their own upper left corner that stay on one page; with ``joined`` the next block does too.

    ``section`` is the name of the part of the paper that it begins.
    """

    height: float
    shapes: tuple[Shape, ...]
    joined: bool = False
    section: str = ""


def moved(shapes: Iterable[Shape], right: float, down: float) -> list[Shape]:
    """The shapes, so many inches to the right and down."""
    found: list[Shape] = []
    for shape in shapes:
        if isinstance(shape, Words | Raster):
            found.append(replace(shape, at=(shape.at[0] + right, shape.at[1] + down)))
        else:
            found.append(Path(tuple((x + right, y + down) for x, y in shape.points), shape.stroke, shape.width,
                              shape.fill, shape.closed, shape.dash))  # fmt: skip
    return found


def wrapped_exactly(text: str, height: float, room: float) -> list[str]:
    """The text in lines no wider than ``room`` inches at this cap height; a word that is wider is broken.

    A length is never parted: 4 1/2 in must not be read as 4.
    """
    lines: list[str] = []
    for word in _whole(text):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer) * height <= room:
            lines[-1] = longer
            continue
        rest = word
        while text_width(rest) * height > room and len(rest) > 1:
            fits = next(n for n in range(len(rest) - 1, 0, -1) if n == 1 or text_width(rest[:n]) * height <= room)
            lines.append(rest[:fits])
            rest = rest[fits:]
        lines.append(rest)
    return lines


def _whole(text: str) -> list[str]:
    """The words of a text, a length with its fraction and unit as one."""
    held = _LENGTH.sub(lambda found: found[0].replace(" ", _HELD), " ".join(text.split()))
    return [word.replace(_HELD, " ") for word in held.split(" ") if word]


def cut_short(text: str, height: float, room: float) -> str:
    """The text, or as much of it as fits ``room`` inches with two points after it."""
    if text_width(text) * height <= room:
        return text
    fits = next((n for n in range(len(text), 0, -1) if text_width(text[:n] + "..") * height <= room), 0)
    return text[:fits].rstrip() + ".."


def heading(text: str) -> Block:
    """The heading of a section, on the page of what follows it."""
    return Block(0.42, (Words(text, (0.0, 0.24), 0.135, INK),), joined=True, section=text)


def paragraph(text: str, room: float, *, indent: float = 0.0, colour: str = INK, height: float = TEXT_IN) -> Block:
    """A paragraph of plain text."""
    lines = wrapped_exactly(text, height, room - indent)
    step = height * 2
    shapes = tuple(Words(line, (indent, step * (n + 0.5)), height, colour) for n, line in enumerate(lines))
    return Block(step * len(lines) + 0.05, shapes)


def listed(mark: str, text: str, room: float, indent: float = 0.38) -> Block:
    """A paragraph with a number or sign before it."""
    body = paragraph(text, room, indent=indent)
    return replace(body, shapes=(Words(mark, (0.0, TEXT_IN), TEXT_IN, QUIET), *body.shapes))


def pages_of(blocks: Sequence[Block], size: PaperSize, title: str, date: str) -> list[Drawing]:
    """The blocks on as many pages as they take. Raises ValueError for a block taller than a page."""
    room = size.room_in[1]
    pages: list[list[Shape]] = [[]]
    begun: list[list[str]] = [[]]
    y = 0.0
    for number, block in enumerate(blocks):
        if block.height > room + 1e-9:
            raise ValueError(f"a block {block.height:.2f} in tall does not fit a page of {room:.2f} in")
        if y and y + _together(blocks, number) > room:
            pages.append([])
            begun.append([])
            y = 0.0
        if block.section:
            begun[-1].append(block.section)
        pages[-1] += moved(block.shapes, MARGIN_IN, HEAD_IN + y)
        y += block.height
    framed = (_framed(shapes, size, title, date, n, len(pages)) for n, shapes in enumerate(pages, 1))
    return [replace(page, sections=tuple(names)) for page, names in zip(framed, begun, strict=True)]


def _together(blocks: Sequence[Block], number: int) -> float:
    """Height of a block and of those that must follow it on the same page."""
    height = blocks[number].height
    while blocks[number].joined and number + 1 < len(blocks):
        number += 1
        height += blocks[number].height
    return height


def _framed(shapes: list[Shape], size: PaperSize, title: str, date: str, number: int, count: int) -> Drawing:
    width, height = size.size_in
    right = width - MARGIN_IN
    day = Words(date, (right, 0.5), TEXT_IN, QUIET, Anchor.END)
    name = cut_short(title, 0.11, right - MARGIN_IN - day.length - 0.3)
    frame: list[Shape] = [
        Words(name, (MARGIN_IN, 0.5), 0.11, INK),
        day,
        Path(((MARGIN_IN, 0.66), (right, 0.66)), INK, 0.012),
        Words(f"page {number} of {count}", (width / 2, height - 0.45), TEXT_IN, QUIET, Anchor.MIDDLE),
    ]
    return Drawing(width, height, tuple(frame + shapes), PAPER, title)
