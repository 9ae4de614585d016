"""Where the cloth itself ends in a photograph: its selvedges and its two ends, where bare table is to be seen beside.

The table beside a selvedge shows what the table looks like; where the picture ceases to look like it, the cloth begins.
Everything is looked at under the map of the print, in inches of the piece as planned.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration.laying.comparing import piece_grid
from calibration.laying.flattening import Flat
from calibration.laying.grids import on_grid
from calibration.registration.fit import PrintFit, depth_shares

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

PER_IN = 10.0
BESIDE_IN = 8.0
"""So far from where a selvedge is expected it is looked for, either way."""
INSIDE_IN = 3.0
"""A cloth is narrower than planned by less than this on either side; from there it is looked outwards for its edge."""
BEARS_OUT_IN = 0.5
TABLE_IN = 1.0
"""So much bare table must be seen beside a selvedge."""
DIFFERS, BEGINS = 0.16, 0.25
"""What differs no more than the first from the table, in the logarithm of its colour, is table; the cloth differs by
the second at least, beyond the noise, and by this share of what it differs farther in."""
STEP_SHARE = 0.35
NOISES = 5.0
PARTS, LEAST_PARTS = 10, 4
AGREE_IN, END_AGREES_IN = 0.15, 0.75
"""Parts of a selvedge agree on where it is; those of an end as far as an end is cut straight and rows are not."""
LEAST_SEEN = 0.3
SEGMENTS = 10
"""Of the cloth's width, in which an end is looked for each by itself."""
HUE, DIMMER = 0.3, 0.7
"""How far the table may look otherwise at an end than beside a selvedge: its hue, and how bright it is."""


@dataclass(frozen=True)
class Ends:
    """Piece places, as planned: of the near and the far selvedge, and of the left and the right end; None: not seen."""

    near_in: float | None = None
    far_in: float | None = None
    left_in: float | None = None
    right_in: float | None = None

    def counted_on(self, along_in: float, across_in: float) -> Ends:
        """The same where the piece is counted from elsewhere."""

        def moved(place: float | None, by: float) -> float | None:
            return None if place is None else place + by

        near, far = moved(self.near_in, across_in), moved(self.far_in, across_in)
        return Ends(near, far, moved(self.left_in, along_in), moved(self.right_in, along_in))


def ends_of(flat: Flat, fit: PrintFit) -> Ends:
    """The selvedges and ends that the flat photograph shows."""
    piece = fit.to_piece(flat.corners)
    low, high = piece.min(axis=0), piece.max(axis=0)
    flat = replace(flat, values=_level(flat, fit))
    strips = [_strip(flat, fit, (low[0], high[0]), side) for side in (0.0, fit.lattice.width_in)]
    found = [_from_table(strip, bare=True) for strip in strips]
    looks = [one[1] for one in found if one is not None]
    if not looks or not all(_is_table(one, looks[0]) for one in looks):
        return Ends()
    for side, strip in enumerate(strips):
        other = _from_table(strip, bare=False)
        if found[side] is None and other is not None and _is_table(other[1], looks[0]):
            found[side] = other
    table = np.mean(looks, axis=0)
    across = [one[0] if one else _to_table(strip, table) for one, strip in zip(found, strips, strict=True)]
    near = None if across[0] is None else across[0] - BESIDE_IN
    far = None if across[1] is None else fit.lattice.width_in + BESIDE_IN - across[1]
    left, right = _ends(flat, fit, (low[0], high[0]), table)
    return Ends(near, far, left, right)


def _level(flat: Flat, fit: PrintFit) -> Picture:
    """The flat photograph freed of how room light and lens fall off, by a paraboloid through the cloth's colours: the
    print is on the whole the same all over."""
    rows, columns = flat.trust.shape
    y, x = np.mgrid[0:rows:EVERY, 0:columns:EVERY]
    across = fit.to_piece(flat.low + np.column_stack([x.ravel(), y.ravel()]) / flat.per_in)[:, 1]
    used = (flat.trust * flat.sure)[::EVERY, ::EVERY].ravel() > 0.2
    used &= (across > 1) & (across < fit.lattice.width_in - 1)
    if used.sum() < 100:
        return flat.values

    def by(across: Array, down: Array) -> Array:
        u, v = 2 * across / columns - 1, 2 * down / rows - 1
        return np.stack([np.ones_like(u), u, v, u * u, u * v, v * v], axis=-1)

    slopes = by(x.ravel()[used].astype(float), y.ravel()[used].astype(float))
    values = flat.values[::EVERY, ::EVERY].reshape(-1, 3)[used].astype(np.float64)
    weights = np.ones(len(values))
    numbers: Array = np.zeros((6, 3))
    for _ in range(4):
        found = np.linalg.lstsq(slopes * weights[:, None], values * weights[:, None], rcond=None)[0]
        numbers = np.asarray(found, np.float64)
        far = np.linalg.norm(values - slopes @ numbers, axis=1)
        weights = 1 / np.sqrt(1 + (far / (2 * max(float(np.median(far)), 1e-3))) ** 2)
    numbers[:] = numbers.mean(axis=1, keepdims=True)  # light grows dimmer there, not of another hue
    numbers[0] = 0
    falls = on_grid(lambda at: by(at[:, 0], at[:, 1]) @ numbers, np.zeros(2), 1.0, (rows, columns))
    return np.asarray(flat.values - falls, np.float32)


EVERY = 6


@dataclass(frozen=True, eq=False)
class _Strip:
    """The flat photograph along a selvedge, from the table inwards: ``values`` (along, across, 3), how far each is to
    be trusted, and that where light surely falls on the table."""

    values: Picture
    trust: Picture
    sure: Picture

    def parts(self) -> list[tuple[Array, NDArray[np.bool_], NDArray[np.bool_]]]:
        """Profiles across of parts of it: colours (across, 3), where enough is seen, and where surely."""
        found = []
        for part in np.array_split(np.arange(len(self.values)), PARTS):
            profile, seen = _profile(self.values[part], self.trust[part])
            found.append((profile, seen, seen & (self.sure[part].mean(axis=0) > 0.5)))
        return found


def _strip(flat: Flat, fit: PrintFit, reach: tuple[float, float], expected: float) -> _Strip:
    low = np.array([reach[0], expected - BESIDE_IN])
    laid = _laid(flat, fit, low, (reach[1], expected + BESIDE_IN))
    return _Strip(*(one[:, ::-1] for one in laid)) if expected else _Strip(*laid)


def _from_table(strip: _Strip, *, bare: bool) -> tuple[float, Array] | None:
    """How far in (inches) the cloth begins, looked for from the table inwards; and what the table looks like.

    ``bare``: only where so much is seen beyond where the cloth should begin that it must be table; else what is taken
    for table may be cloth.
    """
    outside = np.arange(strip.values.shape[1]) < BESIDE_IN * PER_IN
    edges = [
        edge
        for profile, _, sure in strip.parts()
        if not bare or (sure & outside).sum() >= TABLE_IN * PER_IN
        if (edge := _first_change(profile, sure)) is not None and edge[0] < (BESIDE_IN + INSIDE_IN) * PER_IN
    ]
    middle = _agreed([edge[0] / PER_IN for edge in edges])
    return None if middle is None else (middle, np.median([edge[1] for edge in edges], axis=0))


def _to_table(strip: _Strip, table: Array) -> float | None:
    """The same looked for from the cloth outwards, where too little table is seen to know it by itself."""
    edges, last = [], round(0.4 * PER_IN)
    for profile, seen, _ in strip.parts():
        bare = np.linalg.norm(profile - table, axis=1) < DIFFERS
        inside = round((BESIDE_IN + INSIDE_IN) * PER_IN)
        for at in range(inside, last, -1):
            if seen[at - last : at].all() and bare[at - last : at].all():
                edges.append((at - 0.5) / PER_IN)
                break
    # Ground of a print that is like the table ends a cloth too early: so found, an edge only bears out what is planned.
    place = _agreed(edges)
    return place if place is not None and abs(place - BESIDE_IN) < BEARS_OUT_IN else None


def _agreed(places: list[float], within_in: float = AGREE_IN) -> float | None:
    """The place most parts agree on; None where they do not."""
    if len(places) == 1:
        return places[0]
    middle = float(np.median(places)) if places else 0.0
    near = sum(abs(place - middle) < within_in for place in places)
    return middle if near >= max(LEAST_PARTS, 0.6 * len(places)) else None


def _laid(flat: Flat, fit: PrintFit, low: Array, high: tuple[float, float]) -> tuple[Picture, Picture, Picture]:
    """The flat photograph (along, across, 3) between two places of the piece, its trust, and where light surely is."""
    shape = (int(np.ceil((high[0] - low[0]) * PER_IN)) + 1, int(np.ceil((high[1] - low[1]) * PER_IN)) + 1)
    grid = piece_grid(low, shape, PER_IN)
    places = fit.to_table(grid.reshape(-1, 2)).reshape(grid.shape)
    channels = [np.ascontiguousarray(flat.values[..., k]) for k in range(3)]
    *channels, trust, sure = flat.at(places, *channels, flat.trust, flat.sure)
    return np.stack(channels, axis=-1), trust, sure


def _profile(values: Picture, trust: Picture) -> tuple[Array, NDArray[np.bool_]]:
    """The mean colour (columns, 3) of each column, and of which columns enough is seen."""
    weight = trust.sum(axis=0)
    mean = (values * trust[..., None]).sum(axis=0) / np.maximum(weight, 1e-6)[:, None]
    usual = float(np.quantile(weight, 0.8))
    return mean.astype(np.float64), np.asarray(weight > max(LEAST_SEEN * usual, 0.5))


def _first_change(profile: Array, seen: NDArray[np.bool_]) -> tuple[float, Array] | None:
    """The place, in points from the outer end, where a profile ceases to be that of the table; and how that looks."""
    where = np.flatnonzero(seen)
    bare = round(TABLE_IN * PER_IN)
    if len(where) < 3 * bare:
        return None
    start = profile[where[:bare]]
    table, noise = np.median(start, axis=0), float(np.linalg.norm(start.std(axis=0)))
    away = np.linalg.norm(profile[where] - table, axis=1)
    inner = float(np.median(away[-max(1, len(away) // 4) :]))
    limit = max(BEGINS, NOISES * noise, STEP_SHARE * inner)
    last = round(0.4 * PER_IN)
    for at in range(bare, len(where) - last):
        if (away[at : at + last] > limit).all():
            step = float(away[at : at + last].max())
            before = float(away[at - 1])
            share = (0.5 * step - before) / max(float(away[at]) - before, 1e-6)
            return float(where[at - 1]) + float(np.clip(share, 0, 1.5)), table
    return None


def _ends(flat: Flat, fit: PrintFit, reach: tuple[float, float], table: Array) -> tuple[float | None, float | None]:
    """Where along (planned inches) the cloth ends at the left and at the right, where table is seen beyond."""
    low = np.array([reach[0], 1.0])
    values, trust, sure = _laid(flat, fit, low, (reach[1], fit.lattice.width_in - 1.0))
    return _end(values, trust * sure, (fit, low, table), 1), _end(values, trust * sure, (fit, low, table), -1)


def _end(values: Picture, trust: Picture, under: tuple[PrintFit, Array, Array], sense: int) -> float | None:
    """Where along the cloth ends, looked for from the left (1) or the right (-1); ``under``: the map, where the picture
    begins, what the table looks like.

    An end is cut straight, or along the print: of the two that is taken in which its parts agree better.
    """
    fit, low, table = under
    last = (len(values) - 1) / PER_IN
    straight, printed = [], []
    for part in np.array_split(np.arange(values.shape[1]), SEGMENTS):
        profile, seen = _profile(np.swapaxes(values[::sense, part], 0, 1), trust[::sense, part].T)
        edge = _first_change(profile, seen)
        if edge is not None and _is_table(edge[1], table):
            along = edge[0] / PER_IN if sense > 0 else last - edge[0] / PER_IN
            across = low[1] + float(part.mean()) / PER_IN
            width = fit.lattice.width_in
            slide = fit.skew_in * across / width + fit.bow_in * float(depth_shares(across, width))
            printed.append(float(low[0]) + along)
            straight.append(float(low[0]) + along + slide / fit.stretch_along)
    if len(printed) < 0.6 * SEGMENTS:
        return None
    return _agreed(min((straight, printed), key=np.std), END_AGREES_IN)


def _is_table(looks: Array, table: Array) -> bool:
    """Whether a colour (3,) is the table's, in other light."""
    off = looks - table
    return bool(np.linalg.norm(off - off.mean()) < HUE and abs(off.mean()) < DIMMER)
