"""Faint lines interrupted where letters stand, so that nothing runs through a word."""

from __future__ import annotations

from projector.scene.boxes import Box
from projector.scene.marks import Stroke

_LEAST_IN = 0.05


def with_gaps(strokes: tuple[Stroke, ...], boxes: tuple[Box, ...]) -> tuple[Stroke, ...]:
    """The strokes (each one straight line along x or y) without their parts inside the boxes."""
    return tuple(part for stroke in strokes for part in _parts(stroke, boxes))


def _parts(stroke: Stroke, boxes: tuple[Box, ...]) -> tuple[Stroke, ...]:
    (x0, y0), (x1, y1) = stroke.points
    runs_across = x0 == x1
    spans = [(y0, y1) if runs_across else (x0, x1)]
    for box in boxes:
        if runs_across and box.left < x0 < box.right:
            spans = _without(spans, box.near, box.far)
        elif not runs_across and box.near < y0 < box.far:
            spans = _without(spans, box.left, box.right)
    if runs_across:
        return tuple(Stroke(stroke.kind, ((x0, low), (x0, high))) for low, high in spans)
    return tuple(Stroke(stroke.kind, ((low, y0), (high, y0))) for low, high in spans)


def _without(spans: list[tuple[float, float]], low: float, high: float) -> list[tuple[float, float]]:
    found = []
    for start, end in spans:
        if end <= low or start >= high:
            found.append((start, end))
            continue
        found += [(a, b) for a, b in ((start, low), (high, end)) if b - a > _LEAST_IN]
    return found
