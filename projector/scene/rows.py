"""Rows and columns of the print, as the job says they lie."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting.columns import columns_across
from projector.scene.boxes import Box
from projector.scene.gaps import with_gaps
from projector.scene.lit_stop import LitStop, steps_within
from projector.scene.marks import Kind, Point, Stroke
from projector.scene.sizes import PLUS_HALF_IN, PLUS_SHARE

__all__ = ["Lattice", "columns_across", "lattice", "row_marks", "rows_at_column"]


@dataclass(frozen=True)
class Lattice:
    """Where motif points are lit: x of all rows, y of all columns, and the points themselves, in table inches."""

    rows: tuple[float, ...]
    columns: tuple[float, ...]
    crossings: tuple[Point, ...]


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


def row_marks(lit: LitStop, gone: tuple[Box, ...]) -> tuple[Stroke, ...]:
    """Rows, columns and a plus at each motif point, where the cloth is not ``gone`` already."""
    points = lattice(lit)
    near, far = float(lit.cloth.selvedge), lit.width - float(lit.cloth.selvedge)
    rows = tuple(Stroke(Kind.ROW, ((x, near), (x, far))) for x in points.rows)
    columns = tuple(Stroke(Kind.COLUMN, ((lit.light.left, y), (lit.light.right, y))) for y in points.columns)
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
