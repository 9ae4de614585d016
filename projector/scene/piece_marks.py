"""What of the piece is no part of the stop's cut: flaws, leftovers, and cuts that are done."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.cuts import Placement
from jobs.model.lengths import show_cut
from projector.scene.boxes import Box
from projector.scene.labels import name_lines
from projector.scene.lettering import Block, Fitted, Line, Room, fit
from projector.scene.lit_stop import LitStop
from projector.scene.marks import (
    CLEAR_IN,
    DONE_IN,
    LABEL_IN,
    LEAST_LABEL_IN,
    LEAST_LEFTOVER_IN,
    NAME_IN,
    SHARED_IN,
    ZIGZAG_DEPTH_IN,
    ZIGZAG_PITCH_IN,
    Hatch,
    Kind,
    Mark,
    Point,
    Stroke,
)


def flaw_marks(lit: LitStop, gone: tuple[Box, ...]) -> tuple[Stroke, ...]:
    """A zigzag outline around the lit part of each flaw, unless it lies on cloth that is ``gone``."""
    return tuple(
        Stroke(Kind.FLAW, zigzag(box)) for _, box in lit.flaws() if not any(other.holds(box) for other in gone)
    )


def zigzag(box: Box) -> tuple[Point, ...]:
    """A closed zigzag polyline just outside a box."""
    points: list[Point] = []
    corners = box.corners
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        length = math.hypot(x1 - x0, y1 - y0)
        teeth = max(1, round(length / ZIGZAG_PITCH_IN))
        out_x, out_y = (y1 - y0) / length * ZIGZAG_DEPTH_IN, (x0 - x1) / length * ZIGZAG_DEPTH_IN
        for tooth in range(teeth):
            at, mid = tooth / teeth, (tooth + 0.5) / teeth
            points.append((x0 + (x1 - x0) * at, y0 + (y1 - y0) * at))
            points.append((x0 + (x1 - x0) * mid + out_x, y0 + (y1 - y0) * mid + out_y))
    return (*points, points[0])


def leftover_outlines(lit: LitStop, cuts: tuple[Stroke, ...]) -> tuple[Stroke, ...]:
    """The true edges of each leftover, as far as they are lit.

    Where one of the ``cuts`` parts it from the stop's cut, that line is its edge: a second one beside it would invite a
    cut along it.
    """
    parted = [stroke.points[0][0] for stroke in cuts if stroke.points[0][0] == stroke.points[1][0]]
    marks: list[Stroke] = []
    for _, (start, end), box in _lit_leftovers(lit):
        if not _is_wide(box):
            continue
        ends = (x for x in (lit.x(start), lit.x(end)) if lit.light.left <= x <= lit.light.right)
        free = (x for x in ends if all(abs(x - cut) > SHARED_IN for cut in parted))
        sides = (0.0, lit.width) if lit.light.far >= lit.width else (0.0,)
        marks += (Stroke(Kind.LEFTOVER, ((x, box.near), (x, box.far))) for x in free)
        marks += (Stroke(Kind.LEFTOVER, ((box.left, y), (box.right, y))) for y in sides)
    return tuple(marks)


def leftover_labels(lit: LitStop, taken: tuple[Box, ...]) -> tuple[Fitted, ...]:
    """The size of each lit leftover, as large as it fits, clear of what is taken."""
    found: list[Fitted] = []
    for size, _, box in _lit_leftovers(lit):
        room = Room(box.grown(-2 * CLEAR_IN), taken)
        blocks = (_leftover_block(size, height) for height in (NAME_IN, LABEL_IN, LEAST_LABEL_IN))
        placed = fit(blocks, room) if _is_wide(box) else None
        if placed is not None:
            found.append(placed)
    return tuple(found)


def size_of(length: Fraction, unit: Unit) -> str:
    """A leftover's length, rounded down (to 1/4 in, 1 mm) so that it never promises cloth that is not there."""
    step = Fraction(1, 4) if unit is Unit.INCH else Fraction(10, 254)
    return show_cut(length // step * step, unit)


def _leftover_block(size: str, height: float) -> Block:
    return Block(tuple(Line(Kind.LEFTOVER, line, height) for line in ("leftover", size)))


def _is_wide(box: Box) -> bool:
    return min(box.width, box.depth) > LEAST_LEFTOVER_IN


def _lit_leftovers(lit: LitStop) -> tuple[tuple[str, tuple[Fraction, Fraction], Box], ...]:
    """The size, the ends along the piece and the lit part of each leftover of the piece."""
    unit = lit.plan.job.unit
    spans = (
        (size_of(span.end - span.start, unit), (span.start, span.end), lit.span(span.start, span.end))
        for use in lit.plan.pieces
        if use.number == lit.placement.piece
        for span in use.leftovers
    )
    return tuple((size, ends, box) for size, ends, box in spans if box is not None)


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
    return fit(_done_blocks(placed, box.width - 2 * CLEAR_IN), Room(box.grown(-CLEAR_IN)))


def _done_blocks(placed: Placement, width: float) -> Iterator[Block]:
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
