"""What is left of a piece once its cuts are taken."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from jobs.job import Cloth, Piece
from jobs.layout.placing import merged_flaws
from jobs.plan import Placement, Span

KEPT_IN = Fraction(5)
"""Leftovers from this length on are listed one by one (common practice, no source: 5 to 6 in are kept)."""


def leftovers(piece: Piece, squaring: Fraction, placements: Iterable[Placement]) -> tuple[Span, ...]:
    """The stretches after squaring, selvedge to selvedge, that no cut uses and no flaw spoils, in order along it."""
    taken = [(placement.start, placement.end) for placement in placements]
    taken += [(start, end) for start, end in merged_flaws(piece.flaws)]
    return tuple(Span(start, end) for start, end in _between(taken, squaring, piece.length))


def strips_beside(piece: Piece, cloth: Cloth, placements: Iterable[Placement]) -> tuple[Span, ...]:
    """The strips beside narrow cuts, between the selvedges, that no cut uses and no flaw spoils."""
    lengths: dict[tuple[Fraction, Fraction], list[tuple[Fraction, Fraction]]] = {}
    for placement in placements:
        if placement.cut.across is not None:
            lengths.setdefault((placement.start, placement.end), []).append(placement.cut.across)
    found = []
    for (start, end), strips in sorted(lengths.items()):
        for near, far in _between(strips, cloth.selvedge, cloth.width - cloth.selvedge):
            spoilt = [
                (flaw.start, flaw.end)
                for flaw in piece.flaws
                if flaw.across is None or (flaw.across[0] < far and near < flaw.across[1])
            ]
            found += [Span(first, last, (near, far)) for first, last in _between(spoilt, start, end)]
    return tuple(found)


def with_rows(spans: Iterable[Span], piece: Piece, cloth: Cloth) -> tuple[Span, ...]:
    """The spans with the rows of the print that lie inside them."""
    if cloth.repeat is None:
        return tuple(spans)
    return tuple(replace(span, rows=rows_inside(span, piece.first_row, cloth.repeat.along)) for span in spans)


def rows_inside(span: Span, first_row: Fraction, along: Fraction) -> tuple[Fraction, ...]:
    """Positions along the piece, from the span's start to its end, of the rows of the first column."""
    low, high = math.ceil((span.start - first_row) / along), math.floor((span.end - first_row) / along)
    return tuple(first_row + number * along for number in range(low, high + 1))


def _between(
    taken: Iterable[tuple[Fraction, Fraction]], start: Fraction, end: Fraction
) -> list[tuple[Fraction, Fraction]]:
    """What lies between stretches that are taken, from ``start`` to ``end``."""
    free, free_from = [], start
    for low, high in [*sorted(taken), (end, end)]:
        if min(low, end) > free_from:
            free.append((free_from, min(low, end)))
        free_from = max(free_from, high)
    return free
