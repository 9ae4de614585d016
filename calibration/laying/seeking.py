"""Where the print lies, roughly: from one block of the cloth that is like the tile outwards over all of it.

A block of the flat photograph is compared with the tile at every place of a repeat and several turns (correlation
through Fourier transforms, with what is hidden left out: D. Padfield, IEEE Trans. Image Processing 21, 2012, from
memory). From the block that is most alike the map is followed outwards, block by block, each at most a part of a repeat
from where the ones before it want it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy import fft

from calibration.laying.fitting import Places, fit_places
from calibration.laying.flattening import Flat
from calibration.laying.grids import slow_level
from calibration.laying.tile import Tile, Way
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

BLOCK_IN = (8.0, 16.0)
"""Sides of a block, about a repeat."""
ACROSS_BLOCK, POINTS = 44, 6
"""Points across a block, and at least so many a repeat."""
TURNS_DEG = (0.0, -1.5, 1.5, -3.0, 3.0, -4.5, 4.5)
SEEDS = 10
LEAST_SEEN = 0.35
"""Of a block that is compared so much must be seen."""
LEAST_ALIKE = 0.3
SEARCHED = 0.3
"""Of a repeat so much is searched about where a block is wanted; and at most so many inches."""
SEARCHED_IN = 2.0
GROWS = 1.5
BESIDE_IN = 1.0
"""So far inside the selvedges, as they are expected, a block is of the cloth alone."""


@dataclass(frozen=True, eq=False)
class Sought:
    """The rough map, how alike (N,) the blocks are that it was followed through, and the share of them that were."""

    fit: PrintFit
    way: Way
    alike: float
    share: float


@dataclass(frozen=True, eq=False)
class _Ground:
    """The flat photograph in one channel, as coarse as it is compared: ``values`` and ``trust`` (rows, columns)."""

    flat: Flat
    values: Picture
    trust: Picture
    per_in: float
    block_in: float


def ground_of(flat: Flat, weights: Array, lattice: PrintLattice) -> _Ground:
    """The photograph for seeking: its channels weighed by ``weights`` (3,), slow changes of light taken out."""
    import cv2

    block = float(np.clip(max(lattice.along_in, lattice.across_in), *BLOCK_IN))
    least = min(lattice.along_in, lattice.across_in)
    per_in = min(flat.per_in, max(ACROSS_BLOCK / block, POINTS / least))
    values, trust = flat.values @ weights.astype(np.float32), flat.trust
    sigma = 0.45 * flat.per_in / per_in
    seen = cv2.GaussianBlur(trust, (0, 0), sigma)
    smooth = np.asarray(cv2.GaussianBlur(values * trust, (0, 0), sigma) / np.maximum(seen, 1e-4), np.float32)
    level = slow_level(smooth, trust, 0.8 * block * flat.per_in)
    usual = max(float(np.median(seen[seen > 0.05])), 0.05) if (seen > 0.05).any() else 1.0
    return _Ground(
        flat, np.asarray(smooth - level, np.float32), np.asarray(np.minimum(seen / usual, 1), np.float32), per_in, block
    )


def sought(ground: _Ground, tile: Tile, carried: PrintFit, ways: tuple[Way, ...]) -> Sought | None:
    """The rough map of the print, on the whole repeat nearest to where ``carried`` has it; None where it is not found.

    The tile's first way is taken unless another is clearly more alike.
    """
    centres = _seeds(ground, carried)
    if not len(centres):
        return None
    found = {way: _best_turn(ground, tile.lying(way), carried, centres) for way in ways}
    way = max(found, key=lambda one: found[one][0] + (0.04 if one is ways[0] else 0.0))
    score, turn, alike = found[way]
    if score < LEAST_ALIKE / 2:
        return None
    lying = tile.lying(way)
    best: Sought | None = None
    for seed in np.argsort(-alike)[:3].tolist():
        grown = _grown(ground, lying, _at_seed(ground, lying, carried, centres[seed], turn), (centres[seed], way))
        if grown is not None and (best is None or grown.alike * grown.share > best.alike * best.share):
            best = grown
        if best is not None and best.share > 0.7:
            break
    return best


def _seeds(ground: _Ground, carried: PrintFit) -> Array:
    """Table places (N, 2) of blocks that are wholly seen, where most is printed."""
    flat, half = ground.flat, ground.block_in / 2
    low, high = flat.low + half, flat.high - half
    steps = [
        np.arange(a, b + 1e-6, max(ground.block_in / 2, (b - a) / 14)) if b > a else np.array([(a + b) / 2])
        for a, b in zip(low, high, strict=True)
    ]
    places = np.stack(np.meshgrid(*steps), axis=-1).reshape(-1, 2)
    piece = carried.to_piece(places)
    width = carried.lattice.width_in
    inside = (piece[:, 1] > 0.25 * half) & (piece[:, 1] < width - 0.25 * half)
    places = places[inside] if inside.any() else places
    offsets = _offsets(ground, 0.0)
    scores = []
    for place in places:
        values, trust = _block_at(ground, place + offsets, carried)
        seen = float(trust.mean())
        mean = float((values * trust).sum() / max(trust.sum(), 1e-6))
        spread = float(np.sqrt((trust * (values - mean) ** 2).sum() / max(trust.sum(), 1e-6)))
        scores.append(spread * seen**2)
    order = np.argsort(-np.array(scores))
    kept: list[int] = []
    for at in order.tolist():
        if len(kept) < SEEDS and all(np.linalg.norm(places[at] - places[one]) > 0.7 * ground.block_in for one in kept):
            kept.append(at)
    return places[kept]


def _block_at(ground: _Ground, places: Array, carried: PrintFit) -> list[Picture]:
    """Values and trust of a block of table places (n, n, 2): nothing of what lies beside the cloth, which differs more
    from it than a faint print from its ground."""
    values, trust = ground.flat.at(places, ground.values, ground.trust)
    across = carried.to_piece(places.reshape(-1, 2))[:, 1].reshape(trust.shape)
    inside = (across > BESIDE_IN) & (across < carried.lattice.width_in - BESIDE_IN)
    return [values, np.asarray(trust * inside, np.float32)]


def _offsets(ground: _Ground, turn_deg: float, margin_in: Array | None = None) -> Array:
    """Places (n, n, 2) of a block about its middle, first along, then across; turned as the cloth is."""
    if margin_in is None:
        margin_in = np.zeros(2)
    sides = [np.arange(-n, n + 1) / ground.per_in for n in np.round((ground.block_in / 2 + margin_in) * ground.per_in)]
    along, across = np.meshgrid(*sides, indexing="ij")
    cos, sin = np.cos(np.radians(turn_deg)), np.sin(np.radians(turn_deg))
    return np.stack([cos * along - sin * across, sin * along + cos * across], axis=-1)


def matched(block: Picture, trust: Picture, around: Picture) -> tuple[Picture, float]:
    """How alike a block (a, b) is to every part of its size of ``around`` (A, B): (A - a + 1, B - b + 1), -1 to 1."""
    total = float(trust.sum())
    mean = float((block * trust).sum()) / max(total, 1e-6)
    held = trust * (block - mean)
    size = float((held * (block - mean)).sum())
    shape = tuple(fft.next_fast_len(one, True) for one in around.shape)
    far = fft.rfft2(np.stack([around, around * around]), shape)
    near = np.conj(fft.rfft2(np.stack([held, trust]), shape))
    rows, columns = (a - b + 1 for a, b in zip(around.shape, block.shape, strict=True))
    both = fft.irfft2(np.stack([far[0] * near[0], far[0] * near[1], far[1] * near[1]]), shape)[:, :rows, :columns]
    spread = np.maximum(both[2] - both[1] ** 2 / max(total, 1e-6), 1e-6 * total)
    return np.asarray(both[0] / np.sqrt(spread * max(size, 1e-9)), np.float32), total / trust.size


def peak(alike: Picture) -> tuple[float, float, float]:
    """Row and column of the highest place, to a part of a step by a parabola each way, and its height."""
    row, column = np.unravel_index(int(alike.argmax()), alike.shape)
    top = float(alike[row, column])
    at = []
    for line, here in ((alike[:, column], int(row)), (alike[row], int(column))):
        if 0 < here < len(line) - 1:
            a, b, c = (float(one) for one in line[here - 1 : here + 2])
            at.append(here + 0.5 * (a - c) / min(a - 2 * b + c, -1e-9))
        else:
            at.append(float(here))
    return at[0], at[1], top


def _one_seed(ground: _Ground, tile: Tile, carried: PrintFit, centre: Array, turn: float) -> tuple[Array, float]:
    """Where on the piece (2,) the middle of a block lies, on the repeat nearest to where it is expected; how alike."""
    values, trust = _block_at(ground, centre + _offsets(ground, carried.turn_deg + turn), carried)
    expected = carried.to_piece(centre[None])[0]
    lattice = tile.lattice
    margin = np.array([lattice.along_in, lattice.across_in]) / 2 + 1 / ground.per_in
    around = tile.at(expected + _offsets(ground, 0.0, margin))[..., 0]
    alike, seen = matched(values, trust, around)
    if seen < LEAST_SEEN:
        return expected, -1.0
    row, column, top = peak(alike)
    middle = (np.array(alike.shape) - 1) / 2
    return expected + (np.array([row, column]) - middle) / ground.per_in, top


def _best_turn(ground: _Ground, tile: Tile, carried: PrintFit, centres: Array) -> tuple[float, float, Array]:
    """How alike the seeds are at the best turn, on the whole; that turn; how alike each (N,) is."""
    small = tile.sized(1.5 * ground.per_in)
    best: tuple[float, float, Array] = (-1.0, 0.0, np.zeros(len(centres)))
    for turn in TURNS_DEG:
        alike = np.array([_one_seed(ground, small, carried, centre, turn)[1] for centre in centres])
        score = float(np.sort(alike)[-max(2, len(alike) // 2) :].mean())
        if score > best[0]:
            best = score, turn, alike
    return best


def _at_seed(ground: _Ground, tile: Tile, carried: PrintFit, centre: Array, turn: float) -> PrintFit:
    """The map that lays the print on one block and turns it; all else as expected."""
    small = tile.sized(1.5 * ground.per_in)
    fine = [(_one_seed(ground, small, carried, centre, one), one) for one in (turn - 0.75, turn, turn + 0.75)]
    (piece, _), turn = max(fine, key=lambda one: one[0][1])
    turned = replace(carried, turn_deg=carried.turn_deg + turn, lattice=tile.lattice)
    x, y = (centre - turned.to_table(piece[None])[0]).tolist()
    return replace(turned, shift=(turned.shift[0] + x, turned.shift[1] + y))


def _grown(ground: _Ground, tile: Tile, start: PrintFit, seed: tuple[Array, Way]) -> Sought | None:
    """The map followed outwards from the block, at a table place (2,), where it was found."""
    small = tile.sized(1.5 * ground.per_in)
    usual = replace(start, stretch_along=1.0, stretch_across=1.0, skew_in=0.0, bow_in=0.0)
    centres = _centres(ground, start)
    if len(centres) < 2:
        return None
    from_seed = np.linalg.norm(centres - start.to_piece(seed[0][None]), axis=1)
    reach, far = 1.05 * ground.block_in, float(from_seed.max())
    fit, share, alike = start, 0.0, 0.0
    for round_ in range(24):
        chosen = centres[from_seed <= reach]
        chosen = chosen[np.linspace(0, len(chosen) - 1, min(len(chosen), 70)).astype(int)]
        places, heights = _followed(ground, small, fit, chosen)
        good = heights > max(LEAST_ALIKE, 0.5 * float(np.quantile(heights, 0.9)) if len(heights) else 0.0)
        if good.sum() >= 3:
            fit, _, weights, _ = fit_places(places.kept(good), fit, usual)
            agreed = weights[:, 0, 0] > 0
            share, alike = (
                float(agreed.sum() / max(len(chosen), 1)),
                float(heights[good][agreed].mean()) if agreed.any() else 0.0,
            )
        elif reach > 3 * ground.block_in:
            return None
        if reach >= far and round_ >= 3:
            break
        reach = min(reach * GROWS, far) if reach < far else far
    return Sought(fit, seed[1], alike, share) if share > 0 else None


def _centres(ground: _Ground, fit: PrintFit) -> Array:
    """Piece places (N, 2) of blocks all over what is seen."""
    flat = ground.flat
    piece = fit.to_piece(flat.corners)
    low, high = piece.min(axis=0), piece.max(axis=0)
    low[1], high[1] = max(low[1], 0.0), min(high[1], fit.lattice.width_in)
    step = 0.6 * ground.block_in
    sides = [
        np.linspace(a + step / 2, b - step / 2, max(2, round((b - a) / step))) for a, b in zip(low, high, strict=True)
    ]
    places = np.stack(np.meshgrid(*sides, indexing="ij"), axis=-1).reshape(-1, 2)
    seen = flat.at(fit.to_table(places)[None], ground.trust)[0][0] > 0
    return places[seen]


def _followed(ground: _Ground, tile: Tile, fit: PrintFit, centres: Array) -> tuple[Places, Array]:
    """Where blocks at piece places (N, 2) were seen on the table, by the map so far, and how alike (N,) they are."""
    lattice = tile.lattice
    reach = np.minimum(SEARCHED * np.array([lattice.along_in, lattice.across_in]), SEARCHED_IN) + 1 / ground.per_in
    block, around = _offsets(ground, 0.0), _offsets(ground, 0.0, reach)
    pieces, tables, heights = [], [], []
    for centre in centres:
        places = fit.to_table((centre + block).reshape(-1, 2)).reshape(block.shape)
        values, trust = ground.flat.at(places, ground.values, ground.trust)
        within = ((centre + block)[..., 1] > 0) & ((centre + block)[..., 1] < lattice.width_in)
        trust = trust * within
        if trust.mean() < LEAST_SEEN:
            continue
        alike, _ = matched(values, trust, tile.at(centre + around)[..., 0])
        row, column, top = peak(alike)
        moved = (np.array([row, column]) - (np.array(alike.shape) - 1) / 2) / ground.per_in
        # What lies in the middle of the block is what the tile has that much further on.
        pieces.append(centre + moved)
        tables.append(fit.to_table(centre[None])[0])
        heights.append(top)
    knows = np.broadcast_to(np.eye(2) * (4 * ground.per_in) ** 2 / 4, (len(pieces), 2, 2))
    return Places(np.array(pieces).reshape(-1, 2), np.array(tables).reshape(-1, 2), knows), np.array(heights)
