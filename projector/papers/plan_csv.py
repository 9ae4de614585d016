"""A plan as comma-separated values (RFC 4180), a line a cut, lengths in inches; exact fractions come back exactly."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from fractions import Fraction

from jobs.model.choices import Run
from jobs.plan import Placement, Plan

COLUMNS = (
    "id", "window", "hand", "panel", "number", "of", "length_in", "row_in", "way", "leading_selvedge", "piece",
    "start_in", "end_in", "top_in", "foot_in", "across_from_in", "across_to_in", "run", "top_selvedge", "leading_in",
    "return_in",
)  # fmt: skip


def plan_csv(plan: Plan) -> str:
    """The cuts in the order they are made, under a line of column names.

    A length is written as a decimal number where that is exact, otherwise as a fraction such as ``2362/25``; what a
    cut does not have is left empty.
    """
    held = io.StringIO()
    writer = csv.writer(held)
    writer.writerow(COLUMNS)
    writer.writerows(_fields(placed, plan.job.cloth.width) for placed in plan.placements)
    return held.getvalue()


def _fields(placed: Placement, width: Fraction) -> Iterator[str]:
    cut = placed.cut
    near, far = cut.across if cut.across is not None else (Fraction(0), width)
    yield from map(words, (cut.id, cut.window, cut.hand, cut.panel))
    yield from (str(cut.number), str(cut.of), number(cut.length))
    yield from ("" if cut.row is None else number(cut.row), cut.way, cut.leading_selvedge or "", str(placed.piece))
    yield from map(number, (placed.start, placed.end, placed.top, placed.foot, near, far))
    yield from (Run.SIDEWAYS if cut.is_sideways else Run.UP, cut.top_at or "")
    yield from ("" if edge is None else number(edge) for edge in (placed.leading, placed.returning))


def words(name: str) -> str:
    """The name, behind an apostrophe where a spreadsheet would take it for a formula and reckon with it."""
    return f"'{name}" if name.startswith(("=", "+", "-", "@", "\t", "\r")) else name


def number(value: Fraction) -> str:
    """The value as text that ``Fraction`` reads back exactly: decimals where they end soon, a fraction elsewhere."""
    decimals = f"{float(value):.6f}".rstrip("0").rstrip(".")
    return decimals if Fraction(decimals) == value else str(value)
