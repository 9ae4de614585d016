"""Leftovers: usable cloth that no cut uses, its edges and its size."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.lengths import show_cut
from projector.scene.block import Block, Line
from projector.scene.boxes import Box
from projector.scene.fitting import Fitted, Room, fit
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.sizes import CLEAR_IN, LABEL_IN, LEAST_LABEL_IN, LEAST_LEFTOVER_IN, NAME_IN, SHARED_IN


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
        blocks = (_block(size, height) for height in (NAME_IN, LABEL_IN, LEAST_LABEL_IN))
        placed = fit(blocks, room, 0) if _is_wide(box) else None
        if placed is not None:
            found.append(placed)
    return tuple(found)


def size_of(length: Fraction, unit: Unit) -> str:
    """A leftover's length, rounded down (to 1/4 in, 1 mm) so that it never promises cloth that is not there."""
    step = Fraction(1, 4) if unit is Unit.INCH else Fraction(10, 254)
    return show_cut(length // step * step, unit)


def _block(size: str, height: float) -> Block:
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
