"""Upright boxes in table inches, to keep labels apart from each other and from lines."""

from __future__ import annotations

from dataclasses import dataclass

from projector.scene.marks import Point


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
