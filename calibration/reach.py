"""Places the light cannot reach: the one kind of error that mapping a point can raise."""

from __future__ import annotations


class OutOfReach(ValueError):  # noqa: N818
    """Some points have no image under the map. ``points`` holds their indices, counted from 0."""

    reason = "out of reach of the light"

    def __init__(self, points: tuple[int, ...]) -> None:
        self.points = points
        shown = ", ".join(str(index) for index in points[:5]) + (", ..." if len(points) > 5 else "")
        super().__init__(f"{self.reason}: point {shown}")


class BeyondHorizon(OutOfReach):
    """The points lie on or behind the line that the map sends to infinity."""

    reason = "on or beyond the horizon of the map"


class BeyondLens(OutOfReach):
    """The points lie so far out that the radial lens term folds back on itself."""

    reason = "outside the field the lens term describes"
