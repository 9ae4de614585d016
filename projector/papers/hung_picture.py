"""The panels as they will hang, seen from inside the room: print the right way round, rows level across each pair.

Windows whose height is known hang above one floor, so that rows which run level from window to window are seen to.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from jobs.model.cuts import Hand
from jobs.model.lengths import show_cut
from jobs.model.plan import Plan
from jobs.model.records import dataclass
from jobs.model.window import Window
from projector.papers.drawing import INK, QUIET, ROW, Anchor, Drawing, Path, Point, Shape, Words
from projector.papers.hung_drawing import FLAT, HungStyle, panel_drawing
from projector.papers.hung_panel import HungPanel, hanging, hung_panels
from projector.papers.sheet.flow import cut_short

_SMALLER = 0.94


@dataclass(frozen=True)
class LineRoom:
    """Where a line of names may stand: the middle ``at``, so wide, its cap height at most and at least, inches."""

    at: Point
    width: float
    height: float
    least: float

    def lower(self, by: float) -> LineRoom:
        """The same so much further down."""
        return replace(self, at=(self.at[0], self.at[1] + by))


def under_panels(
    hands: Sequence[str], sizes: Sequence[str], middles: Sequence[float], room: LineRoom, step: float
) -> list[Words]:
    """The hand under each panel, and ``step`` below it the size: under each where that fits at full height; else one
    size of all is said once, unlike ones are made smaller. ``middles`` are the panels' middles. Where none has a hand
    the sizes stand in its place.
    """
    if not any(hands):
        return spread(sizes, middles, room)
    first, below = spread(hands, middles, room), room.lower(step)
    if len(set(sizes)) == 1 and not _fits(sizes, middles, below, below.height):
        return [*first, *spread([f"{sizes[0]} each"], [below.at[0]], below)]
    return [*first, *spread(sizes, middles, below)]


def spread(texts: Sequence[str], middles: Sequence[float], room: LineRoom) -> list[Words]:
    """Lines about these places, made smaller together until they stand apart; as one line where that is not enough."""
    tall = room.height
    while tall >= room.least:
        if _fits(texts, middles, room, tall):
            return _spread_lines(texts, middles, room.at[1], tall)
        tall *= _SMALLER
    together = ", ".join(texts)
    tall = room.height
    while tall * _SMALLER >= room.least and Words(together, room.at, tall).length > room.width:
        tall *= _SMALLER
    return [Words(cut_short(together, tall, room.width), room.at, tall, INK, Anchor.MIDDLE)]


def _spread_lines(texts: Sequence[str], middles: Sequence[float], y: float, height: float) -> list[Words]:
    return [Words(text, (x, y), height, INK, Anchor.MIDDLE) for text, x in zip(texts, middles, strict=True)]


def _fits(texts: Sequence[str], middles: Sequence[float], room: LineRoom, height: float) -> bool:
    lines = _spread_lines(texts, middles, room.at[1], height)
    left, right = room.at[0] - room.width / 2, room.at[0] + room.width / 2
    inside = lines[0].box[0] >= left and lines[-1].box[2] <= right
    return inside and all(before.box[2] + height / 2 <= after.box[0] for before, after in pairwise(lines))


PAGE_IN = 12.8
_LEAST_PAGE_IN = 6.0
MARGIN_IN = 0.6
_TITLE_IN = 0.2
_TEXT_IN = 0.12
_LEAST_IN = 0.075
_WIDEST_ROW_IN = 340.0
_TALLEST_IN = 6.0
_APART_IN = 5.0
_WINDOWS_APART_IN = 24.0
_ABOVE_IN = 0.75
_BELOW_IN = 0.95
_LINE_IN = 0.22


@dataclass(frozen=True)
class _Hung:
    """A window with its panels, how wide each hangs and the whole window, inches."""

    window: Window
    panels: tuple[HungPanel, ...]
    widths: tuple[float, ...]

    @property
    def width(self) -> float:
        return sum(self.widths) + _APART_IN * (len(self.widths) - 1)

    @property
    def length(self) -> float:
        return float(max(panel.length for panel in self.panels))


def hung_picture(plan: Plan, style: HungStyle = FLAT) -> Drawing:
    """Every window with its panels at their finished size, heading and hems folded away.

    Raises ValueError when nothing is laid.
    """
    if not plan.placements:
        raise ValueError("a plan that lays no cut has nothing to hang")
    rows = _in_rows([item for window in hanging(plan) if (item := _hung(plan, window, style)).panels])
    widest = max(sum(item.width for item in row) + _WINDOWS_APART_IN * (len(row) - 1) for row in rows)
    tallest = max(_height(row) for row in rows)
    per_inch = min((PAGE_IN - 2 * MARGIN_IN) / widest, _TALLEST_IN / tallest)
    how = ", gathered" if style.folded else ""
    shapes: list[Shape] = [
        Words(plan.job.title, (MARGIN_IN, MARGIN_IN), _TITLE_IN, INK),
        Words(f"As it will hang{how}, seen from inside the room", (MARGIN_IN, MARGIN_IN + 0.34), _TEXT_IN, QUIET),
    ]
    y = MARGIN_IN + 0.5
    for row in rows:
        y += _ABOVE_IN
        shapes += _row_shapes(plan, row, y, per_inch, style)
        y += _height(row) * per_inch + _BELOW_IN
    page = max(_LEAST_PAGE_IN, widest * per_inch + 2 * MARGIN_IN)
    return Drawing(page, y + 0.2, _shrunk(shapes, page - 2 * MARGIN_IN), title=f"{plan.job.title}: as it will hang")


def _hung(plan: Plan, window: Window, style: HungStyle) -> _Hung:
    panels = hung_panels(plan, window.name)
    return _Hung(window, panels, tuple(style.gather(panel, window).width for panel in panels))


def _shrunk(shapes: list[Shape], room: float) -> tuple[Shape, ...]:
    """The shapes, with a title that is wider than the sheet made smaller."""
    title = shapes[0]
    if isinstance(title, Words) and title.length > room:
        shapes[0] = Words(title.text, title.at, title.height * room / title.length, title.colour)
    return tuple(shapes)


def _in_rows(hung: list[_Hung]) -> list[list[_Hung]]:
    rows: list[list[_Hung]] = []
    room = 0.0
    for item in hung:
        need = item.width + _WINDOWS_APART_IN
        if not rows or need > room:
            rows.append([])
            room = _WIDEST_ROW_IN
        rows[-1].append(item)
        room -= need
    return rows


def _floor_below(row: list[_Hung]) -> float | None:
    """How far the floor lies below the highest top of a row; None where no height is known."""
    heights = [float(item.window.top_height) for item in row if item.window.top_height is not None]
    return max(heights) if heights else None


def _height(row: list[_Hung]) -> float:
    """From the highest top of a row of windows to the floor, or to the lowest foot."""
    floor = _floor_below(row) or 0.0
    return max(floor, max(_drop(item, floor) + item.length for item in row))


def _drop(item: _Hung, floor: float) -> float:
    """How far the top of a window lies below the highest top of its row; at that height where it is not known."""
    height = item.window.top_height
    return 0.0 if height is None else floor - float(height)


def _row_shapes(plan: Plan, row: list[_Hung], y: float, per_inch: float, style: HungStyle) -> list[Shape]:
    """The windows of one row side by side, ``y`` the highest top; the floor where heights are known."""
    shapes: list[Shape] = []
    floor = _floor_below(row)
    lowest = y + _height(row) * per_inch
    x = MARGIN_IN
    lefts = []
    for item in row:
        lefts.append(x)
        top = y + _drop(item, floor or 0.0) * per_inch
        below = lowest if floor is not None else top + item.length * per_inch
        shapes += _window_shapes(plan, item, (x, top), below, per_inch, style)
        x += (item.width + _WINDOWS_APART_IN) * per_inch
    right = x - _WINDOWS_APART_IN * per_inch
    if floor is not None:
        at = y + floor * per_inch
        shapes.append(Path(((MARGIN_IN - 0.2, at), (right + 0.2, at)), QUIET, 0.03))
    ends = [(left, left + item.width * per_inch, item) for left, item in zip(lefts, row, strict=True)]
    for (_, after, one), (before, _, other) in pairwise(ends):
        for level in sorted(_levels(one) & _levels(other)):
            at = y + (floor or 0.0) * per_inch - float(level) * per_inch
            shapes.append(_level_line(after + 0.12, before - 0.12, at))
    return shapes


def _levels(item: _Hung) -> set[Fraction]:
    """Heights of a window's rows above the floor; none where its own height is not known."""
    height = item.window.top_height
    return set() if height is None else {height - row for panel in item.panels for row in panel.rows_below_top}


def _level_line(left: float, right: float, y: float) -> Path:
    return Path(((left, y), (right, y)), ROW, 0.016, dash=(0.02, 0.05))


def _window_shapes(
    plan: Plan, item: _Hung, corner: tuple[float, float], below: float, per_inch: float, style: HungStyle
) -> list[Shape]:
    """A window, its upper left ``corner`` there, and what is written under it from ``below`` on."""
    window, (left, top), unit = item.window, corner, plan.job.unit
    right = left + item.width * per_inch
    room = right - left + 0.8 * _WINDOWS_APART_IN * per_inch
    middle = (left + right) / 2
    shapes: list[Shape] = [Path(((left - 0.15, top - 0.06), (right + 0.15, top - 0.06)), INK, 0.06)]
    shapes += spread([window.name], [middle], LineRoom((middle, top - 0.32), room, _TEXT_IN * 1.25, _LEAST_IN))
    x, middles = left, []
    for panel, width in zip(item.panels, item.widths, strict=True):
        shapes += panel_drawing(plan, panel, (x, top), per_inch, style, window)
        middles.append(x + width * per_inch / 2)
        x += (width + _APART_IN) * per_inch
    for row in sorted({row for panel in item.panels for row in panel.rows_below_top}):
        shapes.append(_level_line(left - 0.12, right + 0.12, top + float(row) * per_inch))
    sizes = [f"{show_cut(panel.width, unit)} x {show_cut(panel.length, unit)}" for panel in item.panels]
    hands = [_hand(panel) for panel in item.panels]
    under = LineRoom((middle, below + 0.2), room, _TEXT_IN, _LEAST_IN)
    shapes += under_panels(hands, sizes, middles, under, _LINE_IN)
    if window.top_height is not None:
        text = f"top {show_cut(window.top_height, unit)} above the floor"
        lowest = replace(under.lower(2 * _LINE_IN), height=_TEXT_IN * 0.85)
        shapes += (replace(line, colour=QUIET) for line in spread([text], [middle], lowest))
    return shapes


def _hand(panel: HungPanel) -> str:
    return "" if panel.hand is Hand.WHOLE else f"{panel.hand} panel"
