"""The calibrated table: one object that maps table inches to projector pixels and back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration import homography
from calibration.fitting import PLANE, USUAL, Fit, LensPrior, Linearised, fit_marks
from calibration.height import LensPosition
from calibration.least_squares import NoConvergence
from calibration.lens import Lens
from calibration.mark_checks import check_marks, contradicting
from calibration.marks import CAREFUL, CARELESS, Mark, Placing, TapeCheck, pixels_of, tables_of
from calibration.photographed import Photographed
from calibration.problems import Code, MarksRefused, problem
from calibration.quantiles import squares_tail

Array = NDArray[np.float64]

FARTHEST_VIEW = 10.0
"""The lit area ends where the light falls this many times flatter than at the flattest mark, short of the horizon."""
IMPOSSIBLE = 0.001


def frame_grid(width_px: int, height_px: int, columns: int, rows: int, inset: float = 0.0) -> Array:
    """Pixels (columns x rows, 2) spread evenly over the frame, its border included unless ``inset`` (a share)."""
    across = width_px * np.linspace(inset, 1 - inset, columns)
    down = height_px * np.linspace(inset, 1 - inset, rows)
    return np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)


@dataclass(frozen=True, eq=False)
class Table:
    """A fitted calibration. ``matrix`` maps table inch to (ideal) pixel (3x3, last entry 1), ``lens`` bends it.

    ``placing`` is how well marks were set, ``lens_position`` where the projector's lens is when somebody measured it,
    ``tape_check`` the last check with a tape, ``photographed`` how sure it is where photographs made it.
    Pixels outside the frame are valid results: on the map, only not lit.
    """

    width_px: int
    height_px: int
    matrix: Array
    marks: tuple[Mark, ...]
    gamma: float = 2.2
    date: str = ""
    lens: Lens | None = None
    placing: Placing = CAREFUL
    lens_position: LensPosition | None = None
    tape_check: TapeCheck | None = None
    photographed: Photographed | None = None

    def __post_init__(self) -> None:
        matrix = np.array(self.matrix, dtype=np.float64)
        if matrix.shape != (3, 3) or not np.isfinite(matrix).all():
            raise ValueError("the map of a table is a 3x3 matrix of finite numbers")
        matrix.setflags(write=False)
        object.__setattr__(self, "matrix", matrix)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Table):
            return NotImplemented
        mine, theirs = ([getattr(table, field.name) for field in fields(table)] for table in (self, other))
        return all(
            np.array_equal(a, b) if isinstance(a, np.ndarray) else a == b for a, b in zip(mine, theirs, strict=True)
        )

    __hash__ = None  # type: ignore[assignment]

    @cached_property
    def side(self) -> float:
        """Sign of the map's denominator where the marks are; -1 only if the table's zero lies beyond the horizon."""
        return float(np.sign(homography.denominators(self.matrix, tables_of(self.marks)).sum())) if self.marks else 1.0

    @property
    def fit(self) -> Fit:
        """The map and the lens as they were fitted."""
        return Fit(self.matrix * self.side, self.lens or Lens.for_frame(self.width_px, self.height_px))

    def to_frame(self, points_in: ArrayLike) -> Array:
        """Pixels (N, 2) that light the table points (N, 2). Raises ``OutOfReach`` (horizon or lens)."""
        ideal = homography.apply(self.matrix, points_in, self.side)
        return self.lens.apply(ideal) if self.lens else ideal

    def to_table(self, points_px: ArrayLike) -> Array:
        """Table points (N, 2) in inches that the pixels (N, 2) light. Raises ``OutOfReach`` (horizon or lens)."""
        return homography.apply(homography.inverse(self.matrix), self.ideal(points_px), self.side)

    def ideal(self, points_px: ArrayLike) -> Array:
        """Pixels (N, 2) freed from the lens term, as the plane map alone gives them."""
        return self.lens.undo(points_px) if self.lens else homography.points_of(points_px)

    def jacobian(self, points_in: ArrayLike) -> Array:
        """Pixels per inch (N, 2, 2) at table points (N, 2): row u or v, column x or y."""
        plane = homography.jacobian(self.matrix, points_in)
        if self.lens is None:
            return plane
        return self.lens.jacobian(homography.apply(self.matrix, points_in, self.side)) @ plane

    @property
    def residuals_px(self) -> Array:
        """Distance (N,) in pixels between each mark's pixel and what the map gives."""
        return np.linalg.norm(self.to_frame(tables_of(self.marks)) - pixels_of(self.marks), axis=1)

    @property
    def residuals_in(self) -> Array:
        """Distance (N,) in inches on the table between each mark and where the map says its pixel falls."""
        return np.linalg.norm(self.to_table(pixels_of(self.marks)) - tables_of(self.marks), axis=1)

    @property
    def rms_px(self) -> float:
        """Root mean square of ``residuals_px``; four marks always give about 0, which proves nothing."""
        return float(np.sqrt(np.mean(self.residuals_px**2)))

    def contains(self, points_in: ArrayLike) -> NDArray[np.bool_]:
        """Which table points (N,) of (N, 2) the frame can light; false beyond the horizon."""
        points = homography.points_of(points_in)
        inside = homography.denominators(self.matrix, points) * self.side > 0
        pixels = homography.apply(self.matrix, points[inside], self.side)
        if self.lens:
            inside[inside] = within = self.lens.reaches(pixels)
            pixels = self.lens.apply(pixels[within])
        inside[inside] = ((pixels >= 0) & (pixels <= [self.width_px, self.height_px])).all(axis=1)
        return inside

    @cached_property
    def flattest(self) -> float:
        """Least denominator of the map back (frame to table) that counts as lit, see ``FARTHEST_VIEW``."""
        if not self.marks:
            return 0.0
        back = homography.inverse(self.matrix) * self.side
        return float(homography.denominators(back, self.ideal(pixels_of(self.marks))).min()) / FARTHEST_VIEW

    def through(self, affine: Array) -> Table:
        """This table for places that ``affine`` (3, 3) brings to the places it was fitted for.

        Marks and lens position are carried along, so predicted errors stay; a tape check no longer holds and goes.
        """
        back = homography.inverse(affine)
        places = homography.apply(back, tables_of(self.marks)).tolist()
        marks = tuple(Mark((x, y), mark.pixel) for (x, y), mark in zip(places, self.marks, strict=True))
        lens_position = self.lens_position
        if lens_position:
            x, y = homography.apply(back, [lens_position.foot_in])[0].tolist()
            lens_position = replace(lens_position, foot_in=(x, y))
        matrix = homography.normalise(self.matrix @ affine)
        return replace(self, matrix=matrix, marks=marks, lens_position=lens_position, tape_check=None)

    def on_surface(self, raised_in: float) -> Table:
        """This table for cloth whose upper face lies ``raised_in`` above it.

        Raises ``ValueError`` when no lens position is known (see ``possible_shift_in``), ``LensTooLow`` when the
        surface does not lie below the lens.
        """
        if self.lens_position is None:
            raise ValueError("the lens position is not known")
        lower = replace(self.lens_position, height_in=self.lens_position.height_in - raised_in)
        raised = self.through(self.lens_position.aiming(raised_in))
        return replace(raised, lens_position=lower, tape_check=self.tape_check)

    def lit_area(self, along_edge: int = 16) -> Array:
        """Outline (N, 2) in table inches of what the frame lights, clipped short of the horizon; always finite.

        The frame's corners when the lens is plain, else each edge in ``along_edge`` pieces.
        """
        corners = np.array(
            [(0, 0), (self.width_px, 0), (self.width_px, self.height_px), (0, self.height_px)], dtype=float
        )
        back = homography.inverse(self.matrix) * self.side
        if self.lens and not self.lens.is_plain:
            shares = np.arange(along_edge)[:, None] / along_edge
            edges = [
                start + (end - start) * shares for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True)
            ]
            corners = self.ideal(np.vstack(edges))
        keep = back[2] - np.array([0.0, 0.0, self.flattest])
        return homography.apply(back, homography.clip_half_plane(corners, keep))

    def lit_points(self, columns: int, rows: int, inset: float = 0.0) -> Array:
        """Table points (N, 2) in inches that a grid of the frame lights, for looking over all of the lit area.

        Those past the lit area are left out, its corners added; see ``frame_grid`` for ``inset``.
        """
        ideal = self.ideal(frame_grid(self.width_px, self.height_px, columns, rows, inset))
        back = homography.inverse(self.matrix) * self.side
        kept = ideal[homography.denominators(back, ideal) > self.flattest]
        points = homography.apply(back, kept)
        if len(kept) < len(ideal):
            points = np.vstack([points, self.lit_area()])
        return points[homography.denominators(self.matrix, points) * self.side > 0]


def fit_table(
    marks: Sequence[Mark],
    width_px: int,
    height_px: int,
    placing: Placing = CAREFUL,
    lens_prior: LensPrior = USUAL,
) -> Table:
    """The table fitted to four or more marks: exact for four, else the likeliest map and lens (``fit_marks``).

    Raises ``MarksRefused`` (see ``check_marks``), also for marks that disagree more than a hand four times worse than
    ``placing`` would make them once in a thousand fits (no careful work does), and when inches are counted from a point
    on the horizon, which no frame could light.
    """
    check_marks(marks)
    try:
        fit = fit_marks(marks, width_px, height_px, placing, lens_prior)
    except (NoConvergence, homography.OutOfReach, np.linalg.LinAlgError):
        raise MarksRefused(contradicting(None)) from None
    made = Linearised(fit, marks, placing, lens_prior)
    freedom = 2 * len(marks) - PLANE
    if made.is_no_lens:
        raise MarksRefused(contradicting(None))
    if freedom and squares_tail(made.squares / CARELESS**2, freedom) < IMPOSSIBLE:
        raise MarksRefused(contradicting(made.worst_in))
    try:
        matrix = homography.normalise(fit.matrix)
    except homography.OriginOnHorizon:
        raise MarksRefused(problem(("marks",), Code.ORIGIN_ON_HORIZON)) from None
    lens = None if fit.lens.is_plain else fit.lens
    return Table(width_px, height_px, matrix, tuple(marks), lens=lens, placing=placing)
