"""Stops at the table: where the cloth lies while each cut is lit, and how it is pulled when a cut does not fit.

A cut that fits the table is one stop. A longer one is lit in several, the cloth pulled each time by whole repeats, so
that the print comes to lie on the lit rows again; plain cloth is pulled by whole inches (centimetres in a metric job).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.cuts import Edge, Placement
from jobs.model.job import Job
from jobs.model.lengths import CENTIMETRE
from jobs.model.numbers import counted
from jobs.model.piece import Piece
from jobs.model.plan import Stop
from jobs.model.problems import Code, JobRefused, Problem, problem

MARGIN = Fraction(3)
"""Cloth kept in view before a cut's first edge and, where it is pulled, after its last one, in inches."""

BEYOND_ROW = Fraction(1, 2)
"""What is kept in view beyond such a row, so that its dots are seen whole."""


MOST_STOPS = 20_000
"""Stops in one plan: a week at the table, and still quick to plan."""


def stops(
    placements: Sequence[Placement], pieces: Sequence[Piece], job: Job, table_length: Fraction | None
) -> tuple[Stop, ...]:
    """The stops of all cuts in the order they lie; every edge of every cut is lit in at least one.

    ``pull`` counts the pulls made since the cut was first laid. Without a table each cut is one stop with the whole cut
    lit. Raises JobRefused when a cut needs pulling and the table is too short for one repeat, or for so much cloth.
    """
    if table_length is not None:
        problems = _too_short(placements, job, table_length) or _too_many(placements, job, table_length)
        if problems:
            raise JobRefused(problems)
    found: list[Stop] = []
    for placement in placements:
        piece = pieces[placement.piece - 1]
        length = table_length if table_length is not None else placement.cut.shared_length + 2 * MARGIN
        for pull, at_left in enumerate(_positions(placement, piece, job, length)):
            found.append(_stop(len(found) + 1, placement, pull, at_left, min(piece.length, at_left + length)))
    return tuple(found)


def edges_said(stop: Stop) -> str:
    """The lit edges of a stop's cut in words; empty where only the cloth between them is lit."""
    words = [f"{name} edge" if name in ("leading", "return") else name for name in stop.shows]
    return " and ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)


def pull_said(before: Stop, now: Stop, job: Job, show: Callable[[Fraction], str]) -> tuple[str, ...]:
    """How the cloth comes to lie for a stop from how it lay at another, one sentence each; none where it stays.

    The distance, in repeats as well; between two cuts, at which edge it is measured and how far beyond it the next one
    lies, for a tape reads that. ``show`` writes a length of the piece, exact inches.
    """
    if now.placement.piece != before.placement.piece:
        return (laid_said(now, Fraction(0), show),)
    by = now.cloth_at_left - before.cloth_at_left
    if not by:
        return ()
    said = f"Pull the cloth {distance_said(by, job, show)}"
    gap = now.placement.start - before.placement.end
    if now.placement.cut.id == before.placement.cut.id or by < 0 or gap < 0 or not before.shows_last_edge:
        return (said,)
    next_edge = f"the next one lies {show(gap)} beyond it" if gap else "it is the next one too"
    return said, f"Measure it at the edge lit last; {next_edge}"


def distance_said(by: Fraction, job: Job, show: Callable[[Fraction], str]) -> str:
    """How far and which way the cloth is pulled (to the left above 0), in repeats as well."""
    return f"{show(abs(by))} to the {'left' if by > 0 else 'right'}{_in_repeats(abs(by), job, show)}"


def laid_said(now: Stop, end: Fraction, show: Callable[[Fraction], str]) -> str:
    """How a piece is laid for a stop: where its end comes to lie, its first one (0) or where it was cut last."""
    beyond = now.cloth_at_left - end
    which = "cut" if end else "first"
    place = "at" if not beyond else f"{show(abs(beyond))} {'beyond' if beyond > 0 else 'inside'}"
    return f"Lay piece {now.placement.piece} with its {which} end {place} the left end of the light"


def _in_repeats(by: Fraction, job: Job, show: Callable[[Fraction], str]) -> str:
    """The same in whole repeats and what is over; empty for plain cloth and below one repeat."""
    if job.cloth.repeat is None or by < job.cloth.repeat.along:
        return ""
    count, over = divmod(by, job.cloth.repeat.along)
    repeats = counted(count, "repeat")
    return f": {repeats} and {show(over)}" if over else f": {repeats}"


def pull_step(job: Job, table_length: Fraction) -> Fraction:
    """How far the cloth is pulled at once: as many whole repeats as leave the margin in view, at least one."""
    grain = job.cloth.repeat.along if job.cloth.repeat else _plain_grain(job.unit)
    return max(1, (table_length - _margin(table_length)) // grain) * grain


def _margin(table_length: Fraction) -> Fraction:
    return min(MARGIN, table_length / 4)


def _plain_grain(unit: Unit) -> Fraction:
    return Fraction(1) if unit is Unit.INCH else CENTIMETRE


def _positions(placement: Placement, piece: Piece, job: Job, length: Fraction) -> list[Fraction]:
    """Places along the piece that lie at the left end of the table, one for each stop of the cut."""
    before, after = _in_view(placement, piece, job)
    start, end = placement.crosscuts
    spare = length - (end - start)
    if spare >= 0:
        fitting = before if before + after <= spare else min(MARGIN, spare / 2)
        return [max(Fraction(0), start - fitting)]
    # A row that a third of the table does not reach is not worth a pull more; those inside the cut are in view.
    before, after = (margin if margin <= length / 3 else min(MARGIN, length / 4) for margin in (before, after))
    last_lit = min(end + after, max(piece.length, end))
    positions = [max(Fraction(0), start - before)]
    while positions[-1] + length < last_lit:
        positions.append(positions[-1] + pull_step(job, length))
    return positions


def _in_view(placement: Placement, piece: Piece, job: Job) -> tuple[Fraction, Fraction]:
    """Cloth to keep in view outside the first and the last edge: as far as the next row, so that one lies on each side
    (or on the edge itself). Rows are those of the first column; plain cloth keeps the margin, and so does cloth run
    sideways, whose edges are no rows.
    """
    if job.cloth.repeat is None or not placement.cut.top_edge.is_end:
        return MARGIN, MARGIN
    along, row = job.cloth.repeat.along, piece.first_row
    start, end = placement.crosscuts
    back, ahead = (start - row) % along, (row - end) % along
    return max(MARGIN, back + BEYOND_ROW), max(MARGIN, ahead + BEYOND_ROW)


def _stop(number: int, placement: Placement, pull: int, at_left: Fraction, lit_to: Fraction) -> Stop:
    cut = placement.cut

    def is_shown(edge: Edge) -> bool:
        if edge.is_end:
            return at_left <= placement.at(edge) <= lit_to
        return edge in (cut.top_edge, cut.foot_edge)

    edges = (cut.top_edge, cut.foot_edge, cut.leading_edge, cut.return_edge)
    shows = tuple(cut.name_of(edge) for edge in edges if is_shown(edge))
    return Stop(number, placement, pull, at_left, at_left, lit_to, shows)


def _too_short(placements: Sequence[Placement], job: Job, table_length: Fraction) -> list[Problem]:
    grain = job.cloth.repeat.along if job.cloth.repeat else _plain_grain(job.unit)
    long = [placement.cut for placement in placements if placement.cut.shared_length > table_length]
    if not long or grain <= table_length:
        return []
    sizes = {"cut": long[0].shared_length, "table": table_length, "pull": grain}
    return [problem(("table",), Code.TABLE_TOO_SHORT, **sizes)]


def _too_many(placements: Sequence[Placement], job: Job, table_length: Fraction) -> list[Problem]:
    step = pull_step(job, table_length)
    pulls = sum(max(0, math.ceil((placement.cut.shared_length - table_length) / step)) for placement in placements)
    stops = len(placements) + pulls
    if stops <= MOST_STOPS:
        return []
    return [problem(("table",), Code.TOO_MANY_STOPS, table=table_length, stops=stops, most=MOST_STOPS)]
