"""Cut lines that may be farther off than a job allows: lit in another way, and labelled with how far."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache

from projector.scene.boxes import Box, box_of_stroke, parted
from projector.scene.identity import ByIdentity
from projector.scene.lettering import box_of, text_box, text_width
from projector.scene.marks import (
    CLEAR_IN,
    GAP_IN,
    LABEL_IN,
    LEAST_LABEL_IN,
    TICK_HALF_IN,
    Kind,
    Mark,
    Point,
    Scene,
    Stroke,
    Text,
)

ErrorOfLine = Callable[[Point, Point], float]
"""How far off, in inches and square to it, the lit line between two places may be."""

CACHED = 16
"""Scenes with their doubts cached: a nudge of the light seldom changes what is said."""
SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
ON_LINE_IN = 0.01


def with_doubt(
    scene: Scene,
    error_of: ErrorOfLine,
    tolerance_in: float,
    words: Callable[[float], str],
    is_lit: Callable[[Box], bool] = lambda box: True,
) -> Scene:
    """The scene with every cut line that may be off by more than ``tolerance_in`` as a doubtful one, ticks included.

    Beside each stands what ``words`` makes of its error in inches, where ``is_lit`` allows and no other letters stand;
    without room the line is changed all the same.
    """
    found = [(line, error_of(*line.points[:2])) for line in _cut_lines(ByIdentity(scene))]
    doubtful = tuple((line, words(error_in)) for line, error_in in found if error_in > tolerance_in)
    return _labelled(ByIdentity(scene), tuple(line for line, _ in found), doubtful, is_lit) if doubtful else scene


@lru_cache(maxsize=CACHED)
def _labelled(
    found: ByIdentity[Scene],
    cut_lines: tuple[Stroke, ...],
    doubtful: tuple[tuple[Stroke, str], ...],
    is_lit: Callable[[Box], bool],
) -> Scene:
    """The scene with these lines in doubt, each with what is said of it; the same as long as the same is said."""
    scene = found.value
    lines = [line for line, _ in doubtful]
    marks = [_doubted(mark, lines) for mark in scene.marks]
    taken = [box_of(mark).grown(CLEAR_IN) for mark in marks if isinstance(mark, Text)]
    taken += [box_of_stroke(line).grown(CLEAR_IN) for line in cut_lines]
    taken += [
        box_of_stroke(mark).grown(CLEAR_IN) for mark in marks if isinstance(mark, Stroke) and mark.kind is Kind.TOP
    ]
    labels: list[Text] = []
    for line, text in doubtful:
        label = _label(line, text, taken, is_lit)
        if label is not None:
            labels.append(label)
            taken.append(box_of(label).grown(CLEAR_IN))
    rooms = tuple(box_of(label).grown(GAP_IN) for label in labels)
    return Scene((*parted(Scene(tuple(marks)), rooms).marks, *labels))


@lru_cache(maxsize=CACHED)
def _cut_lines(scene: ByIdentity[Scene]) -> tuple[Stroke, ...]:
    strokes = [mark for mark in scene.value.marks if isinstance(mark, Stroke) and mark.kind is Kind.CUT]
    return tuple(stroke for stroke in strokes if math.dist(*stroke.points[:2]) > 3 * TICK_HALF_IN)


def _doubted(mark: Mark, lines: list[Stroke]) -> Mark:
    """A cut line of ``lines``, or a tick of one, in doubt; any other mark as it is."""
    if not isinstance(mark, Stroke) or mark.kind is not Kind.CUT:
        return mark
    (x0, y0), (x1, y1) = mark.points[:2]
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    return replace(mark, kind=Kind.CUT_DOUBTFUL) if any(_is_on(middle, line) for line in lines) else mark


def _is_on(point: Point, line: Stroke) -> bool:
    """Whether a place lies on the line, or on what it would be if it went on."""
    (x0, y0), (x1, y1) = line.points[:2]
    off = abs((x1 - x0) * (point[1] - y0) - (y1 - y0) * (point[0] - x0)) / math.dist((x0, y0), (x1, y1))
    return off < ON_LINE_IN


def _label(line: Stroke, text: str, taken: list[Box], is_lit: Callable[[Box], bool]) -> Text | None:
    (x0, y0), (x1, y1) = line.points[:2]
    for height in (LABEL_IN, LEAST_LABEL_IN):
        off = text_width(text, height) / 2 + CLEAR_IN + GAP_IN
        for share in SHARES:
            for side in (1, -1):
                at = (x0 + (x1 - x0) * share + side * off, y0 + (y1 - y0) * share)
                box = text_box(text, at, height)
                if is_lit(box) and not any(box.overlaps(other) for other in taken):
                    return Text(Kind.LETTER, text, at, height)
    return None
