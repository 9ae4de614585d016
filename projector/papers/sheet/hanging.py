"""The windows as they will hang, on the cut sheet: two beside each other where there is room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jobs.plan import Plan
from projector.papers.drawing import Path, Shape, Words
from projector.papers.hung.words import under_panels
from projector.papers.hung_panel import HungPanel, hung_panels
from projector.papers.hung_picture import panel_shapes
from projector.papers.inks import INK
from projector.papers.sheet.flow import TEXT_IN, Block, heading, moved, wrapped_exactly
from projector.papers.sheet.say import Say

_BETWEEN_IN = 0.35
_APART_IN = 3.0
_TALLEST_IN = 2.4
_UNLIKE = 2.2
"""Windows side by side are drawn to one scale unless one of them would be made so many times smaller by it."""
_TOP_IN = 0.32
_LEAST_IN = 0.07
_NAME_IN = 0.105
_LINE_IN = 0.2
_NAMES_SAID = 10

Panels = tuple[HungPanel, ...]


def hung_blocks(plan: Plan, say: Say, room: float) -> Iterator[Block]:
    """Each window as it will hang, seen from inside the room; windows that look the same are drawn once."""
    yield heading("As it will hang, seen from inside the room")
    alike: dict[Panels, list[str]] = {}
    for window in plan.job.windows:
        if panels := hung_panels(plan, window.name):
            alike.setdefault(panels, []).append(window.name)
    drawn = list(alike.items())
    half = (room - _BETWEEN_IN) / 2
    for beside in (drawn[at : at + 2] for at in range(0, len(drawn), 2)):
        scales = [_scale(panels, half) for panels, _ in beside]
        if max(scales) / min(scales) < _UNLIKE:
            scales = [min(scales)] * len(scales)
        titles = [_title(names, half) for _, names in beside]
        lines = max(map(len, titles))
        shapes: list[Shape] = []
        heights = []
        for at, ((panels, _), title, scale) in enumerate(zip(beside, titles, scales, strict=True)):
            block = _window(plan, say, title, _LINE_IN * (lines - 1), panels, half, scale)
            shapes += moved(block.shapes, at * (half + _BETWEEN_IN), 0)
            heights.append(block.height)
        yield Block(max(heights), tuple(shapes))


def _title(names: Sequence[str], room: float) -> list[str]:
    """The names of windows that look the same, in lines."""
    said = ", ".join(names[:_NAMES_SAID])
    more = f" and {len(names) - _NAMES_SAID} more" if len(names) > _NAMES_SAID else ""
    return wrapped_exactly(said + more, _NAME_IN, room)


def _scale(panels: Panels, room: float) -> float:
    """Paper inches to an inch of the window."""
    tallest = float(max(panel.length for panel in panels))
    return min(room / _wide(panels), _TALLEST_IN / tallest)


def _wide(panels: Panels) -> float:
    return float(sum(panel.width for panel in panels)) + _APART_IN * (len(panels) - 1)


def _window(
    plan: Plan, say: Say, title: Sequence[str], lower: float, panels: Panels, room: float, per_inch: float
) -> Block:
    """A title and under it the panels, ``lower`` inches lower than under a title of one line."""
    shapes: list[Shape] = [Words(line, (0.0, 0.12 + _LINE_IN * n), _NAME_IN, INK) for n, line in enumerate(title)]
    top = _TOP_IN + lower
    width = _wide(panels) * per_inch
    x = left = (room - width) / 2
    shapes.append(Path(((left, top - 0.04), (left + width, top - 0.04)), INK, 0.03))
    middles = []
    for panel in panels:
        across = float(panel.width) * per_inch
        shapes += panel_shapes(plan, panel, x, top, per_inch)
        middles.append(x + across / 2)
        x += across + _APART_IN * per_inch
    tallest = float(max(panel.length for panel in panels)) * per_inch
    shapes += _under(panels, say, middles, top + tallest + 0.14, room)
    return Block(top + tallest + 0.55, tuple(shapes))


def _under(panels: Panels, say: Say, middles: Sequence[float], y: float, room: float) -> list[Words]:
    """Hand and size under each panel."""
    sizes = [f"{say(panel.width)} x {say(panel.length)}" for panel in panels]
    hands = [panel.hand.value for panel in panels]
    return under_panels(hands, sizes, middles, (room / 2, y), room, TEXT_IN, _LEAST_IN, 0.18)
