"""Leftovers: usable cloth that no cut uses, outlined and with its size."""

from __future__ import annotations

from fractions import Fraction

from jobs.job import Unit
from jobs.lengths import show_cut
from projector.scene.block import Block, Line
from projector.scene.boxes import Box
from projector.scene.fitting import Fitted, Room, fit
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.sizes import CLEAR_IN, LABEL_IN, LEAST_LABEL_IN, LEFTOVER_INSET_IN, NAME_IN


def leftover_outlines(lit: LitStop) -> tuple[Stroke, ...]:
    """An outline a little inside the lit part of each leftover of the piece."""
    outlines = (box.grown(-LEFTOVER_INSET_IN).corners for _, box in _lit_leftovers(lit) if _is_wide(box))
    return tuple(Stroke(Kind.LEFTOVER, (*corners, corners[0])) for corners in outlines)


def leftover_labels(lit: LitStop, taken: tuple[Box, ...]) -> tuple[Fitted, ...]:
    """The size of each lit leftover, as large as it fits, clear of what is taken."""
    found: list[Fitted] = []
    for size, box in _lit_leftovers(lit):
        room = Room(box.grown(-LEFTOVER_INSET_IN - CLEAR_IN), taken)
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
    return min(box.width, box.depth) > 3 * LEFTOVER_INSET_IN


def _lit_leftovers(lit: LitStop) -> tuple[tuple[str, Box], ...]:
    unit = lit.plan.job.unit
    spans = (
        (size_of(span.end - span.start, unit), lit.span(span.start, span.end))
        for use in lit.plan.pieces
        if use.number == lit.placement.piece
        for span in use.leftovers
    )
    return tuple((size, box) for size, box in spans if box is not None)
