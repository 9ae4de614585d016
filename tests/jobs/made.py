"""Jobs built by hand for the tests; lengths may be whole numbers or fractions as text."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from jobs.cutting.columns import seams
from jobs.cutting.resolve import resolve
from jobs.model.allowances import Allowances
from jobs.model.choices import Panels, Symmetry, Unit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Hand, Placement, Side, Way
from jobs.model.job import Job
from jobs.model.plan import PieceUse, Plan, Stop
from jobs.model.print import Print, Repeat
from jobs.model.resolved import ResolvedJob
from jobs.model.schema import ZERO
from jobs.model.window import RowRule, Window
from jobs.ordering import Order, assumed, order

Length = int | str | Fraction

MIRROR_DOWN = Print(top_to_bottom=Symmetry.MIRROR)
"""A print that a turned panel mirrors, its rows chosen on a mirror line."""


def cloth(along: Length | None = None, **more: Any) -> Cloth:
    """Cloth 54 in wide with this repeat along, or plain."""
    repeat = Repeat(Fraction(along)) if along is not None else None
    return replace(Cloth("Reeds on sand", Fraction(54), repeat=repeat), **more)


def window(name: str, finished: Length, panels: Panels = Panels.PAIR, cuts: int = 1, **more: Any) -> Window:
    """A window with this finished length."""
    return replace(Window(name, panels, Fraction(finished), cuts_per_panel=Fraction(cuts)), **more)


def below_top(distance: Length) -> RowRule:
    """A row this far below the finished top."""
    return RowRule(below_top=Fraction(distance))


def above_foot(distance: Length) -> RowRule:
    """A row this far above the finished foot."""
    return RowRule(above_foot=Fraction(distance))


def job(of: Cloth, *windows: Window, unit: Unit = Unit.INCH, **allowances: Length) -> Job:
    """A job with these windows; allowances left out are zero."""
    given = {name: Fraction(length) for name, length in allowances.items()}
    return Job("Test room", unit, of, tuple(windows), Allowances(**given))


def whole_cuts(of: Cloth, lengths: list[Length]) -> Job:
    """One whole panel of one cut for each length, without allowances."""
    return job(of, *(window(f"Bay {number}", length, Panels.WHOLE) for number, length in enumerate(lengths, 1)))


def cut_list(of: Job) -> tuple[Cut, ...]:
    """All cuts of a job. Raises JobRefused with every problem of them."""
    return resolve(of).sound().cuts


def ordered(of: Job) -> Order:
    """How much is bought for a job, in the dearest case where its print is not known."""
    return order(assumed(of).resolved)


def a_cut(of: Job, name: str, hand: Hand, length: Fraction, **more: Any) -> Cut:
    """A cut of the whole cloth width of a job, upright on its first row and hemmed, unless told otherwise."""
    window = of.windows[0].name
    hem = of.allowances.side_hem
    side = Side(of.cloth.near_selvedge + hem, hem)
    plain = Cut(
        name,
        window,
        hand,
        panel=f"{window}, {hand}",
        number=1,
        of=1,
        length=length,
        across=(ZERO, of.cloth.width),
        parted=(ZERO, of.cloth.width),
        top_edge=Edge.FIRST,
        leading_edge=Edge.NEAR,
        way=Way.UPRIGHT,
        handbook=length,
        row=None,
        phase=ZERO,
        heading=of.allowances.heading,
        hem=of.allowances.hem,
        leading_side=side,
        return_side=side,
    )
    return replace(plain, **more)


def plan_of_placements(of: Job, placements: Sequence[Placement], stops: Sequence[Stop], use: PieceUse) -> Plan:
    """A plan with these placements on its one piece, as if they were proved the shortest."""
    cuts = tuple(placed.cut for placed in placements)
    resolved = ResolvedJob(of, seams(of.cloth, of.allowances), cuts=cuts)
    return Plan(resolved, cuts, tuple(placements), (use,), tuple(stops), use.used, use.used, True, ZERO, False)
