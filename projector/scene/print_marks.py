"""Rows, columns and match marks of the print, as the job says they lie.

Match marks show where a row meets the seam, so that two edges can be put together. Where two cuts are joined they
stand on their seam lines and show the rows of the column at or next beyond that line, drop included: two seam lines
that meet lie whole columns apart on the cloth, and so do these columns, so the marks of two joined cuts meet.
Elsewhere they stand at the printed edge (the inner edge of the selvedge strip), or one seam allowance inside the cloth
where that is more, as two edges of cloth are first compared there, even where that side is hemmed; a side that is slit
has none, and neither has one at an end of the piece.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from calibration.registration.lattice import PrintLattice
from jobs.cutting.columns import columns_across, selvedge_at
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge
from jobs.model.piece import Piece
from jobs.model.records import dataclass
from projector.scene.boxes import Box, around, with_gaps
from projector.scene.lit_stop import LitStop, steps_within
from projector.scene.marks import MATCH_APART_IN, MATCH_HALF_IN, PLUS_HALF_IN, PLUS_SHARE, Kind, Point, Stroke

MOTIF_SHARE = 0.5
"""How much of a repeat a motif takes, when nothing is known of it but its point: letters keep off it where they can."""

FINE_IN = 2.0
"""Motif points of a row or column no farther apart than this make it a line by themselves: dots between them would only
cover the print."""


@dataclass(frozen=True)
class Lattice:
    """Where motif points are lit: x of all rows, y of all columns, and the points themselves, in table inches."""

    rows: tuple[float, ...]
    columns: tuple[float, ...]
    crossings: tuple[Point, ...]


def drawn_lines(cloth: Cloth) -> frozenset[Kind]:
    """Rows and columns, as far as they need lines: not where motif points stand so close that they make them."""
    repeat = cloth.repeat
    if repeat is None:
        return frozenset()
    if repeat.across is None:
        return frozenset({Kind.ROW})
    return frozenset(
        kind for kind, apart in ((Kind.ROW, repeat.across), (Kind.COLUMN, repeat.along)) if apart > FINE_IN
    )


def rows_at_column(lit: LitStop, column: int) -> tuple[Fraction, ...]:
    """Positions along the piece of the motif points of one column inside the lit stretch, drop included.

    ``first_row`` of the piece belongs to the column nearest the near selvedge. Empty for plain cloth.
    """
    repeat = lit.cloth.repeat
    if repeat is None:
        return ()
    first = next(use.piece.first_row for use in lit.plan.pieces if use.number == lit.placement.piece)
    length = next(use.piece.length for use in lit.plan.pieces if use.number == lit.placement.piece)
    start, end = max(lit.lit_from, Fraction(0)), min(lit.lit_to, length)
    return steps_within(first + column * lit.cloth.drop * repeat.along, repeat.along, start, end)


def lattice(lit: LitStop) -> Lattice:
    """The motif points of the lit stretch."""
    if lit.cloth.repeat is None:
        return Lattice((), (), ())
    columns = columns_across(lit.cloth)
    by_column = [rows_at_column(lit, number) for number in range(len(columns))]
    rows = sorted({row for rows in by_column for row in rows})
    crossings = tuple(
        (lit.x(row), float(column)) for column, rows in zip(columns, by_column, strict=True) for row in rows
    )
    known = lit.cloth.repeat.across is not None
    return Lattice(tuple(lit.x(row) for row in rows), tuple(map(float, columns)) if known else (), crossings)


def motif_boxes(lit: LitStop) -> tuple[Box, ...]:
    """Where motifs are taken to lie: about each motif point, ``MOTIF_SHARE`` of the repeat each way."""
    repeat = lit.cloth.repeat
    if repeat is None or repeat.across is None:
        return ()
    along, across = MOTIF_SHARE * float(repeat.along), MOTIF_SHARE * float(repeat.across)
    return tuple(around(point, along, across) for point in lattice(lit).crossings)


def row_marks(lit: LitStop, gone: tuple[Box, ...]) -> tuple[Stroke, ...]:
    """Rows, columns and a plus at each motif point, where the cloth is not ``gone`` already.

    On a fine print the pluses alone make them.
    """
    points = lattice(lit)
    near, far = float(lit.cloth.near_selvedge), lit.width - float(lit.cloth.far_selvedge)
    drawn, left, right = drawn_lines(lit.cloth), lit.light.left, lit.light.right
    rows = tuple(Stroke(Kind.ROW, ((x, near), (x, far))) for x in points.rows if Kind.ROW in drawn)
    columns = tuple(Stroke(Kind.COLUMN, ((left, y), (right, y))) for y in points.columns if Kind.COLUMN in drawn)
    half = _plus_half_in(lit)
    pluses = tuple(
        Stroke(Kind.CROSSING, ends)
        for x, y in points.crossings
        if points.columns and not any(box.left < x < box.right and box.near < y < box.far for box in gone)
        for ends in (((x - half, y), (x + half, y)), ((x, y - half), (x, y + half)))
    )
    return with_gaps(rows + columns, gone) + pluses


def _plus_half_in(lit: LitStop) -> float:
    """Half a plus across: small enough on a small print that pluses stay apart."""
    repeat = lit.cloth.repeat
    if repeat is None:
        return PLUS_HALF_IN
    steps = [float(step) for step in (repeat.along, repeat.across) if step is not None]
    return min(PLUS_HALF_IN, *(PLUS_SHARE * step for step in steps))


def seam_line(lit: LitStop, edge: Edge) -> Fraction:
    """How far inside a selvedge edge of the cut matching is done."""
    side = lit.placement.cut.side_at(edge)
    if side is not None and side.joined:
        return side.line
    return max(selvedge_at(edge, lit.cloth), lit.plan.job.allowed_at(lit.placement.cut.window).seam)


def sides_at_selvedges(cut: Cut) -> tuple[Edge, ...]:
    """The near and the far edge of a cut where these are sides of its panel; rows meet the sides there."""
    return tuple(edge for edge in (Edge.NEAR, Edge.FAR) if cut.side_at(edge) is not None)


def _marked(lit: LitStop) -> Iterator[tuple[float, int]]:
    """Table y of the lines that carry marks, each with the column whose rows they show; a slit side has none."""
    cut, last = lit.placement.cut, len(columns_across(lit.cloth)) - 1
    whole = (Fraction(0), lit.cloth.width)
    for edge in sides_at_selvedges(cut):
        side = cut.side_at(edge)
        joined = side is not None and side.joined
        if joined or edge.at(whole, whole) == lit.placement.at(edge):
            column = _column_at(lit.placement.at(edge, seam_line(lit, edge)), lit.cloth) if joined else None
            yield lit.at(edge, seam_line(lit, edge)), column if column is not None else 0 if edge is Edge.NEAR else last


def _column_at(seam: Fraction, cloth: Cloth) -> int | None:
    """The number of the column at or next beyond a place across the cloth; None where the repeat across is not known.

    The first column is 0; there is none before it at a near seam, though the repeat goes on.
    """
    across = cloth.repeat.across if cloth.repeat is not None else None
    return None if across is None else math.ceil((seam - columns_across(cloth)[0]) / across)


def match_marks(lit: LitStop) -> tuple[Stroke, ...]:
    """Two short bars astride each seam line at every row of the cut; the row runs between them."""
    marks: list[Stroke] = []
    for y, column in _marked(lit):
        for row in rows_at_column(lit, column):
            if not lit.placement.start <= row <= lit.placement.end:
                continue
            for side in (-1, 1):
                x = lit.x(row) + side * MATCH_APART_IN / 2
                marks.append(Stroke(Kind.MATCH, ((x, y - MATCH_HALF_IN), (x, y + MATCH_HALF_IN))))
    return tuple(marks)


class NoLattice(ValueError):  # noqa: N818
    """The cloth has no lattice to be laid by: it is plain, or its repeat across is not known."""

    def __init__(self, plain: bool) -> None:
        super().__init__("the cloth is plain" if plain else "the repeat across is not given")
        self.plain = plain


def lattice_of(cloth: Cloth, piece: Piece | None = None) -> PrintLattice:
    """Rows and columns of the print on a piece, in piece inches; row 0 is its ``first_row`` (0 without a piece).

    Column 0 is the whole column nearest the near selvedge. Raises NoLattice for plain cloth and without ``across``.
    """
    if cloth.repeat is None or cloth.repeat.across is None:
        raise NoLattice(plain=cloth.repeat is None)
    return PrintLattice(
        along_in=float(cloth.repeat.along),
        across_in=float(cloth.repeat.across),
        width_in=float(cloth.width),
        first_column_in=float(columns_across(cloth)[0]),
        first_row_in=float(piece.first_row) if piece else 0.0,
        drop=float(cloth.drop),
    )
