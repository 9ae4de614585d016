"""A slanted photograph seen from straight above: the horizon of the print's lattice tells how the camera stood."""

from __future__ import annotations

import numpy as np

from jobs.model.records import dataclass
from jobs.prints.photographs.opening import Array
from jobs.prints.photographs.plane import mapped

USUAL_FOCAL_MM = 27.0
"""Of a telephone's camera, as on film of 24 x 36 mm, where the file does not tell."""
USUAL_ERROR = 0.15
WRITTEN_ERROR = 0.03
_FILM_DIAGONAL_MM = 43.2666


@dataclass(frozen=True)
class View:
    """How a picture was taken: its ``size`` in pixels, its focal length in pixels and the share by which that may be
    off (one standard error). ``given`` (3, 3), when marked corners tell it, leads from pixels to level ones."""

    size: tuple[int, int]
    focal_px: float
    focal_error: float
    given: Array | None = None

    @property
    def middle(self) -> Array:
        """The place (2,) the camera looked at."""
        return np.array([self.size[0] / 2, self.size[1] / 2])


def view_of(size: tuple[int, int], focal_mm: float | None, given: Array | None = None) -> View:
    """The view of a picture of this (width, height); ``focal_mm`` as on film of 24 x 36 mm, when the file tells it."""
    error = USUAL_ERROR if focal_mm is None else WRITTEN_ERROR
    return View(size, (focal_mm or USUAL_FOCAL_MM) / _FILM_DIAGONAL_MM * float(np.hypot(*size)), error, given)


def levelled(matrix: Array, view: View, focal_px: float | None = None) -> Array:
    """The map (3, 3) from pixels to pixels as seen from straight above; the middle of the picture stays, and there the
    scale square to the slant.

    ``matrix`` (3, 3) leads from steps of a lattice to pixels. The line its plane runs to at infinity gives, with the
    focal length, the direction the plane faces (R. Hartley and A. Zisserman, Multiple View Geometry in Computer Vision,
    2nd ed. 2004, 8.6); the rays of the picture are turned until that direction is the camera's own.
    """
    if view.given is not None:
        return view.given
    focal = view.focal_px if focal_px is None else focal_px
    x, y = view.middle
    to_pixels = np.array([(focal, 0, x), (0, focal, y), (0, 0, 1)])
    faces = to_pixels.T @ np.linalg.inv(matrix)[2]
    faces = faces / np.linalg.norm(faces) * (1 if faces[2] >= 0 else -1)
    a, b, c = faces
    cross = np.array([(0, 0, -a), (0, 0, -b), (a, b, 0)])
    turned = np.eye(3) + cross + cross @ cross / (1 + c)
    out = np.array([(focal * c, 0, x), (0, focal * c, y), (0, 0, 1)])
    level: Array = out @ turned @ np.linalg.inv(to_pixels)
    back = np.eye(3)
    back[:2, 2] = view.middle - mapped(level, view.middle)
    level = back @ level
    return level / level[2, 2]
