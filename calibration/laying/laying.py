"""The print as it lies from one photograph: what is asked, what is answered."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.laying.aligning import camera_of
from calibration.laying.camera import PhotoMap
from calibration.laying.comparing import Compared, compared
from calibration.laying.edges import BESIDE_IN, INSIDE_IN, TABLE_IN, Ends, ends_of
from calibration.laying.fitting import Fitted, fitted
from calibration.laying.flattening import Flat, Lit, flattened
from calibration.laying.recognising import CLEARLY, LEAST_ALIKE, alike_ways, alikeness, margins, mean_repeat, way_of
from calibration.laying.second import Second, second_seen
from calibration.laying.seeking import ground_of, sought
from calibration.laying.tapped import counted_from, place_of, tile_about, tile_of_all
from calibration.laying.tile import Tile, Way, main_channel
from calibration.problems import Code, PhotographRefused, Problem, problem
from calibration.registration.fit import PrintFit
from calibration.registration.fitting import ALL_TERMS
from calibration.registration.lattice import PrintLattice, PrintPoint
from calibration.registration.registering import Registration, Surveyed
from calibration.table import Table

Array = NDArray[np.float64]
Picture = NDArray[np.float32]
Rgb = NDArray[np.uint8]

COMPARISONS = 3
LEAST_PLACES = 6
SEEN_WELL = 0.3
END_IN, END_SHARE = 1.0, 0.3
"""An end of the cloth settles the row where it lies this near to where that is planned, and by this share of a repeat:
nobody cuts an end straighter."""
WIDTH_IN, WIDTH_SHARE = 1.0, 0.01
"""A cloth is another one where its width differs by more than this and this share: so far off is an edge seen now and
then, where the print beside a selvedge is like it (as came out of 30 rendered photographs)."""
SCALED = 0.02
"""A print that lies larger both ways by more than this share, or smaller, was not pulled so: cloth that is drawn out
one way draws in the other (common practice, no source)."""
LAID_WITHIN_IN = 4.0
"""A person lays cloth so near to where it is planned (a setting): about so many inches off its columns are sought."""
PAST_IN = 1 / 4
MOST_POINTS = 48
"""Motif points that the record keeps: as many as a person could look at."""
NEAR_IN = 4.0


@dataclass(frozen=True, eq=False)
class Photo:
    """A photograph (height, width, 3), sRGB, of what was ``lit``; and a second one of the same size, taken by hand from
    nearly the same place in white light or that of the room, where the pattern hides too much of the print."""

    rgb: Rgb
    lit: Lit
    white: Rgb | None = None


@dataclass(frozen=True, eq=False)
class Planned:
    """What the job says of the print that should lie there.

    ``carried``: where the light has it now (``PrintFit.plain`` at first); what is found is counted in whole repeats
    from there. ``tile``: one repeat as it lies, its motif point in the middle; None where nobody photographed it: then
    ``tapped_px`` is a motif point in the photograph, pixels from its corner.
    ``ends_in``: where along the piece the cloth ends at the left and at the right, as far as known: by an end that is
    seen the row is settled. ``cut_in``: from where to where along the piece the coming cut goes.
    """

    carried: PrintFit
    tile: Tile | None
    tapped_px: tuple[float, float] | None = None
    ends_in: tuple[float | None, float | None] = (None, None)
    cut_in: tuple[float, float] | None = None


@dataclass(frozen=True, eq=False)
class Laid:
    """``registration`` is what touched points give: kept, and lit by, alike.

    ``problems`` are what forbids to cut by it: the cloth lies turned or on its other face, has another width, or ends
    before the cut does. ``row_open``: a photograph of a part of the cloth cannot tell one row from the next; the row is
    the one nearest to where it was expected. ``ends`` are the selvedges and ends of the cloth as seen. The rest is what
    was seen on the way, for pictures of it. ``tile`` is the repeat as it was found about a tapped motif. ``second`` is
    where a second photograph was taken from, in which the print was then looked for: ``flat`` is that one.
    """

    registration: Registration
    problems: tuple[Problem, ...]
    row_open: bool
    ends: Ends
    way: Way
    camera: PhotoMap
    flat: Flat
    compared: Compared
    fitted: Fitted
    tile: Tile | None = None
    second: Second | None = None


WAYS = {
    Way.TURNED: Code.LIES_TURNED,
    Way.FACE_DOWN: Code.LIES_FACE_DOWN,
    Way.FACE_DOWN_TURNED: Code.LIES_FACE_DOWN_TURNED,
}


def laid_from_photograph(photo: Photo, table: Table, planned: Planned) -> Laid:
    """Where the print lies under the light, from one photograph of the pattern lit over the cloth.

    ``table`` is the calibration that the cut lines are lit by, on the surface of the cloth where that is known.
    Raises ``PhotographRefused`` for a photograph that shows no pattern, or not the print.
    """
    if planned.tile is None and planned.tapped_px is None:
        raise PhotographRefused(problem(("photo",), Code.NO_PICTURE))
    try:
        camera, sheet = camera_of(photo.rgb, table, photo.lit)
    except (homography.OutOfReach, np.linalg.LinAlgError, ArithmeticError):
        raise PhotographRefused(problem(("photo",), Code.OTHER_LIGHT)) from None
    flat = flattened(sheet, camera, table, photo.lit)
    seen_well = flat.values[flat.trust > SEEN_WELL]
    weights = main_channel(planned.tile.values if planned.tile is not None else seen_well)
    search = _Search.of(flat, flat, weights, camera, planned)
    if photo.white is not None:
        second, white = second_seen(photo.white, photo.lit.pattern, camera, flat, weights)
        search = _Search.of(white, flat, weights, second, planned)
    if planned.tile is None:
        return _laid_by_a_tap(search, camera)
    tile = planned.tile.through(weights)
    needed = margins(tile)
    found = _found(search, tile, tuple(Way))
    way = way_of(found.alike, needed)
    if found.way is not Way.RIGHT and way is Way.RIGHT:
        found = _found(search, tile, (Way.RIGHT,))
        way = way_of(found.alike, needed)
    if photo.white is not None:
        _settled(search, found, tile)
    return _told(search, camera, found, way)


def _settled(search: _Search, found: _Found, tile: Tile) -> None:
    """Raises ``PhotographRefused`` where the photograph with the pattern bears out that the print lies elsewhere than
    the second one has it: a print that is nearly the same after half a repeat is brought onto itself wrongly."""
    first = search.first
    values = np.asarray(first.values @ search.weights.astype(np.float32), np.float32)
    repeat, lying = mean_repeat(first, values, found.made.fit), tile.lying(found.way)
    if alikeness(repeat, lying, anywhere=False) < alikeness(repeat, lying, anywhere=True) - CLEARLY:
        raise PhotographRefused(problem(("white",), Code.NOT_SETTLED))


def _told(search: _Search, camera: PhotoMap, found: _Found, way: Way, tile: Tile | None = None) -> Laid:
    """What was found, counted from where the cloth's own edges say, with what these forbid."""
    planned = search.planned
    made, ends, row_open = _counted(*with_ends(search.first, found.made), planned)
    problems = [problem(("photo",), WAYS[way])] if way in WAYS else []
    if _column_open(made.fit.lattice, ends):
        problems.append(problem(("photo",), Code.NO_SELVEDGE))
    problems += _of_the_cloth(made.fit, ends, planned)
    registration = _registration(made)
    second = search.camera if isinstance(search.camera, Second) else None
    return Laid(registration, tuple(problems), row_open, ends, way, camera, search.flat, found.seen, made, tile, second)


def with_ends(flat: Flat, made: Fitted) -> tuple[Fitted, Ends]:
    """The map counted on by as few columns as it takes to see a selvedge where one should be, and what is seen.

    A block that lies far from where it was expected was laid on the nearest repeat, which may be of another column.
    """
    lattice = made.fit.lattice
    most = int(LAID_WITHIN_IN / lattice.across_in + 0.5)
    wide: tuple[int, Fitted, Ends] | None = None
    for columns in sorted(range(-most, most + 1), key=abs):
        counted = made.counted_on(columns * lattice.drop * lattice.along_in, columns * lattice.across_in)
        ends = ends_of(flat, counted.fit)
        near, far = ends.near_in, ends.far_in
        if near is None and far is None:
            continue
        if near is not None and far is not None:
            if abs(far - near - lattice.width_in) < WIDTH_IN:
                return counted, ends
            wide = wide or (columns, counted, ends)
        elif wide is None or _one_edge_was_none(wide[2], ends, (columns - wide[0]) * lattice.across_in, lattice):
            return counted, ends
    return (made, Ends()) if wide is None else wide[1:]


def _one_edge_was_none(before: Ends, now: Ends, by_in: float, lattice: PrintLattice) -> bool:
    """Whether of two edges that lie as far apart as in no cloth of this width one is not seen again ``by_in`` further
    on, though it would be looked for there: it was a part of the print."""
    assert before.near_in is not None
    assert before.far_in is not None
    inwards = before.near_in + by_in if now.near_in is None else lattice.width_in - before.far_in - by_in
    return -BESIDE_IN + TABLE_IN < inwards < INSIDE_IN


def _column_open(lattice: PrintLattice, ends: Ends) -> bool:
    """Whether the rows are those of the print, or lie between them by its drop, for nothing tells its columns apart."""
    unseen = ends.near_in is None and ends.far_in is None
    return unseen and bool(lattice.drop % 1) and lattice.across_in < 2 * LAID_WITHIN_IN


def _counted(made: Fitted, ends: Ends, planned: Planned) -> tuple[Fitted, Ends, bool]:
    """The map counted on whole columns, so that the selvedges lie where they are planned, and on whole rows, so that an
    end that is known does; and whether the row is still open."""
    lattice = made.fit.lattice
    seen = [(at, wanted) for at, wanted in ((ends.near_in, 0.0), (ends.far_in, lattice.width_in)) if at is not None]
    columns = round(float(np.mean([wanted - at for at, wanted in seen])) / lattice.across_in) if seen else 0
    along, across = columns * lattice.drop * lattice.along_in, columns * lattice.across_in
    rows, row_open = 0, True
    for at, wanted in zip((ends.left_in, ends.right_in), planned.ends_in, strict=True):
        if at is None or wanted is None:
            continue
        missed = (wanted - at - along) / lattice.along_in
        if abs(missed - round(missed)) * lattice.along_in <= min(END_IN, END_SHARE * lattice.along_in):
            rows, row_open = round(missed), False
            break
    along += rows * lattice.along_in
    return made.counted_on(along, across), ends.counted_on(along, across), row_open


def _of_the_cloth(fit: PrintFit, ends: Ends, planned: Planned) -> Iterator[Problem]:
    """What the cloth's own edges and the size of its print forbid."""
    if _scaled(fit):
        along_in = fit.lattice.along_in
        yield problem(("photo",), Code.OTHER_SCALE, found_in=fit.stretch_along * along_in, along_in=along_in)
    elif ends.near_in is not None and ends.far_in is not None:
        found, width = (ends.far_in - ends.near_in) * fit.stretch_across, fit.lattice.width_in
        if abs(found - width) > WIDTH_IN + WIDTH_SHARE * width:
            yield problem(("photo",), Code.OTHER_WIDTH, found_in=found, width_in=width)
    if planned.cut_in is not None:
        start, end = planned.cut_in
        past = max(
            0.0 if ends.left_in is None else ends.left_in - start, 0.0 if ends.right_in is None else end - ends.right_in
        )
        if past > PAST_IN:
            yield problem(("photo",), Code.CUT_LEAVES_CLOTH, past_in=past)


def _scaled(fit: PrintFit) -> bool:
    """Whether everything is larger, or smaller, than it is in the job: then the inches of the table are other ones."""
    along, across = fit.stretch_along - 1, fit.stretch_across - 1
    return min(abs(along), abs(across)) > SCALED and along * across > 0


def _laid_by_a_tap(search: _Search, camera: PhotoMap) -> Laid:
    """The same where no picture of the print is kept: its repeat is taken from around the motif that was tapped."""
    flat, planned = search.flat, search.planned
    assert planned.tapped_px is not None
    place = place_of(planned.tapped_px, camera)
    planned = replace(planned, carried=counted_from(place, planned.carried))
    search = replace(search, planned=planned)
    found = _found(search, tile_about(flat, search.values, place, planned.carried), (Way.RIGHT,))
    tile = tile_of_all(flat, found.made.fit)
    found = _found(search, tile.through(search.weights), (Way.RIGHT,))
    return _told(search, camera, found, Way.RIGHT, tile)


@dataclass(frozen=True, eq=False)
class _Search:
    """The photograph in which the print is looked for, in the one channel in which it is compared; ``first`` is the one
    with the pattern, which may be the same: by it the cloth's edges are told."""

    flat: Flat
    first: Flat
    values: Picture
    weights: Array
    camera: PhotoMap | Second
    planned: Planned

    @property
    def path(self) -> tuple[str, ...]:
        """Which photograph the print was looked for in."""
        return ("photo",) if self.flat is self.first else ("white",)

    @classmethod
    def of(cls, flat: Flat, first: Flat, weights: Array, camera: PhotoMap | Second, planned: Planned) -> _Search:
        values = np.asarray(flat.values @ weights.astype(np.float32), np.float32)
        return cls(flat, first, values, weights, camera, planned)


@dataclass(frozen=True, eq=False)
class _Found:
    """The map, how the cloth was taken to lie, and how like it is to the print lying each way."""

    way: Way
    alike: dict[Way, float]
    seen: Compared
    made: Fitted


def _found(search: _Search, tile: Tile, ways: tuple[Way, ...]) -> _Found:
    """The print (a tile of one channel) sought, followed and compared. Raises ``PhotographRefused``."""
    flat, carried = search.flat, search.planned.carried
    rough = sought(ground_of(flat, search.weights, carried.lattice), tile, carried, ways)
    if rough is None:
        raise PhotographRefused(problem(search.path, Code.PRINT_NOT_FOUND))
    fit = rough.fit
    lying = tile.lying(rough.way).sized(1.5 * flat.per_in)
    for _ in range(COMPARISONS):
        seen = compared(flat, search.values, lying, fit)
        if len(seen.alike) < LEAST_PLACES:
            raise PhotographRefused(problem(search.path, Code.PRINT_NOT_FOUND))
        made = fitted(seen.places, fit, carried, search.camera)
        fit = made.fit
    # The mean repeat hangs on the lattice alone, and that lies alike whichever way the cloth does.
    alike = alike_ways(mean_repeat(flat, search.values, fit), tile, rough.way)
    if alike[rough.way] < LEAST_ALIKE:
        raise PhotographRefused(problem(search.path, Code.PRINT_NOT_FOUND))
    return _Found(rough.way, alike, seen, made)


def _registration(made: Fitted) -> Registration:
    """The map as a record of motif points, each where the places around it saw it."""
    fit, lattice = made.fit, made.fit.lattice
    piece = made.piece_in
    low, high = piece[:, 0].min(), piece[:, 0].max()
    motifs = [(row, column) for column in range(lattice.columns) for row in lattice.rows_between(low, high, column)]
    at = lattice.places(motifs)
    apart = np.linalg.norm(at[:, None] - piece[None], axis=2)
    weights = np.exp(-0.5 * (apart / NEAR_IN) ** 2) * made.believed
    known = weights.sum(axis=1) > 0.5
    off = weights @ made.off_in / np.maximum(weights.sum(axis=1), 1e-9)[:, None]
    places = fit.to_table(at) + off
    which = np.flatnonzero(known)
    which = which[np.linspace(0, len(which) - 1, min(len(which), MOST_POINTS)).astype(int)]
    near = [PrintPoint(motifs[k][0], motifs[k][1], (float(places[k, 0]), float(places[k, 1]))) for k in which.tolist()]
    return Registration(fit, tuple(near), ALL_TERMS, (), Surveyed(made.pivot, made.covariance, made.uneven_in))
