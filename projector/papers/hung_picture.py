"""The panels as they will hang, seen from inside the room: print the right way round, rows level across each pair."""

from __future__ import annotations

import math
from fractions import Fraction

from jobs.job import Window
from jobs.lengths import show_cut
from jobs.plan import Hand, Plan
from projector.papers.clip import clipped
from projector.papers.drawing import Anchor, Drawing, Path, Shape, Words, rectangle
from projector.papers.hung_panel import HungPanel, hung_panels
from projector.papers.inks import INK, QUIET, ROW, ground_and_motif
from projector.papers.motif import images_of, motif_of

PAGE_IN = 12.8
_LEAST_PAGE_IN = 6.0
MARGIN_IN = 0.6
_TITLE_IN = 0.2
_TEXT_IN = 0.12
_LEAST_IN = 0.08
_WIDEST_ROW_IN = Fraction(250)
_TALLEST_IN = 6.0
_APART_IN = Fraction(5)
_WINDOWS_APART_IN = Fraction(24)
_ABOVE_IN = 0.75
_BELOW_IN = 0.75

Hung = tuple[Window, tuple[HungPanel, ...]]


def hung_picture(plan: Plan) -> Drawing:
    """Every window with its panels flat and at their finished size, heading and hems folded away.

    The motif drawn is a plain one with the symmetry of the job's print. Raises ValueError when nothing is laid.
    """
    if not plan.placements:
        raise ValueError("a plan that lays no cut has nothing to hang")
    hung = [(window, hung_panels(plan, window.name)) for window in plan.job.windows]
    rows = _in_rows([item for item in hung if item[1]])
    widest = max(sum((_width(item) for item in row), _WINDOWS_APART_IN * (len(row) - 1)) for row in rows)
    tallest = max(panel.length for row in rows for _, panels in row for panel in panels)
    per_inch = min((PAGE_IN - 2 * MARGIN_IN) / float(widest), _TALLEST_IN / float(tallest))
    shapes: list[Shape] = [
        Words(plan.job.title, (MARGIN_IN, MARGIN_IN), _TITLE_IN, INK),
        Words("As it will hang, seen from inside the room", (MARGIN_IN, MARGIN_IN + 0.34), _TEXT_IN, QUIET),
    ]
    y = MARGIN_IN + 0.5
    for row in rows:
        y += _ABOVE_IN
        x = MARGIN_IN
        for item in row:
            shapes += _window_shapes(plan, item, x, y, per_inch)
            x += float(_width(item) + _WINDOWS_APART_IN) * per_inch
        y += float(max(panel.length for _, panels in row for panel in panels)) * per_inch + _BELOW_IN
    page = max(_LEAST_PAGE_IN, float(widest) * per_inch + 2 * MARGIN_IN)
    return Drawing(page, y + 0.2, _shrunk(shapes, page - 2 * MARGIN_IN), title=f"{plan.job.title}: as it will hang")


def _shrunk(shapes: list[Shape], room: float) -> tuple[Shape, ...]:
    """The shapes, with a title that is wider than the sheet made smaller."""
    title = shapes[0]
    if isinstance(title, Words) and title.length > room:
        shapes[0] = Words(title.text, title.at, title.height * room / title.length, title.colour)
    return tuple(shapes)


def _in_rows(hung: list[Hung]) -> list[list[Hung]]:
    rows: list[list[Hung]] = []
    room = Fraction(0)
    for item in hung:
        need = _width(item) + _WINDOWS_APART_IN
        if not rows or need > room:
            rows.append([])
            room = _WIDEST_ROW_IN
        rows[-1].append(item)
        room -= need
    return rows


def _width(item: Hung) -> Fraction:
    panels = item[1]
    return sum((panel.width for panel in panels), _APART_IN * (len(panels) - 1))


def _window_shapes(plan: Plan, item: Hung, left: float, top: float, per_inch: float) -> list[Shape]:
    window, panels = item
    right = left + float(_width(item)) * per_inch
    shapes: list[Shape] = [Path(((left - 0.15, top - 0.06), (right + 0.15, top - 0.06)), INK, 0.06)]
    name = Words(window.name, ((left + right) / 2, top - 0.32), _TEXT_IN * 1.25, INK, Anchor.MIDDLE)
    shapes.append(_in_room(name, right - left))
    x = left
    for panel in panels:
        shapes += panel_shapes(plan, panel, x, top, per_inch)
        x += float(panel.width + _APART_IN) * per_inch
    levels = sorted({row for panel in panels for row in panel.rows_below_top})
    for row in levels:
        y = top + float(row) * per_inch
        shapes.append(Path(((left - 0.12, y), (right + 0.12, y)), ROW, 0.016, dash=(0.02, 0.05)))
    return shapes


def panel_shapes(plan: Plan, panel: HungPanel, left: float, top: float, per_inch: float) -> list[Shape]:
    """A panel with its print, seams, hand and size, its upper left corner at (left, top)."""
    cloth = plan.job.cloth
    ground, motif = ground_and_motif(cloth.colour, cloth.motif_colours)
    right, foot = left + float(panel.width) * per_inch, top + float(panel.length) * per_inch
    shapes: list[Shape] = [Path(rectangle(left, top, right, foot), fill=ground, closed=True)]
    size = 0.0
    if cloth.repeat is not None:
        size = 0.66 * float(min(cloth.repeat.along, cloth.repeat.across or cloth.repeat.along)) * per_inch
        size /= math.sqrt(len(images_of(cloth)))
    for place in panel.motifs:
        x, y = left + float(place.from_left) * per_inch, top + float(place.below_top) * per_inch
        for part in motif_of(cloth):
            points = tuple((x + place.right * a * size, y - place.up * b * size) for a, b in part)
            shown = clipped(points, left, top, right, foot)
            if len(shown) > 2:
                shapes.append(Path(shown, fill=motif, closed=True))
    for seam in panel.seams:
        x = left + float(seam) * per_inch
        shapes.append(Path(((x, top), (x, foot)), INK, 0.012, dash=(0.1, 0.06)))
    shapes.append(Path(rectangle(left, top, right, foot), INK, 0.028, closed=True))
    unit = plan.job.unit
    texts = (_hand(panel), f"{show_cut(panel.width, unit)} x {show_cut(panel.length, unit)}")
    for number, text in enumerate(texts):
        words = Words(text, ((left + right) / 2, foot + 0.2 + 0.22 * number), _TEXT_IN, INK, Anchor.MIDDLE)
        shapes.append(_in_room(words, right - left))
    return shapes


def _hand(panel: HungPanel) -> str:
    return "whole" if panel.hand is Hand.WHOLE else f"{panel.hand} panel"


def _in_room(words: Words, room: float) -> Words:
    height = min(words.height, max(words.height * room / words.length, _LEAST_IN)) if words.length else words.height
    return Words(words.text, words.at, height, words.colour, words.anchor)
