"""How much room a line of letters takes, known without any font: a little more than a bold sans needs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from projector.scene.boxes import Box, around
from projector.scene.marks import Point, Text

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
