"""The colours of a cloth picked from a photograph: clusters of its pixels in L*a*b*, the largest being the ground."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from projector.light.colour import ciede2000, decoded, encoded, lab, unlab
from projector.light.raster.arrays import Array

CLUSTERS = 6
ROUNDS = 50
SAME = 11.0
"""Clusters no farther apart than this (CIEDE2000) are shades of one colour, such as folds and the weave make."""
LEAST_SHARE = 0.03
"""Colours of less of the cloth than this are left out: threads, dust, the edge of the picture."""
MOST_PIXELS = 40_000


@dataclass(frozen=True)
class PickedColour:
    """A colour ``#rrggbb`` with the share of the picture it takes."""

    colour: str
    share: float


def colours_of(picture: NDArray[np.uint8], least_share: float = LEAST_SHARE) -> tuple[PickedColour, ...]:
    """The colours of a picture (h, w, 3) of sRGB values that take at least that share, the largest first.

    k-means in L*a*b* (S. P. Lloyd, IEEE Trans. Information Theory 28, 1982), begun from the pixel nearest the mean and
    then from the pixels farthest from all begun so far, so that the same picture always gives the same colours.
    Raises ValueError for an array that is no picture.
    """
    if picture.ndim != 3 or picture.shape[2] != 3 or not picture.size:
        raise ValueError("a picture has rows and columns of red, green and blue")
    pixels = picture.reshape(-1, 3)
    places = lab(decoded(pixels[:: max(1, len(pixels) // MOST_PIXELS)]))
    middles, counts = _merged(*_clusters(places))
    order = np.argsort(-counts, kind="stable")
    shares = counts[order] / counts.sum()
    return tuple(
        PickedColour(_hex(middles[number]), float(share))
        for number, share in zip(order, shares, strict=True)
        if share >= least_share
    )


def _clusters(places: Array) -> tuple[Array, Array]:
    """Middles (k, 3) and counts (k,) of the clusters that hold pixels."""
    middles = _begin(places)
    owner = np.full(len(places), -1)
    for _ in range(ROUNDS):
        nearest = np.argmin(((places[:, None] - middles) ** 2).sum(axis=2), axis=1)
        if (nearest == owner).all():
            break
        owner = nearest
        middles = np.array([places[owner == k].mean(axis=0) for k in np.unique(owner)])
        owner = np.unique(owner, return_inverse=True)[1]
    return middles, np.bincount(owner, minlength=len(middles)).astype(float)


def _begin(places: Array) -> Array:
    far = ((places - places.mean(axis=0)) ** 2).sum(axis=1)
    begun = [places[np.argmin(far)]]
    far = ((places - begun[0]) ** 2).sum(axis=1)
    while len(begun) < CLUSTERS and far.max() > 0:
        begun.append(places[np.argmax(far)])
        far = np.minimum(far, ((places - begun[-1]) ** 2).sum(axis=1))
    return np.array(begun)


def _merged(middles: Array, counts: Array) -> tuple[Array, Array]:
    """The clusters with the nearest two made one until all are farther apart than ``SAME``."""
    while len(middles) > 1:
        apart = ciede2000(middles[:, None], middles[None])
        np.fill_diagonal(apart, np.inf)
        one, two = np.unravel_index(int(np.argmin(apart)), apart.shape)
        if apart[one, two] > SAME:
            break
        weight = counts[one] + counts[two]
        middles[one] = (middles[one] * counts[one] + middles[two] * counts[two]) / weight
        counts[one] = weight
        middles, counts = np.delete(middles, two, axis=0), np.delete(counts, two)
    return middles, counts


def _hex(place: Array) -> str:
    red, green, blue = np.rint(encoded(unlab(place))).astype(int)
    return f"#{red:02x}{green:02x}{blue:02x}"
