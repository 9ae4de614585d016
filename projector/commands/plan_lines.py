"""A plan in words: cuts in the order they are made, pulls, leftovers and the proof."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.job import Unit
from jobs.lengths import show_cut, show_length
from jobs.plan import Plan


def plan_lines(plan: Plan) -> Iterator[str]:
    """Lines for the person; positions count from the first end of the piece."""
    job = plan.job
    yield f"{job.title}: {job.cloth.name}"
    if plan.assumed_piece:
        yield "No piece is given: one piece as ordered is assumed, with a row of the print at its first end."
    for use in plan.pieces:
        length = show_length(use.piece.length, job.unit)
        yield f"Piece {use.number}, {length}: {show_cut(use.used, job.unit)} used. {_proof(plan)}"
    yield ""
    yield from _cut_table(plan)
    yield ""
    yield from _stop_table(plan)
    yield ""
    yield from _leftover_lines(plan)
    for notice in job.notices:
        yield f"Note: {notice}"


def _proof(plan: Plan) -> str:
    if plan.proved_shortest:
        return "Proved: no other order is shorter."
    return f"No order can be shorter than {show_cut(plan.bound, plan.job.unit)}."


def _cut_table(plan: Plan) -> Iterator[str]:
    unit = plan.job.unit
    rows: list[tuple[str, ...]] = [
        ("", "cut", "from", "to", "length", "lies", "TOP at", "first row below TOP", "leads")
    ]
    for number, placed in enumerate(plan.placements, 1):
        cut = placed.cut
        name = f"{cut.panel}, {cut.number} of {cut.of}"
        row = "-" if cut.row is None else show_cut(cut.row, unit)
        at = (show_cut(length, unit) for length in (placed.start, placed.end, cut.length))
        rows.append((str(number), name, *at, cut.way, show_cut(placed.top, unit), row, cut.leading_selvedge))
    yield from _columns(rows)


def _stop_table(plan: Plan) -> Iterator[str]:
    unit = plan.job.unit
    rows: list[tuple[str, ...]] = [
        ("stop", "cut", "pull", "at the left end of the light", "lit from", "lit to", "shows")
    ]
    for stop in plan.stops:
        cut = stop.placement.cut
        name = f"{cut.panel}, {cut.number} of {cut.of}"
        lit = (show_cut(length, unit) for length in (stop.lit_from, stop.lit_to))
        left = show_cut(stop.lit_from, unit)
        rows.append((str(stop.number), name, str(stop.pull), left, *lit, " and ".join(stop.shows) or "-"))
    yield from _columns(rows)


def _leftover_lines(plan: Plan) -> Iterator[str]:
    unit: Unit = plan.job.unit
    width = show_cut(plan.job.cloth.width, unit)
    for use in plan.pieces:
        for span in use.leftovers:
            place = f"from {show_cut(span.start, unit)} to {show_cut(span.end, unit)}"
            yield f"Leftover: {show_cut(span.end - span.start, unit)} by {width}, {place}"
        if not use.leftovers:
            yield "Leftover: nothing"


def _columns(rows: list[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        yield "  ".join(word.ljust(width) for word, width in zip(row, widths, strict=True)).rstrip()
