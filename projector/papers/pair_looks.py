"""The middle of a pair as it hangs when it looks one way, and when it looks the other: what one chooses by."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from jobs.cutting.resolve import resolve
from jobs.model.choices import Facing
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.planning.in_turn import laid_in_turn
from projector.papers.drawing import INK, Drawing, Path, Shape, rectangle
from projector.papers.hung_drawing import panel_drawing
from projector.papers.hung_panel import HungPanel, hung_panels

_ROOM_IN = (2.3, 2.0)
_ACROSS, _ALONG = 2.0, 2.5
"""So many repeats of each panel are seen from its leading edge and from its top."""
_APART_IN = 2.0
_ROD_IN = 0.08


def pair_looks(job: Job, number: int) -> dict[Facing, Drawing]:
    """Window ``number`` (from 0) of a job of one cloth, its pair looking either way. Raises JobRefused."""
    return {facing: _drawn(job, number, facing) for facing in Facing}


def _drawn(job: Job, number: int, facing: Facing) -> Drawing:
    window = replace(job.windows[number], facing=facing)
    windows = (*job.windows[:number], window, *job.windows[number + 1 :])
    resolved = resolve(replace(job, windows=windows)).sound()
    plan = laid_in_turn(resolved, resolved.windows[number].cuts)
    left, right = hung_panels(plan, window.name)
    wide, tall = _seen(left, job.cloth)
    whole = 2 * wide + _APART_IN
    per_inch = min(_ROOM_IN[0] / whole, (_ROOM_IN[1] - _ROD_IN) / tall)
    page = whole * per_inch, tall * per_inch + _ROD_IN
    shapes: list[Shape] = [
        *panel_drawing(plan, left, ((wide - float(left.width)) * per_inch, _ROD_IN), per_inch),
        *panel_drawing(plan, right, ((wide + _APART_IN) * per_inch, _ROD_IN), per_inch),
        Path(rectangle(0.0, 0.0, page[0], _ROD_IN), fill=INK, closed=True),
    ]
    return Drawing(*page, tuple(_inside(shapes, *page)), title=facing.value)


def _seen(panel: HungPanel, cloth: Cloth) -> tuple[float, float]:
    """How much of a panel is seen, inches: across and down."""
    repeat = cloth.repeat
    if repeat is None:
        return float(panel.width), float(panel.length)
    across = repeat.across if repeat.across is not None else repeat.along
    return min(float(panel.width), _ACROSS * float(across)), min(float(panel.length), _ALONG * float(repeat.along))


def _inside(shapes: Iterable[Shape], wide: float, high: float) -> Iterable[Shape]:
    """The shapes of which any part may be seen on a page of this size."""
    for shape in shapes:
        if isinstance(shape, Path):
            xs, ys = zip(*shape.points, strict=True)
            if min(xs) > wide or max(xs) < 0 or min(ys) > high or max(ys) < 0:
                continue
        yield shape
