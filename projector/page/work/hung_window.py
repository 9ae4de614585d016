"""One window as it will hang, drawn to fill the room beside the form: panels, rows, hands and sizes, letters large."""

from __future__ import annotations

from dataclasses import replace

from jobs.model.cuts import Hand
from jobs.model.lengths import show_cut
from jobs.model.plan import Plan
from projector.papers.drawing import INK, QUIET, ROW, Anchor, Drawing, Path, Shape, Words
from projector.papers.hung_drawing import FLAT, HungStyle, panel_drawing
from projector.papers.hung_panel import HungPanel, hung_panels

PIXELS_PER_INCH = 96
_TEXT_IN, _LEAST_IN = 0.125, 0.085
_HEAD_IN, _FOOT_IN, _SIDE_IN = 0.52, 0.62, 0.35
_APART_IN = 5.0
_LEAST_ROOM_IN = 1.2


def hung_window(plan: Plan, number: int, width_in: float, height_in: float, style: HungStyle = FLAT) -> Drawing:
    """Window ``number`` (from 0) of the plan, whole, on a page of this size in drawing inches."""
    window = plan.job.windows[number]
    panels = hung_panels(plan, window.name)
    wide = sum(float(panel.width) for panel in panels) + _APART_IN * (len(panels) - 1)
    tall = max(float(panel.length) for panel in panels)
    room = max(_LEAST_ROOM_IN, width_in - 2 * _SIDE_IN), max(_LEAST_ROOM_IN, height_in - _HEAD_IN - _FOOT_IN)
    per_inch = min(room[0] / wide, room[1] / tall)
    page = room[0] + 2 * _SIDE_IN, room[1] + _HEAD_IN + _FOOT_IN
    left, top = (page[0] - wide * per_inch) / 2, _HEAD_IN
    right = left + wide * per_inch
    name = Words(window.name, (page[0] / 2, 0.2), _TEXT_IN * 1.2, INK, Anchor.MIDDLE)
    shapes: list[Shape] = [
        _fitted(name, page[0] - 0.2),
        Path(((left - 0.12, top - 0.06), (right + 0.12, top - 0.06)), INK, 0.06),
    ]
    x = left
    for panel in panels:
        shapes += panel_drawing(plan, panel, (x, top), per_inch, style)
        end = x + float(panel.width) * per_inch
        span = page[0] - 0.1 if len(panels) == 1 else end - x + 0.8 * _APART_IN * per_inch
        shapes += _under(plan, panel, (x + end) / 2, top + tall * per_inch, span)
        x = end + _APART_IN * per_inch
    for row in sorted({row for panel in panels for row in panel.rows_below_top}):
        y = top + float(row) * per_inch
        shapes.append(Path(((left - 0.1, y), (right + 0.1, y)), ROW, 0.016, dash=(0.02, 0.05)))
    return Drawing(*page, tuple(shapes), title=f"{window.name}: as it will hang")


def _under(plan: Plan, panel: HungPanel, middle: float, foot: float, room: float) -> list[Shape]:
    unit = plan.job.unit
    size = f"{show_cut(panel.width, unit)} x {show_cut(panel.length, unit)}"
    lines = [(size, QUIET)] if panel.hand is Hand.WHOLE else [(f"{panel.hand} panel", INK), (size, QUIET)]
    return [
        _fitted(Words(words, (middle, foot + 0.18 + 0.23 * line), _TEXT_IN, colour, Anchor.MIDDLE), room)
        for line, (words, colour) in enumerate(lines)
    ]


def _fitted(words: Words, room: float) -> Words:
    """The line, made smaller when it is longer than its room, but never too small to be read."""
    if words.length <= room:
        return words
    return replace(words, height=max(_LEAST_IN, words.height * room / words.length))
