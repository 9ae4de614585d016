"""Cameras and light fitted together to what all photographs saw, wrong corners left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from calibration.photographs.model import LIGHT, Model, turned
from calibration.photographs.pattern import Pattern
from calibration.photographs.sighting import Sighting
from calibration.photographs.start import first_guess

Array = NDArray[np.float64]

ROUGH_PX = 4.0
"""Corners of a first guess are off by several of these, wrong ones by many."""
LEAST_SIGMA_PX = 0.02
FARTHEST_SIGMAS = 4.0
"""A corner farther off than this is a wrong one: of true ones about one in ten thousand."""
NORMAL_MAD = 1.4826
"""Standard deviations of a normal error in a median absolute one."""


@dataclass(frozen=True, eq=False)
class Bundle:
    """The fit: its numbers (P,) and their covariance (P, P); the corners that were ``used`` of each photograph."""

    model: Model
    values: Array
    sigma_px: float
    seen: tuple[Sighting, ...]

    @cached_property
    def covariance(self) -> Array:
        slopes = self.model(self.values, self.sigma_px)[1]
        return np.asarray(np.linalg.pinv(slopes.T @ slopes, rcond=1e-14, hermitian=True))

    @property
    def used(self) -> tuple[Sighting, ...]:
        return self.model.sightings

    @property
    def light(self) -> tuple[Array, Array]:
        """The numbers of the light (8,) and their covariance (8, 8)."""
        return self.values[:LIGHT], self.covariance[:LIGHT, :LIGHT]

    def stood_at(self, photograph: int) -> Array:
        """Where the camera was (3,), in the plane's own coordinates."""
        pose = self.values[self.model.layout.pose(photograph)]
        return np.asarray(-turned(pose[:3])[0].T @ pose[3:6])

    @property
    def kept_shares(self) -> Array:
        """Which share (N,) of each photograph's corners agreed with the fit."""
        return np.array([len(u.numbers) / len(s.numbers) for u, s in zip(self.used, self.seen, strict=True)])

    @property
    def strain(self) -> tuple[float, int]:
        """The weighed squares by which cameras and lens are off what is known of them, and of how many numbers."""
        widths = self.model.widths(self.values)
        known = np.isfinite(widths)
        return float(((self.values[known] / widths[known]) ** 2).sum()), int(known.sum())

    @property
    def unlikeliness(self) -> float:
        """Twice the negative logarithm of how likely all is, but for a constant: strain and spread, of each corner."""
        count = 2 * sum(len(one.numbers) for one in self.used)
        return self.strain[0] + count * 2 * float(np.log(self.sigma_px))


def bundle(pattern: Pattern, sightings: Sequence[Sighting]) -> Bundle:
    """The likeliest cameras and light. Raises ``OutOfReach`` where corners fit no plane at all.

    First roughly with long tails (soft, then Cauchy), so that wrong corners pull little; then with those left out that
    are more than ``FARTHEST_SIGMAS`` off, of a spread that is read from the corners themselves.
    """
    model = Model(pattern, sightings)
    values = first_guess(pattern, sightings, model.layout)
    values = _settled(model, values, ROUGH_PX, "soft_l1")
    sigma = _spread_px(model, values)
    values = _settled(model, values, 2 * sigma, "cauchy")
    for _ in range(3):
        sigma = _spread_px(model, values)
        kept = [
            one.kept(near) for one, near in zip(sightings, _near(Model(pattern, sightings), values, sigma), strict=True)
        ]
        if min(len(one.numbers) for one in kept) < 4:
            break
        model = Model(pattern, kept)
        values = _settled(model, values, sigma, "linear")
    missed = model(values, 1.0)[0][: 2 * sum(len(one.numbers) for one in model.sightings)]
    freedom = max(len(missed) - model.layout.count, 1)
    sigma = max(float(np.sqrt(missed @ missed / freedom)), LEAST_SIGMA_PX)
    return Bundle(model, values, sigma, tuple(sightings))


def _settled(model: Model, values: Array, sigma_px: float, loss: str) -> Array:
    asked: dict[bytes, tuple[Array, Array]] = {}

    def at(numbers: Array) -> tuple[Array, Array]:
        key = numbers.tobytes()  # residuals and slopes of one place are asked for one after the other
        if key not in asked:
            asked.clear()
            asked[key] = model(numbers, sigma_px)
        return asked[key]

    found = least_squares(
        lambda x: at(x)[0],
        values,
        lambda x: at(x)[1],
        method="trf",
        x_scale="jac",
        loss=loss,
        max_nfev=60,
        xtol=1e-10,
        ftol=1e-9,
        gtol=1e-12,
    )
    return np.asarray(found.x)


def _apart_px(model: Model, values: Array) -> list[Array]:
    """How far off (N, 2) the corners of each photograph are, in its pixels."""
    missed = model(values, 1.0)[0]
    ends = np.cumsum([2 * len(one.numbers) for one in model.sightings])
    return [part.reshape(-1, 2) for part in np.split(missed[: ends[-1]], ends[:-1])]


def _spread_px(model: Model, values: Array) -> float:
    missed = np.concatenate(_apart_px(model, values))
    return max(NORMAL_MAD * float(np.median(np.abs(missed))), LEAST_SIGMA_PX)


def _near(model: Model, values: Array, sigma_px: float) -> list[NDArray[np.bool_]]:
    return [np.linalg.norm(apart, axis=1) <= FARTHEST_SIGMAS * sigma_px for apart in _apart_px(model, values)]
