"""A panel that is cut, laid back on the table: by one photograph, how far its cuts lie from where its print has them.

The mate of a panel is cut on the print, as planned. So whether the two will match hangs on the print alone: on where
the cuts of the first came to lie on it. How the panel lies now and what it is stretched to does not matter.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration.laying.cut_ends import SURELY, CutEnd, cut_ends
from calibration.laying.edges import Ends
from calibration.laying.fitting import Fitted
from calibration.laying.flattening import Flat
from calibration.laying.grids import on_grid
from calibration.laying.laying import LAID_WITHIN_IN, Laid, Photo, Planned, laid_from_photograph, with_ends
from calibration.laying.recognising import CLEARLY, alike_ways, mean_repeat
from calibration.laying.tile import Tile, Way, main_channel
from calibration.problems import Code, PhotographRefused, Problem, problem
from calibration.quantiles import CENTRAL_95
from calibration.registration.fit import PrintFit
from calibration.registration.fitting import ALL_TERMS
from calibration.registration.lattice import PrintLattice
from calibration.registration.registering import Registration, Surveyed
from calibration.table import Table

Array = NDArray[np.float64]

LENGTH_IN, WIDTH_IN = 1.0, 1.0
"""A panel is another one where its length or its width differs by more: nobody cuts so far off without seeing it."""
TURNED_IN = 1 / 8
"""A print that looks alike turned is taken to lie so where a panel that is not would be cut further off than this, and
a turned one not."""
LOOKED_AT = (0.1, 0.5, 0.9)
"""Shares of the width at which ends are held against the plan to tell how a panel lies."""


@dataclass(frozen=True)
class Off:
    """How far an end was cut from where the print has it, inches of the cloth, towards the last end of the piece above
    0; in 95 of 100 that is within ``within_in``."""

    off_in: float
    within_in: float


@dataclass(frozen=True, eq=False)
class LaidBack:
    """A panel in a photograph. ``ends`` are those towards the first and the last end of its piece; None: not in it.

    ``problems`` are what forbids to judge by it: it lies on its face, or is another panel. ``turned``: it lies turned
    by half a turn; everything here is told as if it did not. ``length_in`` and ``width_in`` are its sizes as far as
    they were seen, planned inches. ``laid`` is what the photograph told of its print, as it lies. ``meant_in`` is where
    the map has the places at which the ends, as they lie, were to be cut: which row is which no photograph of a part
    tells, so each is that of the row nearest to where the end is seen.
    """

    ends: tuple[CutEnd | None, CutEnd | None]
    meant_in: tuple[float, float]
    turned: bool
    problems: tuple[Problem, ...]
    length_in: float | None
    width_in: float | None
    laid: Laid
    found: Registration

    def off(self, last: bool, across_in: float) -> Off | None:
        """How far the end towards the first or the ``last`` end of the piece lies off at a place across the panel, from
        its near side; None where it is not seen."""
        end = self.ends[last != self.turned]
        if end is None:
            return None
        across = self._lying(across_in)
        along, sigma = end.at(across)
        stretch = self.found.fit.stretch_along
        by_print = float(self.found.along_error_in([(along, across)])[0]) / CENTRAL_95
        off = (along - self.meant_in[last != self.turned]) * stretch * (-1 if self.turned else 1)
        return Off(off, CENTRAL_95 * float(np.hypot(sigma * stretch, by_print)))

    def place(self, last: bool, across_in: float) -> tuple[float, float] | None:
        """Where on the table an end lies at a place across; None where it is not seen."""
        end = self.ends[last != self.turned]
        if end is None:
            return None
        across = self._lying(across_in)
        return self._on_table(end.at(across)[0], across)

    def wanted(self, last: bool, across_in: float) -> tuple[float, float]:
        """Where on the table the print has that end."""
        return self._on_table(self.meant_in[last != self.turned], self._lying(across_in))

    def _lying(self, across_in: float) -> float:
        return self.found.fit.lattice.width_in - across_in if self.turned else across_in

    def _on_table(self, along_in: float, across_in: float) -> tuple[float, float]:
        x, y = self.found.fit.to_table([(along_in, across_in)])[0].tolist()
        return x, y


def back_from_photograph(photo: Photo, table: Table, planned: Planned, *, square: bool = False) -> LaidBack:
    """What one photograph of the pattern lit over a panel says of its cuts.

    ``planned`` is the panel as it was cut: ``carried`` where it lies about, on the lattice of its own strip of the
    cloth; ``cut_in`` from where to where along the piece it was to be cut, ``square`` to its selvedge or along its
    print. It may lie turned by half a turn. Raises ``PhotographRefused`` for a photograph that shows no pattern, not
    the print, or neither end of the panel.
    """
    if planned.tile is None or planned.cut_in is None:
        raise PhotographRefused(problem(("photo",), Code.NO_PICTURE))
    bare = replace(planned, cut_in=None, ends_in=(None, None))
    laid, how = laid_from_photograph(photo, table, bare), (planned.cut_in, square)
    if laid.way in (Way.FACE_DOWN, Way.FACE_DOWN_TURNED):
        raise PhotographRefused(problem(("photo",), Code.PANEL_FACE_DOWN))
    if laid.way is Way.TURNED:
        return _judged(laid_from_photograph(photo, table, _turned(bare)), _turned(bare), how, turned=True)
    found = _judged(laid, bare, how, turned=False)
    if found.problems or _strays(found) <= TURNED_IN or not _alike_turned(laid, bare):
        return found
    other = _judged(laid_from_photograph(photo, table, _turned(bare)), _turned(bare), how, turned=True)
    if not other.problems and _strays(other) <= TURNED_IN:
        return replace(found, problems=(problem(("photo",), Code.PANEL_MAY_BE_TURNED),))
    return found


def _judged(laid: Laid, lying: Planned, how: tuple[tuple[float, float], bool], *, turned: bool) -> LaidBack:
    """The panel's own ends and sides in what was laid; ``lying`` is how it was looked for, ``how`` it was cut: from and
    to where along, and whether square to the selvedge."""
    assert lying.tile is not None
    flat = _panel_alone(laid.flat, laid.fitted)
    made, sides = with_ends(flat, laid.fitted)
    made, counted = _counted(made, sides)
    lattice, ((start, end), square) = made.fit.lattice, how
    if not counted and lattice.drop % 1 and lattice.across_in < 2 * LAID_WITHIN_IN:
        raise PhotographRefused(problem(("photo",), Code.SIDES_NOT_SEEN))
    fit = made.fit
    ends = cut_ends(laid.flat, made, lying.tile, square=square)
    if ends == (None, None):
        raise PhotographRefused(problem(("photo",), Code.NO_END_SEEN))
    wanted = (-end, -start) if turned else (start, end)
    length = _length(ends, fit)
    problems = []
    if length is not None and abs(length - (end - start)) > LENGTH_IN:
        problems.append(problem(("photo",), Code.OTHER_LENGTH, found_in=length, length_in=end - start))
    width = None if None in (sides.near_in, sides.far_in) else (sides.far_in or 0.0) - (sides.near_in or 0.0)
    if width is not None and abs(width - fit.lattice.width_in) > WIDTH_IN:
        found, planned_in = width * fit.stretch_across, fit.lattice.width_in
        problems.append(problem(("photo",), Code.OTHER_PANEL_WIDTH, found_in=found, width_in=planned_in))
    meant = _on_rows(ends, wanted, fit.lattice.along_in)
    surveyed = Surveyed(made.pivot, made.covariance, made.uneven_in)
    registered = Registration(fit, (), ALL_TERMS, (), surveyed)
    return LaidBack(ends, meant, turned, tuple(problems), length, width, laid, registered)


def _panel_alone(flat: Flat, made: Fitted) -> Flat:
    """The photograph of as much along as surely shows the panel, with the table at both sides of it."""
    low, high = np.quantile(made.piece_in[made.believed, 0], SURELY)
    along = on_grid(made.fit.to_piece, flat.low, flat.per_in, (flat.trust.shape[0], flat.trust.shape[1]))[..., 0]
    inside = (along > low) & (along < high)
    return replace(flat, trust=flat.trust * inside.astype(np.float32))


def _counted(made: Fitted, sides: Ends) -> tuple[Fitted, bool]:
    """The map on the columns by which the panel's sides lie where they should, and whether a side was seen."""
    lattice = made.fit.lattice
    seen = [(at, wanted) for at, wanted in ((sides.near_in, 0.0), (sides.far_in, lattice.width_in)) if at is not None]
    columns = round(float(np.mean([wanted - at for at, wanted in seen])) / lattice.across_in) if seen else 0
    return made.counted_on(columns * lattice.drop * lattice.along_in, columns * lattice.across_in), bool(seen)


def _length(ends: tuple[CutEnd | None, CutEnd | None], fit: PrintFit) -> float | None:
    first, last = ends
    if first is None or last is None:
        return None
    middle = fit.lattice.width_in / 2
    return last.at(middle)[0] - first.at(middle)[0]


def _on_rows(
    ends: tuple[CutEnd | None, CutEnd | None], wanted: tuple[float, float], along_in: float
) -> tuple[float, float]:
    """Where both ends were to be cut, each so many whole repeats off that it lies nearest to the end as it is seen; one
    that is not seen goes with the other."""
    rows = [
        None if one is None else round((one.at(one.width_in / 2)[0] - at) / along_in)
        for one, at in zip(ends, wanted, strict=True)
    ]
    first, last = (own if own is not None else other or 0 for own, other in ((rows[0], rows[1]), (rows[1], rows[0])))
    return wanted[0] + first * along_in, wanted[1] + last * along_in


def _strays(found: LaidBack) -> float:
    """How far off an end lies at most."""
    width = found.found.fit.lattice.width_in
    seen = [found.off(last, share * width) for last in (False, True) for share in LOOKED_AT]
    return max(abs(one.off_in) for one in seen if one is not None)


def _alike_turned(laid: Laid, planned: Planned) -> bool:
    """Whether the print looks the same turned by half a turn, so that it cannot tell how the panel lies."""
    assert planned.tile is not None
    weights = main_channel(planned.tile.values)
    flat = _panel_alone(laid.flat, laid.fitted)
    values = np.asarray(flat.values @ weights.astype(np.float32), np.float32)
    alike = alike_ways(mean_repeat(flat, values, laid.fitted.fit), planned.tile.through(weights), Way.RIGHT)
    return alike[Way.TURNED] > alike[Way.RIGHT] - CLEARLY


def _turned(planned: Planned) -> Planned:
    """The same print on a panel that lies turned by half a turn: what is counted from its ends and sides runs back."""
    assert planned.tile is not None
    carried, lattice = planned.carried, planned.carried.lattice
    columns = lattice.columns - 1
    back = PrintLattice(
        lattice.along_in,
        lattice.across_in,
        lattice.width_in,
        lattice.width_in - lattice.first_column_in - columns * lattice.across_in,
        -lattice.first_row_in - columns * lattice.drop * lattice.along_in,
        lattice.drop,
    )
    values = planned.tile.lying(Way.TURNED).values
    return replace(planned, carried=replace(carried, lattice=back), tile=Tile(values, back))
