"""Small random jobs, and the least cloth they can use found by trying every order with the plainest arithmetic."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import permutations

from hypothesis import strategies as st

from jobs.model.choices import End, Panels
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Way
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece
from tests.jobs.made import MIRROR_DOWN, above_foot, below_top, cloth, cut_list, job, window

MOST_CUTS = 5


def halves(low: int, high: int) -> st.SearchStrategy[Fraction]:
    """Multiples of 1/2 between the two."""
    return st.integers(2 * low, 2 * high).map(lambda number: Fraction(number, 2))


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """A job of one to five cuts on cloth that a turned panel mirrors (or plain), all lengths multiples of 1/2."""
    repeat = draw(st.none() | halves(1, 10))
    sheet = replace(MIRROR_DOWN, mirror_offset=draw(halves(0, 5)), top_towards=draw(st.sampled_from(End)))
    panels = draw(
        st.lists(st.sampled_from(Panels), min_size=1, max_size=MOST_CUTS).filter(
            lambda kinds: sum(2 if kind is Panels.PAIR else 1 for kind in kinds) <= MOST_CUTS
        )
    )
    rule = st.none() | halves(0, 12).map(below_top) | halves(0, 12).map(above_foot)
    windows = [
        window(f"Bay {number}", draw(halves(5, 30)), kind, row=draw(rule)) for number, kind in enumerate(panels, 1)
    ]
    return job(cloth(repeat, print=sheet), *windows, heading=draw(halves(0, 3)), squaring=draw(halves(0, 2)))


@st.composite
def flaws(draw: st.DrawFn) -> tuple[Flaw, ...]:
    """Up to four flaws in any order; some touch or overlap, some have no length."""
    starts = draw(st.lists(halves(0, 120), max_size=4))
    return tuple(
        Flaw(start, start + draw(halves(0, 4)), draw(st.none() | st.just((Fraction(1), Fraction(4)))))
        for start in starts
    )


def with_piece(made: Job, length: Fraction | int, first_row: Fraction, spoilt: tuple[Flaw, ...] = ()) -> Job:
    """The same job on one piece."""
    return replace(made, cloth=replace(made.cloth, pieces=(Piece(Fraction(length), first_row, spoilt),)))


def least_used(made: Job) -> Fraction:
    """Where the last cut ends at best on the job's piece, every order tried."""
    cuts = cut_list(made)
    return min(_end(order, made) for order in permutations(cuts))


def _end(order: tuple[Cut, ...], made: Job) -> Fraction:
    at = made.allowances.squaring
    for cut in order:
        at = _start(cut, made.cloth, at) + cut.length
    return at


def _start(cut: Cut, of: Cloth, at: Fraction) -> Fraction:
    start = _next_on_row(cut, of, at)
    while hit := [flaw for flaw in of.pieces[0].flaws if flaw.start < start + cut.length and flaw.end > start]:
        start = _next_on_row(cut, of, max(flaw.end for flaw in hit))
    return start


def _next_on_row(cut: Cut, of: Cloth, at: Fraction) -> Fraction:
    """The next start from ``at`` on at which the cut's row, or its mirror image when turned, is where it should be."""
    if of.repeat is None:
        return at
    first_row = of.pieces[0].first_row
    down = of.print.mirror_offset if of.print.top_towards is End.FIRST else -of.print.mirror_offset
    lands = first_row + 2 * down if cut.way is Way.TURNED else first_row
    from_start = cut.row if cut.top_edge is Edge.FIRST else cut.length - cut.row
    return at + (lands - from_start - at) % of.repeat.along
