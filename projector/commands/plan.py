"""``lightchalk plan``: where each cut lies on the piece."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import click

from jobs.model.choices import Motif, Unit
from jobs.model.cuts import Placement
from jobs.model.lengths import show_cut, show_length
from jobs.model.plan import Plan, Stop
from jobs.packing.leftovers import KEPT_IN
from jobs.planning.stops import distance_said, edges_said
from projector.commands.shared.cloths import Where, with_option
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import load_table
from projector.commands.shared.options import FILE, check_picture
from projector.commands.shared.planned import load_plan, short_in_words
from projector.commands.shared.terminal import heading
from projector.words.arithmetic import seam_lines
from projector.words.notices import notice_lines
from projector.words.proof import proof_words, whole_words
from projector.words.told import unmet_lines


@click.command("plan", epilog="Example: lightchalk plan jobs/examples/reading_room.yaml --picture piece.png")
@click.argument("job", type=FILE)
@with_option
@click.option(
    "--table", "table_file", type=FILE, help="A table file: pulls are planned for what its projector can light."
)
@click.option("--json", "as_json", is_flag=True, help="Print the plan for other programs, lengths in inches.")
@click.option("--picture", type=FILE, metavar="FILE.png|.svg", help="Also write the picture of the piece.")
def command(job: Where, table_file: Path | None, as_json: bool, picture: Path | None) -> None:
    """Where each cut lies on the piece, the pulls and the leftovers.

    The shortest placement is found, and the plan says whether it is proved that none is shorter. When the piece is too
    short nothing is planned; what is missing is said instead.
    """
    from projector.commands.shared import json_text

    if picture:
        check_picture(picture)
    plan = load_plan(job, load_table(table_file) if table_file else None)
    if as_json:
        click.echo(json_text.dump(json_text.of_plan(plan)))
    if plan.short:
        raise InputAtFault(short_in_words(job, plan))
    if not as_json:
        before = None
        for line in plan_lines(plan):
            opens = before is None or (before == "" and not line.startswith("Leftover"))
            click.echo(heading(line) if opens else line)
            before = line
    if picture:
        from projector.commands.shared.pictures import write_drawing
        from projector.papers.cloth_picture import cloth_picture

        write_drawing(cloth_picture(plan), picture)
        click.echo(f"Picture of the piece: {picture}", err=as_json)


def plan_lines(plan: Plan) -> Iterator[str]:
    """Lines for the person; positions count from the first end of the piece."""
    job = plan.job
    yield f"{job.title}: {job.cloth.name}"
    if plan.assumed_piece:
        yield f"No piece is given: {_as_ordered(plan)}, with a row of the print at the first end."
    for use in plan.pieces:
        lot = f", dye lot {use.piece.dye_lot}" if use.piece.dye_lot else ""
        used = f"{show_cut(use.used, job.unit)} used" if use.used else "not opened"
        yield f"Piece {use.number}, {show_length(use.piece.length, job.unit)}{lot}: {used}."
    yield _proof(plan)
    yield from filter(None, [whole_words(plan)])
    yield ""
    yield from _cut_table(plan)
    yield from seam_lines(plan.resolved)
    yield ""
    yield from _stop_table(plan)
    yield ""
    yield from _leftover_lines(plan)
    yield from _thing_lines(plan)
    if plan.spread:
        yield f"Look: {', '.join(plan.spread)} could not be cut from one piece, only from one dye lot."
    if plan.mixed_rooms:
        rooms = ", ".join(plan.mixed_rooms)
        yield f"Look: no dye lot holds all windows of {rooms}; compare the pieces by daylight before you cut."
    for line in unmet_lines(plan):
        yield f"Look: {line}"
    for notice in notice_lines(job):
        yield f"Note: {notice}"


def _as_ordered(plan: Plan) -> str:
    return "one piece as ordered is assumed" if len(plan.pieces) == 1 else "pieces as ordered are assumed"


def _proof(plan: Plan) -> str:
    used = show_cut(plan.used, plan.job.unit)
    proof = f" Proved: {proof_words(plan)}." if proof_words(plan) else ""
    if plan.proved_shortest:
        return f"In all {used}.{proof}"
    around = " around what you placed" if plan.wished else ""
    stopped = "The search was stopped; this is the best found so far. " if plan.stopped else ""
    return f"{stopped}In all {used}.{proof} No order{around} can be shorter than {show_cut(plan.bound, plan.job.unit)}."


def _cut_table(plan: Plan) -> Iterator[str]:
    unit, many = plan.job.unit, len(plan.pieces) > 1
    head = (
        "",
        "cut",
        *(("piece",) if many else ()),
        "from",
        "to",
        "length",
        "lies",
        "TOP at",
        "first row below TOP",
        "leads",
    )
    rows: list[tuple[str, ...]] = [head]
    for number, placed in enumerate(plan.placements, 1):
        cut = placed.cut
        name = cut.name
        row = "-" if cut.row is None else show_cut(cut.row, unit)
        at = (show_cut(length, unit) for length in (placed.start, placed.end, cut.length))
        piece = (str(placed.piece),) if many else ()
        rows.append((str(number), name, *piece, *at, cut.way, *_ends(placed, row, unit)))
    yield from _columns(rows)


def _ends(placed: Placement, row: str, unit: Unit) -> tuple[str, str, str]:
    """Where the top lies, the row and what leads: a selvedge, or where the cloth is run sideways an edge of the cut."""
    cut, top = placed.cut, show_cut(placed.top, unit)
    if cut.top_edge.is_end:
        return top, row, str(cut.leading_edge)
    return f"{top} across, {cut.top_edge} side", row, f"edge at {show_cut(placed.leading, unit)}"


def _thing_lines(plan: Plan) -> Iterator[str]:
    unit = plan.job.unit
    for thing in plan.wanted:
        along = f"from {show_cut(thing.start, unit)} to {show_cut(thing.end, unit)} along"
        across = f"{show_cut(thing.near, unit)} to {show_cut(thing.far, unit)} across"
        middle = ""
        number = f", {thing.number} of {thing.count}" if thing.count > 1 else ""
        if thing.motif is Motif.CENTRED:
            at = (show_cut((low + high) / 2, unit) for low, high in ((thing.start, thing.end), (thing.near, thing.far)))
            middle = f"; its motif at {next(at)} along, {next(at)} across"
        yield f"Wanted: {thing.name}{number}, piece {thing.piece}, {along}, {across}{middle}"
    for missing in plan.unplaced:
        yield f"Wanted: no room for {missing.count} of {missing.name}"


def _stop_table(plan: Plan) -> Iterator[str]:
    unit = plan.job.unit
    rows: list[tuple[str, ...]] = [("stop", "cut", "lit from", "lit to", "shows", "before it, pull the cloth")]
    for before, stop in zip((None, *plan.stops), plan.stops, strict=False):
        cut = stop.placement.cut
        name = cut.name
        lit = (show_cut(length, unit) for length in (stop.lit_from, stop.lit_to))
        rows.append((str(stop.number), name, *lit, edges_said(stop) or "-", _pulled(before, stop, plan)))
    yield from _columns(rows)


def _pulled(before: Stop | None, stop: Stop, plan: Plan) -> str:
    """How far the cloth is pulled from the stop before, or where a fresh piece is laid."""

    def show(length: Fraction) -> str:
        return show_cut(length, plan.job.unit)

    if before is None or before.placement.piece != stop.placement.piece:
        beyond = f"{show(stop.cloth_at_left)} beyond" if stop.cloth_at_left else "at"
        return f"(lay piece {stop.placement.piece}, first end {beyond} the left end of the light)"
    by = stop.cloth_at_left - before.cloth_at_left
    return distance_said(by, plan.job, show) if by else "(it stays)"


def _leftover_lines(plan: Plan) -> Iterator[str]:
    unit: Unit = plan.job.unit
    width = show_cut(plan.job.cloth.width, unit)
    for use in plan.pieces:
        on = f"piece {use.number}, " if len(plan.pieces) > 1 else ""
        kept = [span for span in use.leftovers if span.end - span.start >= KEPT_IN]
        for span in kept:
            place = f"from {show_cut(span.start, unit)} to {show_cut(span.end, unit)}"
            yield f"Leftover: {on}{show_cut(span.end - span.start, unit)} by {width}, {place}"
        for span in use.beside:
            place = f"from {show_cut(span.start, unit)} to {show_cut(span.end, unit)}"
            near, far = span.across or (0, plan.job.cloth.width)
            strip = f"{show_cut(far - near, unit)} ({show_cut(Fraction(near), unit)} to {show_cut(far, unit)} across)"
            yield f"Leftover: {on}{show_cut(span.end - span.start, unit)} by {strip}, {place}"
        if scraps := [span.end - span.start for span in use.leftovers if span not in kept]:
            text = "one scrap" if len(scraps) == 1 else f"{len(scraps)} scraps"
            shorter, total = show_cut(KEPT_IN, unit), show_cut(sum(scraps, Fraction(0)), unit)
            yield f"Leftover: {on}{text} shorter than {shorter}, {total} in all"
        if not use.leftovers:
            yield f"Leftover: {on}nothing"


def _columns(rows: list[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        yield "  ".join(word.ljust(width) for word, width in zip(row, widths, strict=True)).rstrip()
