"""What the eye sees from above: the table, the cloth and the light on it."""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from jobs.model.records import dataclass
from projector.demo.brightness import Linear, linear_of_hex, screen_of

Packed = NDArray[np.uint32]
Picture = NDArray[np.uint8]

WOOD = "#a98d6b"
FLOOR = "#2c2a28"
AMBIENT = 0.42
"""Room light, as a share of what shows white paper as white."""
LAMP = 4.0
"""Light of a fully lit pixel, in the same share."""
BLACK = 0.004
"""What a dark pixel still lets through, as a share of the lamp."""
BRIGHT_PERCENT, SPARSE = 97, 16
"""Where most of the table is lit, so many of 100 places keep their colours; every sixteenth place is asked."""
_ROWS_AT_ONCE = 128


class Projector(Protocol):
    """What throws the light: the true map, and the frame it is thrown from."""

    @property
    def matrix(self) -> NDArray[np.float64]:
        """Table inch to pixel of the plane map alone, (3, 3)."""

    @property
    def width_px(self) -> int: ...

    @property
    def height_px(self) -> int: ...

    @property
    def gamma(self) -> float: ...

    def to_frame(self, points_in: NDArray[np.float64]) -> NDArray[np.float64]:
        """Pixels (N, 2) that light the table points (N, 2); pixels outside the frame for what cannot be lit."""


class Laid(Protocol):
    """What lies on the table: cloth, or bits of tape."""

    def to_piece(self, places: NDArray[np.float64]) -> NDArray[np.float64]:
        """Places (N, 2) of the thing for places (N, 2) on the table."""

    def colour_at(self, places: NDArray[np.float64]) -> tuple[Linear, NDArray[np.bool_]]:
        """Colours (N, 3) in light at places (N, 2) of the thing, and which of them are on it."""


@dataclass(frozen=True)
class Outlook:
    """The part of the table plane that is seen: x and y from its near left corner, at so many pixels an inch."""

    left: float
    near: float
    width_px: int
    height_px: int
    px_per_in: float

    @classmethod
    def over(cls, length_in: float, width_in: float, width_px: int, height_px: int, margin_in: float = 3.0) -> Outlook:
        """The whole table 0..length by 0..width in the middle of a picture of this size."""
        scale = min(width_px / (length_in + 2 * margin_in), height_px / (width_in + 2 * margin_in))
        left, near = length_in / 2 - width_px / scale / 2, width_in / 2 - height_px / scale / 2
        return cls(left, near, width_px, height_px, scale)

    def points(self, first_row: int, rows: int) -> NDArray[np.float64]:
        """Table places (rows x width, 2) of the pixel centres of some rows, the far side of the table uppermost."""
        x = self.left + (np.arange(self.width_px) + 0.5) / self.px_per_in
        y = self.near + (self.height_px - np.arange(first_row, first_row + rows) - 0.5) / self.px_per_in
        return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)


class View:
    """The table seen from above; made once for a projector and a cloth, then quick for each frame of light.

    Light falls on a place from the four nearest pixels of the frame, mixed in light (frame values are decoded with the
    projector's gamma). Seen = reflectance x (ambient + light), channel by channel; where most of the table is lit, all
    of it is dimmed alike, as an eye would.
    """

    def __init__(
        self, projector: Projector, cloth: Laid | None, outlook: Outlook, table_in: tuple[float, float] = (96.0, 60.0)
    ) -> None:
        self.projector, self.outlook = projector, outlook
        count = outlook.width_px * outlook.height_px
        self._reflects = np.empty((count, 3), np.float32)
        self._corner = np.full(count, -1, np.int32)
        self._share_u: Linear = np.zeros(count, np.float32)
        self._share_v: Linear = np.zeros(count, np.float32)
        for first in range(0, outlook.height_px, _ROWS_AT_ONCE):
            rows = min(_ROWS_AT_ONCE, outlook.height_px - first)
            part = slice(first * outlook.width_px, (first + rows) * outlook.width_px)
            places = outlook.points(first, rows)
            self._reflects[part] = surface(places, cloth, table_in)
            self._aim_at(part, places)
        lit = self._corner >= 0
        self._dim: Linear = self._reflects * (AMBIENT + LAMP * BLACK * lit[:, None]).astype(np.float32)
        self._dark = screen_of(self._dim)
        levels = (np.arange(256) / 255.0) ** projector.gamma
        self._light = (LAMP * (BLACK + (1 - BLACK) * levels)).astype(np.float32)
        self._places = np.flatnonzero(lit)
        self._corner = self._corner[self._places]
        self._share_u, self._share_v = self._share_u[self._places], self._share_v[self._places]

    def seen(self, frame: Packed) -> Picture:
        """The picture (height, width, 3) for a frame (height, width) of packed 0x00RRGGBB pixels.

        Raises ValueError when the frame is not the size of the projector's.
        """
        if frame.shape != (self.projector.height_px, self.projector.width_px):
            raise ValueError(
                f"the projector shows {self.projector.width_px} by {self.projector.height_px} pixels, not {frame.shape}"
            )
        on = frame != 0
        near = on.copy()
        near[:, :-1] |= on[:, 1:]
        near[:-1] |= near[1:]
        chosen = np.flatnonzero(near.reshape(-1)[self._corner])
        if 2 * chosen.size > self._places.size:
            picture = self._adapted(frame, chosen)
        else:
            picture = self._dark.copy()
            if chosen.size:
                picture[self._places[chosen]] = screen_of(self._seen_at(frame, chosen))
        return picture.reshape(self.outlook.height_px, self.outlook.width_px, 3)

    def _seen_at(self, frame: Packed, chosen: NDArray[np.intp]) -> Linear:
        """Light (n, 3) that comes from the chosen places into the eye."""
        light = self._light_at(frame.reshape(-1), chosen)
        return np.asarray(self._reflects[self._places[chosen]] * (light + np.float32(AMBIENT)), np.float32)

    def _adapted(self, frame: Packed, chosen: NDArray[np.intp]) -> Picture:
        """The picture where most of the table is lit: an eye grows used to it, and bright cloth keeps its colours."""
        seen = self._seen_at(frame, chosen)
        brightest = float(np.percentile(seen.max(axis=-1)[::SPARSE], BRIGHT_PERCENT))
        exposure = np.float32(min(1.0, 1 / brightest) if brightest > 0 else 1.0)
        picture = screen_of(self._dim * exposure)
        picture[self._places[chosen]] = screen_of(seen * exposure)
        return picture

    def _light_at(self, frame: Packed, chosen: NDArray[np.intp]) -> Linear:
        corner, right, low = self._corner[chosen], self._share_u[chosen, None], self._share_v[chosen, None]
        wide = self.projector.width_px
        upper = self._decoded(frame[corner]) * (1 - right) + self._decoded(frame[corner + 1]) * right
        lower = self._decoded(frame[corner + wide]) * (1 - right) + self._decoded(frame[corner + wide + 1]) * right
        return np.asarray(upper * (1 - low) + lower * low, np.float32)

    def _decoded(self, packed: Packed) -> Linear:
        channels = [(packed >> np.uint32(shift)) & np.uint32(255) for shift in (16, 8, 0)]
        return np.stack([self._light[channel] for channel in channels], axis=-1)

    def _aim_at(self, part: slice, places: NDArray[np.float64]) -> None:
        """Notes, for places that the frame lights, the upper left of their four pixels and the shares between them."""
        matrix = self.projector.matrix
        ahead = places @ matrix[2, :2] + matrix[2, 2] > 1e-6
        pixels = np.full_like(places, -1.0)
        pixels[ahead] = self.projector.to_frame(places[ahead])
        u, v = pixels.T - 0.5
        inside = (u >= 0) & (v >= 0) & (u < self.projector.width_px - 1) & (v < self.projector.height_px - 1)
        left, top = np.floor(u), np.floor(v)
        corner = np.where(inside, top * self.projector.width_px + left, -1)
        self._corner[part] = corner.astype(np.int32)
        self._share_u[part], self._share_v[part] = np.where(inside, u - left, 0), np.where(inside, v - top, 0)


def surface(places: NDArray[np.float64], cloth: Laid | None, table_in: tuple[float, float]) -> Linear:
    """Colours (N, 3) in light of what is at places (N, 2) of the table's plane: cloth, wood, or floor beside it."""
    x, y = places.T
    on_table = (x >= -1) & (x <= table_in[0] + 1) & (y >= -1) & (y <= table_in[1] + 1)
    colour = np.empty((len(places), 3), np.float32)
    colour[~on_table] = linear_of_hex(FLOOR)
    bare = on_table
    if cloth is not None:
        (at,) = np.nonzero(on_table)
        printed, on_cloth = cloth.colour_at(cloth.to_piece(places[at]))
        colour[at[on_cloth]] = printed[on_cloth]
        bare = on_table.copy()
        bare[at[on_cloth]] = False
    x, y = x[bare], y[bare]
    grain = 1 + 0.05 * np.sin(y * 2.1 + 0.6 * np.sin(x / 17)) + 0.03 * np.sin(y * 7.3 + np.sin(x / 9) + 1)
    colour[bare] = linear_of_hex(WOOD) * grain[:, None]
    return colour


def picture_of(
    projector: Projector,
    cloth: Laid | None,
    frame: Packed,
    width_px: int,
    height_px: int,
    table_in: tuple[float, float],
) -> Picture:
    """One careful picture of the whole table for a file: seen at twice the size and made smaller."""
    outlook = Outlook.over(*table_in, 2 * width_px, 2 * height_px)
    large = View(projector, cloth, outlook, table_in).seen(frame).astype(np.float32)
    return np.rint(large.reshape(height_px, 2, width_px, 2, 3).mean(axis=(1, 3))).astype(np.uint8)
