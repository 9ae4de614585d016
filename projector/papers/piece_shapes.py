"""A piece as it is drawn: broken into tiers, to scale, with its ground, print, rows, flaws, leftovers and positions."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction

from jobs.cutting.columns import columns_across
from jobs.model.choices import Unit
from jobs.model.cuts import Edge, Placement
from jobs.model.lengths import show_cut
from jobs.model.numbers import show_number
from jobs.model.plan import PieceUse, PlacedThing, Plan, Span
from jobs.model.records import dataclass
from projector.papers.drawing import (
    CLOTH,
    GLOW,
    INK,
    QUIET,
    ROW,
    SELVEDGE,
    WARNING,
    Anchor,
    Path,
    Point,
    Shape,
    Words,
    clipped,
    rectangle,
    zigzag,
)
from projector.prints.face import Face
from projector.scene.lit_stop import steps_within

PIXELS_PER_INCH = 200
"""Of a drawing: as fine as a printer shows."""


def printed_shapes(
    face: Face,
    first_row: float,
    along: tuple[float, float],
    across: tuple[float, float],
    place: Callable[[float, float], Point],
) -> Iterator[Path]:
    """The shapes of a drawn print on a rectangle of the piece, cut off at its sides; the ground is not among them.

    ``first_row``, ``along`` and ``across`` are inches from the first end and the near selvedge; ``place`` gives the
    place on the drawing of a place along and across, axes kept level and upright.
    """
    corners = [place(a, c) for a in along for c in across]
    (left, *_, right), (upper, *_, lower) = (sorted(side) for side in zip(*corners, strict=True))
    for shape in face.shapes_between((along[0] - first_row, along[1] - first_row), across):
        points = clipped(tuple(place(a + first_row, c) for a, c in shape.points), left, upper, right, lower)
        if len(points) > 2:
            yield Path(points, fill=shape.colour, closed=True)


def chevron(tip: Point, edge: Edge, deep: float, half: float) -> tuple[Point, Point, Point]:
    """A chevron with its tip towards an edge of a cut: ``deep`` from tip to tail, ``half`` as wide; far is up."""
    (x, y), back = tip, -edge.sense * deep
    if edge.is_end:
        return (x + back, y - half), tip, (x + back, y + half)
    return (x - half, y - back), tip, (x + half, y - back)


def moved_along(at: Point, edge: Edge, by: float) -> Point:
    """A place moved along an edge of a cut."""
    return (at[0], at[1] + by) if edge.is_end else (at[0] + by, at[1])


def seen_on_print(line: Path) -> tuple[Path, Path]:
    """A line with a pale one twice as wide under it, so that it is seen on dark cloth and on light."""
    return replace(line, stroke=GLOW, width=max(2 * line.width, line.width + 0.02), fill=None, dash=()), line


LONGEST_IN = Fraction(240)
_SHORTEST_IN = Fraction(100)
_CUTS_A_TIER = 9


@dataclass(frozen=True)
class Tier:
    """A stretch of one piece with the cuts that touch it, their ``numbers`` in the order of cutting, small things."""

    use: PieceUse
    span: Span
    placements: tuple[Placement, ...]
    numbers: tuple[int, ...] = ()
    things: tuple[PlacedThing, ...] = ()


def longest_tier(plan: Plan) -> Fraction:
    """How long tiers may be, in inches: shorter where there are short cuts, so that their names can be read."""
    shortest = min((p.cut.length for p in plan.placements), default=LONGEST_IN)
    return min(LONGEST_IN, max(_SHORTEST_IN, shortest * _CUTS_A_TIER))


def tiers_of(plan: Plan, use: PieceUse) -> tuple[Tier, ...]:
    """The piece in tiers no longer than ``longest_tier``, broken between cuts wherever that is possible."""
    longest = longest_tier(plan)
    numbered = ((number, p) for number, p in enumerate(plan.placements, 1) if p.piece == use.number)
    placed = sorted(numbered, key=lambda one: one[1].start)
    things = [thing for thing in plan.wanted if thing.piece == use.number]
    inside = [(p.start, p.end) for _, p in placed] + [(thing.start, thing.end) for thing in things]
    breaks = sorted({edge for ends in inside for edge in ends} | {use.piece.length})
    tiers: list[Tier] = []
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
        tiers.append(Tier(use, span, tuple(p for _, p in shown), tuple(number for number, _ in shown), here))
        at = end
    return tuple(tiers)


_SMALL_IN = 0.095
_TICK_IN = 0.12
_RULER_IN = 0.14
_UPRIGHT_IN = 0.25
"""What an upright line of letters takes of the tier with its plate."""


@dataclass(frozen=True)
class Scale:
    """Where a tier stands on the sheet: left and upper corner, drawing inches to an inch of cloth, what it shows."""

    left: float
    upper: float
    per_inch: float
    span: Span
    cloth_width: Fraction

    @property
    def right(self) -> float:
        return self.x(self.span.end)

    @property
    def lower(self) -> float:
        return self.y(Fraction(0))

    def x(self, position: Fraction) -> float:
        """Sheet x of a position along the piece, kept inside the tier."""
        inside = min(max(position, self.span.start), self.span.end)
        return self.left + float(inside - self.span.start) * self.per_inch

    def y(self, across: Fraction) -> float:
        """Sheet y of a distance from the near selvedge, which lies below."""
        return self.upper + float(self.cloth_width - across) * self.per_inch


def ground_shapes(plan: Plan, scale: Scale, ground: str) -> list[Shape]:
    """The cloth in the colour of its ``ground``, its selvedges and the strip lost to squaring."""
    cloth, width = plan.job.cloth, scale.cloth_width
    shapes: list[Shape] = [_box(scale, scale.span, Fraction(0), width, ground)]
    strips = ((Fraction(0), cloth.near_selvedge), (width - cloth.far_selvedge, width))
    shapes += (_box(scale, scale.span, low, high, SELVEDGE) for low, high in strips if low < high)
    squaring = plan.job.allowances.squaring
    if squaring > scale.span.start:
        shapes.append(_box(scale, Span(scale.span.start, squaring), Fraction(0), width, SELVEDGE))
    shapes.append(Path(rectangle(scale.left, scale.upper, scale.right, scale.lower), QUIET, 0.012, closed=True))
    return shapes


def row_shapes(plan: Plan, tier: Tier, scale: Scale) -> list[Shape]:
    """A tick at both selvedges for each row."""
    cloth, piece = plan.job.cloth, tier.use.piece
    if cloth.repeat is None:
        return []
    columns = len(columns_across(cloth))
    shapes: list[Shape] = []
    for number, end, inward in ((0, scale.lower, -_TICK_IN), (columns - 1, scale.upper, _TICK_IN)):
        first = piece.first_row + number * cloth.drop * cloth.repeat.along
        for row in steps_within(first, cloth.repeat.along, scale.span.start, scale.span.end):
            x = scale.x(row)
            shapes += seen_on_print(Path(((x, end), (x, end + inward)), ROW, 0.018))
    return shapes


def flaw_shapes(tier: Tier, scale: Scale) -> list[Shape]:
    """A zigzag about each flaw."""
    shapes: list[Shape] = []
    for flaw in tier.use.piece.flaws:
        if flaw.end <= scale.span.start or flaw.start >= scale.span.end:
            continue
        near, far = flaw.across or (Fraction(0), scale.cloth_width)
        outline = zigzag(scale.x(flaw.start), scale.y(far), scale.x(flaw.end), scale.y(near), 0.09)
        shapes += seen_on_print(Path(outline, WARNING, 0.02, closed=True))
    return shapes


def leftover_shapes(plan: Plan, tier: Tier, scale: Scale) -> list[Shape]:
    """A dashed outline and, where there is room, the size of each leftover."""
    shapes: list[Shape] = []
    for span in (*tier.use.leftovers, *tier.use.beside):
        left, right = scale.x(span.start), scale.x(span.end)
        near, far = span.across or (Fraction(0), scale.cloth_width)
        inner = rectangle(left + 0.03, scale.y(far) + 0.05, right - 0.03, scale.y(near) - 0.05)
        if right - left < 0.06 or inner[2][1] <= inner[0][1]:
            continue
        shapes += seen_on_print(Path(inner, QUIET, 0.014, closed=True, dash=(0.08, 0.05)))
        if span.across is None:
            shapes += _leftover_words(show_cut(span.end - span.start, plan.job.unit), left, right, scale)
    return shapes


def _leftover_words(size: str, left: float, right: float, scale: Scale) -> list[Shape]:
    middle = ((left + right) / 2, (scale.upper + scale.lower) / 2)
    for text in (f"leftover {size}", size):
        level = Words(text, middle, _SMALL_IN, QUIET, Anchor.MIDDLE)
        if level.length < right - left - 0.15:
            return [_plate(level), level]
    for text in (f"leftover {size}", size):
        upright = Words(text, middle, _SMALL_IN, QUIET, Anchor.MIDDLE, upwards=True)
        if right - left > _UPRIGHT_IN and upright.length < scale.lower - scale.upper - 0.3:
            return [_plate(upright), upright]
    return []


def ruler_shapes(plan: Plan, scale: Scale) -> list[Shape]:
    """Positions along the piece, under the tier, in the job's unit."""
    step, unit_in = _ruler_step(plan.job.unit, scale.per_inch)
    shapes: list[Shape] = []
    for position in steps_within(Fraction(0), step, scale.span.start, scale.span.end):
        x = scale.x(position)
        shapes.append(Path(((x, scale.lower), (x, scale.lower + 0.06)), INK, 0.01))
        words = show_number(position / unit_in)
        shapes.append(Words(words, (x, scale.lower + _RULER_IN), _SMALL_IN * 0.9, QUIET, Anchor.MIDDLE))
    return shapes


def _ruler_step(unit: Unit, per_inch: float) -> tuple[Fraction, Fraction]:
    """Inches between ticks, at least half a drawing inch apart, and inches in the unit they are counted in."""
    unit_in = {Unit.INCH: Fraction(1), Unit.CENTIMETRE: Fraction(100, 254), Unit.MILLIMETRE: Fraction(10, 254)}[unit]
    steps = (6, 12, 24, 36, 72, 144) if unit is Unit.INCH else (10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
    step = next((s for s in steps if float(s * unit_in) * per_inch >= 0.5), steps[-1])
    return step * unit_in, unit_in


def _plate(words: Words) -> Path:
    left, upper, right, lower = words.box
    return Path(rectangle(left - 0.05, upper - 0.05, right + 0.05, lower + 0.03), fill=CLOTH, closed=True)


def _box(scale: Scale, span: Span, near: Fraction | int, far: Fraction | int, fill: str) -> Path:
    corners = rectangle(scale.x(span.start), scale.y(Fraction(far)), scale.x(span.end), scale.y(Fraction(near)))
    return Path(corners, fill=fill, closed=True)
