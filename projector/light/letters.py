"""Letters as outlines, from the open font that comes with the window library (read here without loading it)."""

from __future__ import annotations

import importlib.util
import unicodedata
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from projector.light.raster.arrays import Array, Indices

FONT_FILE = "freesansbold.ttf"
FLATNESS = 1 / 2000
"""Farthest that a flattened curve may lie from the true one, in cap heights: 0.1 px for letters of 200 px."""


@dataclass(frozen=True)
class Outlines:
    """Closed outlines of a line of letters in cap heights: baseline from (0, 0) to (``width``, 0), y up.

    ``points`` (n, 2); outline k begins at ``starts[k]``; ``glyphs[k]`` counts the letter it belongs to.
    """

    points: Array
    starts: Indices
    glyphs: Indices
    width: float

    @cached_property
    def letters(self) -> Indices:
        """The first outline of each letter that has any."""
        return np.flatnonzero(np.diff(self.glyphs, prepend=-1))


@lru_cache(maxsize=1024)
def outline_of(text: str) -> Outlines:
    """Outlines of one line of text; a letter that the font lacks becomes an open box."""
    contours: list[Array] = []
    glyphs: list[int] = []
    pen = 0.0
    for number, letter in enumerate(_shown(text)):
        shape, advance = _glyph(letter)
        contours += [contour + np.array([pen, 0.0]) for contour in shape]
        glyphs += [number] * len(shape)
        pen += advance
    sizes = np.array([len(contour) for contour in contours], np.intp)
    points = np.concatenate(contours) if contours else np.zeros((0, 2))
    return Outlines(points, np.cumsum(sizes) - sizes, np.array(glyphs, np.intp), pen)


@lru_cache(maxsize=8192)
def text_width(text: str) -> float:
    """Width of a line of text in cap heights."""
    return sum(_glyph(letter)[1] for letter in _shown(text))


def missing(text: str) -> set[str]:
    """The letters of a text that cannot be lit as themselves."""
    return {letter for letter in _shown(text) if ord(letter) not in _font().characters}


def _shown(text: str) -> str:
    """The text with accents joined to their letters and every kind of white space as a plain space."""
    return "".join(" " if letter.isspace() else letter for letter in unicodedata.normalize("NFC", text))


@dataclass(frozen=True)
class _Font:
    characters: dict[int, str]
    glyphs: Any
    cap_height: float


@lru_cache(maxsize=1)
def _font() -> _Font:
    # fontTools is loaded only when letters are asked for: most commands light nothing.
    from fontTools.pens.boundsPen import BoundsPen
    from fontTools.ttLib import TTFont

    font = TTFont(font_path(), lazy=True)
    glyphs = font.getGlyphSet()
    characters = font.getBestCmap()
    bounds = BoundsPen(glyphs)
    glyphs[characters[ord("H")]].draw(bounds)
    return _Font(characters, glyphs, float(bounds.bounds[3]))


def font_path() -> Path:
    """Where the font file lies; FileNotFoundError when the window library carries none."""
    spec = importlib.util.find_spec("pygame")
    for folder in (spec.submodule_search_locations or []) if spec else []:
        path = Path(folder) / FONT_FILE
        if path.is_file():
            return path
    raise FileNotFoundError(f"{FONT_FILE} is not beside the installed pygame package")


@lru_cache(maxsize=2048)
def _glyph(letter: str) -> tuple[tuple[Array, ...], float]:
    """Closed outlines of one letter and how far the next one stands from it, in cap heights."""
    font = _font()
    name = font.characters.get(ord(letter))
    if name is None:
        return _BOX, 0.9
    from fontTools.pens.recordingPen import DecomposingRecordingPen

    pen = DecomposingRecordingPen(font.glyphs)
    font.glyphs[name].draw(pen)
    shape = tuple(contour / font.cap_height for contour in _contours(pen.value))
    return shape, font.glyphs[name].width / font.cap_height


_BOX = (
    np.array([(0.1, 0.0), (0.1, 1.0), (0.8, 1.0), (0.8, 0.0)]),
    np.array([(0.22, 0.12), (0.68, 0.12), (0.68, 0.88), (0.22, 0.88)]),
)


def _contours(steps: list[tuple[str, tuple[Any, ...]]]) -> list[Array]:
    """Recorded drawing steps as closed polygons."""
    from fontTools.pens.basePen import decomposeQuadraticSegment

    tolerance = FLATNESS * _font().cap_height
    contours: list[Array] = []
    points: list[tuple[float, float]] = []
    for step, where in steps:
        if step == "qCurveTo":
            if where[-1] is None:  # an outline without any point on the curve starts between its last and first
                (ax, ay), (bx, by) = where[0], where[-2]
                points = [((ax + bx) / 2, (ay + by) / 2)]
                where = (*where[:-1], points[0])
            for control, end in decomposeQuadraticSegment(where):
                points += _curve(points[-1], control, end, tolerance)
        elif step in ("moveTo", "lineTo"):
            points.append(where[0])
        elif len(points) > 2:
            contours.append(np.array(points[:-1] if points[0] == points[-1] else points, np.float64))
            points = []
        else:
            points = []
    return contours


def _curve(
    start: tuple[float, float], control: tuple[float, float], end: tuple[float, float], tolerance: float
) -> list[tuple[float, float]]:
    """Points of a quadratic curve after its start. In n equal steps it strays |start - 2 control + end| / (4 n^2)."""
    a, b, c = np.array(start), np.array(control), np.array(end)
    bend = float(np.hypot(*(a - 2 * b + c)))
    share = np.linspace(0.0, 1.0, max(int(np.ceil(np.sqrt(bend / (4 * tolerance)))), 1) + 1)[1:, None]
    curve = (1 - share) ** 2 * a + 2 * share * (1 - share) * b + share**2 * c
    return [(float(x), float(y)) for x, y in curve]
