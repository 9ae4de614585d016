"""Upright boxes in table inches, to keep labels apart from each other and from lines, and lines dark inside them."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.model.records import dataclass
from projector.scene.marks import Kind, Mark, Point, Scene, Stroke


@dataclass(frozen=True)
class Box:
    """A rectangle square to the table, x from ``left`` to ``right``, y from ``near`` to ``far``."""

    left: float
    near: float
    right: float
    far: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def depth(self) -> float:
        return self.far - self.near

    @property
    def middle(self) -> Point:
        return ((self.left + self.right) / 2, (self.near + self.far) / 2)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The corners, counter-clockwise from the near left one."""
        return ((self.left, self.near), (self.right, self.near), (self.right, self.far), (self.left, self.far))

    def overlaps(self, other: Box) -> bool:
        """Whether the two share any area."""
        return self.left < other.right and other.left < self.right and self.near < other.far and other.near < self.far

    def holds(self, other: Box) -> bool:
        """Whether the other lies wholly inside."""
        return (
            self.left <= other.left and other.right <= self.right and self.near <= other.near and other.far <= self.far
        )

    def grown(self, by: float) -> Box:
        """The box with ``by`` inches added on each side (taken away when negative)."""
        return Box(self.left - by, self.near - by, self.right + by, self.far + by)

    def cut_to(self, other: Box) -> Box | None:
        """The shared part, or None when there is none."""
        box = Box(
            max(self.left, other.left),
            max(self.near, other.near),
            min(self.right, other.right),
            min(self.far, other.far),
        )
        return box if box.width > 0 and box.depth > 0 else None


def around(middle: Point, width: float, depth: float) -> Box:
    """The box of this width and depth about a middle point."""
    x, y = middle
    return Box(x - width / 2, y - depth / 2, x + width / 2, y + depth / 2)


def box_of_stroke(stroke: Stroke) -> Box:
    """The box that a stroke's points lie in."""
    xs, ys = zip(*stroke.points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


_LEAST_IN = 0.05
FAINT = frozenset((Kind.ROW, Kind.COLUMN, Kind.CROSSING, Kind.FOLD, Kind.TRIM, Kind.LEFTOVER))
"""Lines that make way for letters."""


def parted(scene: Scene, boxes: Sequence[Box]) -> Scene:
    """The scene with its faint upright and level lines dark inside the boxes, so that words are read there."""
    if not boxes:
        return scene
    # Most lines are far from all boxes, and there may be thousands of them.
    left, right = min(box.left for box in boxes), max(box.right for box in boxes)
    near, far = min(box.near for box in boxes), max(box.far for box in boxes)
    parts: list[Mark] = []
    for mark in scene.marks:
        if not (isinstance(mark, Stroke) and len(mark.points) == 2 and mark.kind in FAINT):
            parts.append(mark)
            continue
        (x0, y0), (x1, y1) = mark.points
        outside = max(x0, x1) < left or min(x0, x1) > right or max(y0, y1) < near or min(y0, y1) > far
        if outside or (x0 != x1 and y0 != y1):
            parts.append(mark)
        else:
            parts += _around(mark, boxes)
    return Scene(tuple(parts))


def _around(line: Stroke, boxes: Sequence[Box]) -> tuple[Stroke, ...]:
    """The line as it is where it is far from all boxes."""
    (x0, y0), (x1, y1) = line.points
    low_x, high_x, low_y, high_y = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
    met = tuple(
        box for box in boxes if not (high_x < box.left or low_x > box.right or high_y < box.near or low_y > box.far)
    )
    return with_gaps((line,), met) if met else (line,)


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
