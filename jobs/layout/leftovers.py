"""What is left of a piece once its cuts are taken."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from jobs.job import Piece
from jobs.layout.placing import merged_flaws
from jobs.plan import Placement, Span


def leftovers(piece: Piece, squaring: Fraction, placements: Iterable[Placement]) -> tuple[Span, ...]:
    """The stretches after squaring that no cut uses and no flaw spoils, in order along the piece."""
    taken = [(placement.start, placement.end) for placement in placements]
    taken += [(start, end) for start, end in merged_flaws(piece.flaws)]
    spans, free_from = [], squaring
    for start, end in [*sorted(taken), (piece.length, piece.length)]:
        if min(start, piece.length) > free_from:
            spans.append(Span(free_from, min(start, piece.length)))
        free_from = max(free_from, end)
    return tuple(spans)
