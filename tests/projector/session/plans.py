"""A small plan made by hand: every cut is 80 in long, lies on 50 in wide cloth and takes two stops on a short table."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from jobs.model.allowances import Allowances
from jobs.model.choices import Panels, Symmetry, Unit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Hand, Placement, Way
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.plan import PieceUse, Plan, Stop
from jobs.model.print import Print, Repeat
from jobs.model.window import RowRule, Window
from tests.jobs.made import a_cut, plan_of_placements

LENGTH = Fraction(80)
REPEAT = Fraction(16)


def cut(of: Job, number: int, turned: bool = False) -> Cut:
    """Cut ``number`` (from 1): odd ones for the left hand, even ones for the right."""
    hand, window = Hand.LEFT if number % 2 else Hand.RIGHT, f"Window {(number + 1) // 2}"
    top, way = (Edge.LAST, Way.TURNED) if turned else (Edge.FIRST, Way.UPRIGHT)
    made = a_cut(of, f"cut-{number}", hand, LENGTH, top_edge=top, way=way, row=Fraction(5))
    return replace(made, window=window, panel=f"{window}, {hand}")


def plan_of(cuts: int = 3, pulls: int = 2, unit: Unit = Unit.INCH) -> Plan:
    """A plan of so many cuts, the second of each pair turned, each with ``pulls`` stops of equal lit stretches."""
    piece = Piece(cuts * LENGTH + 10, Fraction(5))
    job = Job(
        title="Test room",
        unit=unit,
        cloth=Cloth(
            name="Ferns",
            width=Fraction(50),
            selvedge=Fraction(1),
            repeat=Repeat(REPEAT, Fraction(12)),
            print=Print(top_to_bottom=Symmetry.MIRROR),
            pieces=(piece,),
        ),
        windows=(Window("Window 1", Panels.PAIR, Fraction(68), row=RowRule(below_top=Fraction(1))),),
        allowances=Allowances(heading=Fraction(4), hem=Fraction(8)),
    )
    placements = tuple(Placement(cut(job, n + 1, turned=n % 2 == 1), 1, n * LENGTH) for n in range(cuts))
    stops = [stop for placed in placements for stop in _stops(placed, pulls)]
    numbered = tuple(
        Stop(i + 1, s.placement, s.pull, s.cloth_at_left, s.lit_from, s.lit_to, s.shows) for i, s in enumerate(stops)
    )
    return plan_of_placements(job, placements, numbered, PieceUse(1, piece, cuts * LENGTH, ()))


def _stops(placed: Placement, pulls: int) -> list[Stop]:
    stretch = LENGTH / pulls
    first, last = ("top", "foot") if placed.cut.top_edge is Edge.FIRST else ("foot", "top")
    stops = []
    for pull in range(pulls):
        start = placed.start + pull * stretch
        shows = ((first,) if pull == 0 else ()) + ((last,) if pull == pulls - 1 else ())
        reach = start - 2, start + stretch + 2
        stops.append(Stop(0, placed, pull + 1, max(reach[0], Fraction(0)), max(reach[0], Fraction(0)), reach[1], shows))
    return stops
