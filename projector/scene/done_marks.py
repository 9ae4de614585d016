"""Cuts that are done: hatched, and without any cut line."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.plan import Placement
from projector.scene.block import Block, Line
from projector.scene.boxes import Box
from projector.scene.fitting import Fitted, Room, fit
from projector.scene.labels import name_lines
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Hatch, Kind, Mark, Point
from projector.scene.sizes import CLEAR_IN, DONE_IN, LEAST_LABEL_IN, NAME_IN

_SCALES = (1.0, 0.75, 0.5, 0.3, 0.2)


def done_marks(lit: LitStop, done: frozenset[str], letters: bool) -> tuple[Mark, ...]:
    """Hatching over the lit part of each cut done on this piece, with DONE and its name in a clear window."""
    marks: list[Mark] = []
    for placed, box in lit.done(done):
        label = _label(placed, box) if letters else None
        hole = None if label is None else label.box.grown(CLEAR_IN).cut_to(box)
        marks.append(Hatch(Kind.DONE, box.corners if hole is None else _with_hole(box, hole)))
        marks += () if label is None else label.marks
    return tuple(marks)


def _label(placed: Placement, box: Box) -> Fitted | None:
    return fit(_blocks(placed, box.width - 2 * CLEAR_IN), Room(box.grown(-CLEAR_IN)), 0)


def _blocks(placed: Placement, width: float) -> Iterator[Block]:
    for scale in _SCALES:
        word = Line(Kind.DONE, "DONE", max(DONE_IN * scale, LEAST_LABEL_IN))
        height = max(NAME_IN * scale, LEAST_LABEL_IN)
        lines = name_lines(placed.cut, height, width)
        yield Block((word, *(Line(Kind.DONE, line, height) for line in lines)))
    yield Block((word,))


def _with_hole(box: Box, hole: Box) -> tuple[Point, ...]:
    """The outline of a box with a hole, joined by a slit from its left side, so that hatching runs on around it."""
    slit = hole.middle[1]
    near_left, near_right, far_right, far_left = box.corners
    return (
        near_left,
        near_right,
        far_right,
        far_left,
        (box.left, slit),
        (hole.left, slit),
        (hole.left, hole.far),
        (hole.right, hole.far),
        (hole.right, hole.near),
        (hole.left, hole.near),
        (hole.left, slit),
        (box.left, slit),
    )
