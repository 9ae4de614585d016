"""Small plans made by hand for tests of scenes and papers: cuts one behind the other on one piece."""

# ruff: noqa: RUF009  (fractions and frozen data classes are immutable)

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.model.allowances import Allowances
from jobs.model.choices import Panels, Unit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Hand, Placement, Way
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece
from jobs.model.plan import PieceUse, Plan, Span, Stop
from jobs.model.print import Repeat
from jobs.model.window import Window
from tests.jobs.made import a_cut, plan_of_placements

F = Fraction


@dataclass(frozen=True)
class Wish:
    """What a test wants of a plan; the defaults are an ordinary turned pair."""

    window: str = "Orchard window"
    lengths: tuple[Fraction, ...] = (F(70), F(70))
    hands: tuple[Hand, ...] = (Hand.LEFT, Hand.RIGHT)
    top_first: tuple[bool, ...] = (True, False)
    start: Fraction = F(3)
    gap: Fraction = F(5, 2)
    width: Fraction = F(54)
    selvedge: Fraction = F(1, 2)
    repeat: Repeat | None = Repeat(F(25, 2), F(27, 2))
    drop: Fraction = F(0)
    first_row: Fraction = F(19, 4)
    flaws: tuple[Flaw, ...] = ()
    allowances: Allowances = Allowances(F(4), F(8), F(2), F(1, 2), F(1))
    table: Fraction = F(96)
    piece: Fraction = F(216)


ORDINARY = Wish()


def plan_of(wish: Wish = ORDINARY) -> Plan:
    """The plan: each cut gets one stop that shows both edges, or a pull each for top and foot on a shorter table."""
    piece = Piece(wish.piece, wish.first_row, wish.flaws)
    cloth = Cloth("Reeds", wish.width, wish.selvedge, wish.repeat, wish.drop, pieces=(piece,))
    window = Window(wish.window, Panels.PAIR, F(58))
    job = Job("Cider house", Unit.INCH, cloth, (window,), wish.allowances)
    placements: list[Placement] = []
    at = wish.start
    for number, (length, hand, top_first) in enumerate(zip(wish.lengths, wish.hands, wish.top_first, strict=True)):
        way, top = (Way.UPRIGHT, Edge.FIRST) if top_first else (Way.TURNED, Edge.LAST)
        row = F(2) if wish.repeat else None
        cut = a_cut(job, f"c{number + 1}", hand, length, way=way, top_edge=top, row=row)
        placements.append(Placement(cut, 1, at))
        at += length + wish.gap
    stops: list[Stop] = []
    for placed in placements:
        stops += _stops(placed, wish, len(stops) + 1)
    leftovers = (Span(at, wish.piece),) if at < wish.piece else ()
    use = PieceUse(1, piece, at, leftovers)
    return plan_of_placements(job, placements, stops, use)


def _stops(placed: Placement, wish: Wish, number: int) -> list[Stop]:
    first, last = ("top", "foot") if placed.cut.top_edge is Edge.FIRST else ("foot", "top")
    left = max(placed.start - 2, F(0))
    if placed.end + 1 <= left + wish.table:
        return [Stop(number, placed, 0, left, left, left + wish.table, (first, last))]
    second = placed.end + 2 - wish.table
    return [
        Stop(number, placed, 0, left, left, left + wish.table, (first,)),
        Stop(number + 1, placed, 1, second, second, second + wish.table, (last,)),
    ]
