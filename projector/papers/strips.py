"""A long piece broken into strips that stand under each other, so that what is written on it stays readable."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from jobs.plan import PieceUse, PlacedThing, Placement, Plan, Span

LONGEST_IN = Fraction(240)
_SHORTEST_IN = Fraction(100)
_CUTS_A_STRIP = 9


@dataclass(frozen=True)
class Strip:
    """A stretch of one piece with the cuts that touch it, their ``numbers`` in the order of cutting, small things."""

    use: PieceUse
    span: Span
    placements: tuple[Placement, ...]
    numbers: tuple[int, ...] = ()
    things: tuple[PlacedThing, ...] = ()


def longest_strip(plan: Plan) -> Fraction:
    """How long strips may be, in inches: shorter where there are short cuts, so that their names can be read."""
    shortest = min((p.cut.length for p in plan.placements), default=LONGEST_IN)
    return min(LONGEST_IN, max(_SHORTEST_IN, shortest * _CUTS_A_STRIP))


def strips_of(plan: Plan, use: PieceUse) -> tuple[Strip, ...]:
    """The piece in strips no longer than ``longest_strip``, broken between cuts wherever that is possible."""
    longest = longest_strip(plan)
    numbered = ((number, p) for number, p in enumerate(plan.placements, 1) if p.piece == use.number)
    placed = sorted(numbered, key=lambda one: one[1].start)
    things = [thing for thing in plan.wanted if thing.piece == use.number]
    inside = [(p.start, p.end) for _, p in placed] + [(thing.start, thing.end) for thing in things]
    breaks = sorted({edge for ends in inside for edge in ends} | {use.piece.length})
    strips: list[Strip] = []
    at = Fraction(0)
    while at < use.piece.length:
        left = use.piece.length - at
        even = at + left / math.ceil(left / longest)
        free = [
            b
            for b in breaks
            if at + longest / 3 < b <= at + longest and not any(start < b < end for start, end in inside)
        ]
        end = use.piece.length if left <= longest else min(free, key=lambda b: abs(b - even), default=even)
        span = Span(at, end)
        shown = [(number, p) for number, p in placed if p.start < end and p.end > at]
        here = tuple(thing for thing in things if thing.start < end and thing.end > at)
        strips.append(Strip(use, span, tuple(p for _, p in shown), tuple(number for number, _ in shown), here))
        at = end
    return tuple(strips)
