"""Where a panel that was cut ends, on its print: to a small part of a place, all along the cut.

Inside the panel the photograph is like the picture of the print, laid by the map that was found; beyond its end it is
not. From the middle outwards the end is looked for strip by strip, and there a step is put between the print and what
the table looks like beyond: where it fits best the cloth was cut. An end is told on the print, not on the table: so
neither how the panel was laid back nor how it is stretched matters.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from calibration.laying.fitting import Fitted
from calibration.laying.flattening import Flat
from calibration.laying.tile import DARKEST, Tile

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

PER_IN = 14.0
STRIPS, LEAST_STRIPS = 16, 6
"""Of the panel's width, in each of which its end is looked for by itself; so many at least must tell."""
WIDER = 2
"""So many strips at either side help to see about where the end is: in one alone there may be little but dark."""
SIDE_IN = 1.0
"""So near to its sides a panel is not looked at: unprinted strips, and hems that curl."""
UNLIKE, FARTHEST = 4.0, 9.0
"""A line of a strip is beyond the end where its squared difference from the print, in that of the panel, is more than
the first; none counts more than the second."""
SURELY = (0.1, 0.9)
"""Between these shares of the places at which the print was seen there is panel: one or two may lie on bare table."""
BEYOND_IN = 0.8
"""So much of something else must be seen beyond an end."""
FOLLOWED_IN = 2.5
"""How the light falls off is followed so far."""
STEP_IN, REACH_IN, BLUR_IN = 0.02, 0.5, 0.09
INDEPENDENT = 12.0
"""So many places of the grid count as one that is independent: they are read between the same pixels (as came out)."""
STRAIGHT_IN, BULGES_IN = 1 / 32, 1 / 32
"""A hand cuts so straight, from strip to strip and over the whole width (settings): with a hundredth and a tenth for
them 88 in 100 held of what is said of 95, over 60 ends of seams."""
APART = 3.5
LEAST_NOISE = 0.06
ROUNDS = 4


@dataclass(frozen=True, eq=False)
class CutEnd:
    """An end as it was cut: so far along the print, planned piece inches, at places across.

    ``across_in``, ``along_in``, ``sigma_in`` (N,) are what each strip told; ``curve`` (3,) the parabola through them in
    shares of the half width from the middle, ``covariance`` (3, 3) its own.
    """

    across_in: Array
    along_in: Array
    sigma_in: Array
    curve: Array
    covariance: Array
    width_in: float

    def at(self, across_in: float) -> tuple[float, float]:
        """How far along the print the end was cut at a place across, and the standard uncertainty of that."""
        by = _powers(np.array([across_in]), self.width_in)[0]
        return float(by @ self.curve), float(np.sqrt(by @ self.covariance @ by))


def cut_ends(flat: Flat, made: Fitted, tile: Tile, *, square: bool = False) -> tuple[CutEnd | None, CutEnd | None]:
    """The ends of a panel towards the first and the last end of its piece; None for one that is not to be seen.

    ``made`` is the map of its print as it was found in the flat photograph, ``tile`` the picture of the print (three
    channels), of the lattice that the map has. ``square``: it was cut square to its selvedge, not along the print.
    """
    seen = _laid_out(flat, made, tile, square=square)
    if seen is None:
        return None, None
    ends = [_end(seen, sense) for sense in (1, -1)]
    return ends[0], ends[1]


@dataclass(frozen=True, eq=False)
class _Seen:
    """The panel laid out along its print: ``light`` and ``wanted`` (along, across, 3) as seen and as the print has it,
    ``left`` the difference of their logarithms, ``noise`` (3,) its spread, ``trust`` (along, across). Line i lies at
    ``low + i / PER_IN``, its places across at ``across_in``; lines ``inner`` (first, last) are surely of the panel. Its
    cuts bulge by ``bulge_in`` on the print."""

    light: Picture
    wanted: Picture
    left: Picture
    noise: Array
    trust: Picture
    low: float
    across_in: Array
    inner: tuple[int, int]
    width_in: float
    bulge_in: float


def _laid_out(flat: Flat, made: Fitted, tile: Tile, *, square: bool) -> _Seen | None:
    fit, width = made.fit, made.fit.lattice.width_in
    reach = fit.to_piece(flat.corners)[:, 0]
    sure = made.piece_in[made.believed, 0]
    if len(sure) < LEAST_STRIPS:
        return None
    along = np.arange(reach.min(), reach.max(), 1 / PER_IN)
    across = np.arange(SIDE_IN, width - SIDE_IN, 1 / PER_IN)
    grid = np.stack(np.meshgrid(along, across, indexing="ij"), axis=-1)
    places = fit.to_table(grid.reshape(-1, 2))
    channels = [np.ascontiguousarray(flat.values[..., k]) for k in range(3)]
    *channels, trust, lit = flat.at(places.reshape(grid.shape), *channels, flat.trust, flat.sure)
    values, trust = np.stack(channels, axis=-1), trust * lit
    first, last = (int(n) for n in np.searchsorted(along, np.quantile(sure, SURELY)))
    shown = _as_seen(values, trust, tile.at(grid), slice(first, last))
    if shown is None:
        return None
    wanted, noise = shown
    light, print_ = (np.asarray(np.exp(one) - DARKEST, np.float32) for one in (values, wanted))
    left = np.asarray(values - wanted, np.float32)
    # What is cut square to the selvedge bulges on the print as this is bowed.
    bulge = fit.bow_in / fit.stretch_along if square else 0.0
    return _Seen(light, print_, left, noise, trust, float(along[0]), across, (first, last), width, bulge)


def _as_seen(values: Picture, trust: Picture, printed: Picture, inner: slice) -> tuple[Picture, Array] | None:
    """What (along, across, 3) the print looks like in this photograph, and the noise (3,) about that: its channels
    mixed, and light that falls off as a paraboloid, as fits the panel's own lines best."""
    rows, columns = trust.shape
    every = 5
    used = (trust > 0.2)[inner][::every, ::every]
    if used.sum() < 200:
        return None
    down, right = (np.linspace(-1, 1, n) for n in (rows, columns))
    u, v = np.meshgrid(down, right, indexing="ij")
    falls = np.stack([np.ones_like(u), u, v, u * u, u * v, v * v], axis=-1).astype(np.float32)
    by = np.concatenate([printed, falls], axis=-1)
    slopes = by[inner][::every, ::every][used].astype(np.float64)
    seen = values[inner][::every, ::every][used].astype(np.float64)
    weights = np.ones(len(seen))
    for _ in range(ROUNDS):
        held = slopes * weights[:, None]
        numbers = np.linalg.solve(held.T @ slopes + 1e-3 * np.eye(slopes.shape[1]), held.T @ seen)
        left = seen - slopes @ numbers
        far = np.abs(left).max(axis=1)
        weights = 1 / (1 + (far / (2 * max(float(np.median(far)), 1e-3))) ** 2)
    noise = np.maximum(1.4826 * np.median(np.abs(left), axis=0), LEAST_NOISE)
    return np.asarray(by @ numbers.astype(np.float32), np.float32), noise


def _end(seen: _Seen, sense: int) -> CutEnd | None:
    """The end towards the first lines (1) or the last ones (-1)."""
    across, along, sigma = [], [], []
    strips = np.array_split(np.arange(len(seen.across_in)), STRIPS)
    for number, strip in enumerate(strips):
        line = _line(seen, np.concatenate(strips[max(0, number - WIDER) : number + WIDER + 1]), sense)
        found = None if line is None else _step(seen, strip, line, sense)
        if found is not None:
            across.append(float(seen.across_in[strip].mean()))
            along.append(found[0])
            sigma.append(found[1])
    if len(across) < LEAST_STRIPS:
        return None
    return _curve(np.array(across), np.array(along), np.array(sigma), seen.width_in, seen.bulge_in)


def _line(seen: _Seen, strip: NDArray[np.intp], sense: int) -> int | None:
    """The last line of the panel in a strip, from its middle outwards; None where its end is not seen."""
    first, last = seen.inner
    middle = (first + last) // 2
    order = np.arange(middle, -1, -1) if sense > 0 else np.arange(middle, len(seen.trust))
    trust = seen.trust[order][:, strip]
    left, weight = seen.left[order][:, strip], trust.sum(axis=1)
    mean = (left * trust[..., None]).sum(axis=1) / np.maximum(weight, 1e-6)[:, None]
    known = weight > 0.15 * float(np.quantile(seen.trust[first:last][:, strip].sum(axis=1), 0.5))
    like = np.zeros(len(order))
    # Light falls off slowly and the cloth ends at once: what is left over is held against the lines just before.
    usual = mean[known][: round(FOLLOWED_IN * PER_IN)]
    slow = np.median(usual, axis=0) if len(usual) else np.zeros(3)
    share = 1 / (FOLLOWED_IN * PER_IN)
    for at in np.flatnonzero(known).tolist():
        far = np.minimum((((left[at] - slow) / seen.noise) ** 2).mean(axis=1), FARTHEST)
        off = float((far * trust[at]).sum()) / float(weight[at])
        like[at] = UNLIKE - off
        if off < UNLIKE:
            slow = slow + share * (mean[at] - slow)
    best = int(np.cumsum(like).argmax())
    beyond = known[best + 1 :]
    if beyond.sum() < BEYOND_IN * PER_IN or like[best + 1 :][beyond].mean() > 0:
        return None
    return int(order[best])


def _step(seen: _Seen, strip: NDArray[np.intp], line: int, sense: int) -> tuple[float, float] | None:
    """Where along a strip the step from table to print fits best, piece inches, and its uncertainty."""
    far = round(1.4 * PER_IN)
    lines = np.arange(max(line - far, 0), min(line + far + 1, len(seen.trust)))
    light, print_ = (one[lines][:, strip].astype(np.float64) for one in (seen.light, seen.wanted))
    trust = seen.trust[lines][:, strip].astype(np.float64)
    inwards = sense * (lines - line) / PER_IN
    outside, inside = inwards < -0.3, inwards > 0.3
    if trust[outside].sum() < 20 or trust[inside].sum() < 20:
        return None
    table = _weighted(light[outside], trust[outside])
    gain = _weighted(light[inside], trust[inside]) / np.maximum(_weighted(print_[inside], trust[inside]), 1e-3)
    print_ = print_ * gain
    noise = 1.4826 * np.median(np.abs(light - print_)[inside][trust[inside] > 0.2], axis=0)
    noise = np.maximum(noise, LEAST_NOISE)
    steps = np.arange(-REACH_IN, REACH_IN + STEP_IN / 2, STEP_IN)
    shares = ndtr((inwards[:, None] - steps[None]) / BLUR_IN)
    costs = []
    for share in shares.T:
        mixed = table + share[:, None, None] * (print_ - table)
        off = ((light - mixed) / noise) ** 2
        costs.append(float((trust[..., None] * np.minimum(off, FARTHEST)).sum()) / INDEPENDENT)
    at = int(np.argmin(costs))
    if not 0 < at < len(costs) - 1:
        return None
    a, b, c = costs[at - 1 : at + 2]
    curve = a - 2 * b + c
    if curve <= 1e-9:
        return None
    best = steps[at] + STEP_IN * 0.5 * (a - c) / curve
    return seen.low + line / PER_IN + sense * float(best), float(STEP_IN * np.sqrt(2 / curve))


def _weighted(values: Array, trust: Array) -> Array:
    return np.asarray((values * trust[..., None]).sum(axis=(0, 1)) / max(float(trust.sum()), 1e-9))


def _powers(across_in: Array, width_in: float) -> Array:
    u = 2 * across_in / width_in - 1
    return np.stack([np.ones_like(u), u, u * u], axis=-1)


def _curve(across: Array, along: Array, sigma: Array, width_in: float, bulge_in: float) -> CutEnd | None:
    """The parabola through the strips, wrong ones left out, that bulges by ``bulge_in`` but for what a hand strays."""
    by = _powers(across, width_in)
    spread = np.hypot(sigma, STRAIGHT_IN)
    weights = spread**-2.0
    kept = np.ones(len(along), bool)
    curve = np.zeros(3)
    scale = 1.0
    soft, usual = np.diag([0.0, 0.0, BULGES_IN**-2.0]), np.zeros(3)
    usual[2] = bulge_in
    for _ in range(ROUNDS + 4):
        held = by * (weights * kept)[:, None]
        inverse = np.linalg.inv(held.T @ by + soft)
        curve = inverse @ (held.T @ along + soft @ usual)
        far = np.abs(along - by @ curve) / spread
        scale = max(1.0, 1.4826 * float(np.median(far[kept])))
        kept = far <= APART * scale
        if kept.sum() < LEAST_STRIPS:
            return None
    return CutEnd(across[kept], along[kept], sigma[kept], curve, np.asarray(inverse * scale**2), width_in)
