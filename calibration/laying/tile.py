"""One repeat of the print as it lies, to be compared with a photograph: where on the cloth it shows what."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from calibration.registration.lattice import PrintLattice

Array = NDArray[np.float64]
Picture = NDArray[np.float32]

DARKEST = 0.03
"""Added to light before its logarithm is taken: darker than this no camera tells apart."""
GAMMA = 2.2
"""How pictures keep light (IEC 61966-2-1, nearly)."""


class Way(StrEnum):
    """How a cloth may lie against what is planned."""

    RIGHT = "as planned"
    TURNED = "turned by half a turn"
    FACE_DOWN = "on its other face"
    FACE_DOWN_TURNED = "on its other face and turned"


FLIPS = {
    Way.RIGHT: (False, False),
    Way.TURNED: (True, True),
    Way.FACE_DOWN: (False, True),
    Way.FACE_DOWN_TURNED: (True, False),
}
"""Whether along and across run the other way."""


@dataclass(frozen=True, eq=False)
class Tile:
    """One repeat: ``values`` (along, across, channels), float32; the motif point lies in its middle.

    The first line lies nearest the piece's first end, the first column nearest the near selvedge. ``lattice`` is that
    of the print as planned; ``surveyed`` that its motif point is truly where rows are counted from.
    """

    values: Picture
    lattice: PrintLattice

    @classmethod
    def of_picture(cls, rgb: NDArray[np.uint8], lattice: PrintLattice) -> Tile:
        """The tile of a picture (along, across, 3) of one repeat as it lies, sRGB."""
        return cls(log_light(rgb), lattice)

    def lying(self, way: Way) -> Tile:
        """The same print on a cloth that lies otherwise; its drop runs as the lattice of the other way has it."""
        along, across = FLIPS[way]
        values = self.values[::-1] if along else self.values
        values = values[:, ::-1] if across else values
        drop = -self.lattice.drop if along != across else self.lattice.drop
        return Tile(np.ascontiguousarray(values), replace(self.lattice, drop=drop))

    def through(self, weights: Array) -> Tile:
        """The tile in one channel: its channels (C,) weighed and added."""
        values = np.asarray(self.values @ weights.astype(np.float32), np.float32)[..., None]
        return replace(self, values=values)

    def sized(self, per_in: float) -> Tile:
        """The same with about so many lines an inch at most, so that nothing finer is left than is compared."""
        import cv2

        lines, columns = self.values.shape[:2]
        wanted = (
            int(np.clip(round(self.lattice.across_in * per_in), 4, columns)),
            int(np.clip(round(self.lattice.along_in * per_in), 4, lines)),
        )
        small = cv2.resize(self.values, wanted, interpolation=cv2.INTER_AREA)
        return replace(self, values=np.asarray(small, np.float32).reshape(wanted[1], wanted[0], -1))

    def at(self, piece_in: Array) -> Picture:
        """What is printed at piece places (..., 2): (..., channels), between four points of the tile."""
        import cv2

        lattice, (lines, columns) = self.lattice, self.values.shape[:2]
        across = (piece_in[..., 1] - lattice.first_column_in) / lattice.across_in + 0.5
        number = np.floor(across)
        along = (piece_in[..., 0] - lattice.first_row_in) / lattice.along_in - number * lattice.drop + 0.5
        x = ((across - number) * columns - 0.5).astype(np.float32)
        y = ((along - np.floor(along)) * lines - 0.5).astype(np.float32)
        padded = _padded(self.values, lattice.drop)
        flat = cv2.remap(padded, x.reshape(len(x), -1) + 1, y.reshape(len(y), -1) + 1, cv2.INTER_LINEAR)
        return np.asarray(flat, np.float32).reshape(*x.shape, -1)


def _padded(values: Picture, drop: float) -> Picture:
    """With one line and column more all around: beside a column stands the next one, ``drop`` repeats further on."""
    lines = len(values)
    by = round(drop * lines)
    left, right = np.roll(values[:, -1:], by * -1, axis=0), np.roll(values[:, :1], by, axis=0)
    wide = np.concatenate([left, values, right], axis=1)
    return np.ascontiguousarray(np.concatenate([wide[-1:], wide, wide[:1]], axis=0))


def log_light(rgb: NDArray[np.uint8]) -> Picture:
    """The logarithm of the light of picture values (..., 3), softened in the dark."""
    table = np.log((np.arange(256) / 255) ** GAMMA + DARKEST).astype(np.float32)
    return table[rgb]


def main_channel(values: Picture) -> Array:
    """Weights (C,) of the mixture of channels in which values (..., C) differ most."""
    flat = values.reshape(-1, values.shape[-1]).astype(np.float64)
    flat = flat - flat.mean(axis=0)
    _, vectors = np.linalg.eigh(flat.T @ flat)
    found = vectors[:, -1]
    return np.asarray(found * (1 if found.sum() >= 0 else -1))
