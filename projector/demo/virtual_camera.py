"""A virtual camera over the lit table: photographs whose truth is known, as a telephone takes them by hand."""

from __future__ import annotations

import io
import math
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.ndimage import gaussian_filter, uniform_filter1d

from jobs.model.records import dataclass
from projector.demo.brightness import Linear, screen_of
from projector.demo.view import Laid, Packed, Picture, Projector, surface

Array = NDArray[np.float64]
Place = tuple[float, float, float]

_ROWS_AT_ONCE = 128
_FOCAL_MM_TAG, _FOCAL_35_TAG, _EXIF_PART = 0x920A, 0xA405, 0x8769
_ORIENTATION, _QUARTER_CLOCKWISE = 0x0112, 6
"""EXIF 2.3: FocalLength, FocalLengthIn35mmFilm, and the part of the file they stand in."""


@dataclass(frozen=True)
class VirtualCamera:
    """A camera at ``lens_at`` (table inches, z up) that looks at ``aim`` on the table, turned by ``roll_deg``.

    At a roll of 0 the far side of the table is up. ``k1`` and ``k2`` are its radial terms in focal lengths (Brown
    1971), ``principal_px`` how far its axis stands from the middle of the picture.
    """

    lens_at: Place
    aim: tuple[float, float]
    focal_px: float
    width_px: int = 4032
    height_px: int = 3024
    roll_deg: float = 0.0
    k1: float = 0.0
    k2: float = 0.0
    principal_px: tuple[float, float] = (0.0, 0.0)

    @cached_property
    def turn(self) -> Array:
        """Right, down and the way it looks: unit vectors (3, 3) in table axes, row by row."""
        look = np.array([*self.aim, 0.0]) - np.array(self.lens_at)
        look /= np.linalg.norm(look)
        up = np.array([0.0, 1.0, 0.0])
        right = np.cross(look, up)
        right /= np.linalg.norm(right)
        down = np.cross(look, right)
        cos, sin = math.cos(math.radians(self.roll_deg)), math.sin(math.radians(self.roll_deg))
        return np.array([cos * right + sin * down, cos * down - sin * right, look])

    @property
    def middle(self) -> Array:
        """The pixel on the axis."""
        return np.array([self.width_px, self.height_px]) / 2 + self.principal_px

    def to_picture(self, places_in: Array) -> Array:
        """Pixels (N, 2), from the picture's corner, of table places (N, 2) before the camera."""
        away = np.column_stack([places_in, np.zeros(len(places_in))]) - self.lens_at
        right, down, ahead = self.turn @ away.T
        x, y = right / ahead, down / ahead
        r2 = x * x + y * y
        bend = 1 + r2 * (self.k1 + r2 * self.k2)
        return np.asarray(self.middle + self.focal_px * np.column_stack([x * bend, y * bend]))

    def to_table(self, pixels: Array) -> Array:
        """Table places (N, 2) of pixels (N, 2); NaN where the camera looks past the table's plane."""
        x, y = ((pixels - self.middle) / self.focal_px).T
        r = np.hypot(x, y)
        ideal = np.linspace(0, 1.2 * max(float(r.max(initial=0.0)), 0.1), 4096)
        bent = ideal * (1 + ideal**2 * (self.k1 + ideal**2 * self.k2))
        if (np.diff(bent) <= 0).any() or bent[-1] < r.max(initial=0.0):
            raise ValueError("this lens folds its picture")
        back = np.divide(np.interp(r, bent, ideal), r, out=np.ones_like(r), where=r > 0)
        x, y = x * back, y * back
        # Coordinate by coordinate: far quicker than a product of matrices for millions.
        along, away, up = (x * right + y * down + ahead for right, down, ahead in self.turn.T.tolist())
        with np.errstate(divide="ignore", invalid="ignore"):
            far = np.where(up < -1e-6, -self.lens_at[2] / up, np.nan)
        return np.stack([self.lens_at[0] + along * far, self.lens_at[1] + away * far], axis=-1)


@dataclass(frozen=True)
class Taking:
    """How a photograph comes out.

    ``ambient`` is room light as a share of a fully lit pixel's, ``uneven`` by how much of itself it rises and falls
    over the table; ``blur_px`` the spread of the lens and the hand, ``noise`` of values out of 255, ``moved_px`` a
    smear along the picture. An ``upright`` one was held so: its file says to turn it a quarter clockwise. ``warmth``
    shifts the white balance. A ``hand`` or ``glare`` is a round patch on the table (x, y, radius in inches) that covers
    the light, or outshines it.
    """

    ambient: float = 0.2
    uneven: float = 0.3
    towards_deg: float = 30.0
    blur_px: float = 1.2
    moved_px: float = 0.0
    noise: float = 5.0
    jpeg: int = 85
    vignetting: float = 0.3
    warmth: float = 0.08
    exposure: float = 1.0
    hand: Place | None = None
    glare: Place | None = None
    tells_focal: bool = True
    upright: bool = False
    seed: int = 0


AS_USUAL = Taking()
HAND_COLOUR = (0.55, 0.36, 0.28)
LENS_BLACK = 0.004
"""What a dark pixel of the projector still lets through."""
HIGHEST_IN = 100.0
"""How high above the table a camera is held at most, on a step (a setting)."""
ROLLS = (0, 90, 0, -90, 0)
"""A telephone is held across, and upright, one way or the other."""
WHITE_SHARE = 0.85
"""Where on the camera's scale its exposure puts what is lit fully."""


@dataclass(frozen=True)
class LitTable:
    """What is before the camera: who throws which light on what."""

    projector: Projector
    frame: Packed
    laid: Laid | None = None
    table_in: tuple[float, float] = (96.0, 60.0)

    @cached_property
    def levels(self) -> Linear:
        """Light of each pixel of the frame (height, width), in shares of a fully lit one; the light is white."""
        levels = ((self.frame & np.uint32(255)) / 255.0) ** self.projector.gamma
        return np.asarray(LENS_BLACK + (1 - LENS_BLACK) * levels, np.float32)

    def light_at(self, places_in: Array) -> Linear:
        """Light (N,) that the projector throws on places (N, 2): its four nearest pixels mixed.

        None beyond the frame, and none beside the table: there it goes past, to a floor far below.
        """
        projector, levels = self.projector, self.levels
        (x, y), (a, b, c) = places_in.T, projector.matrix[2].tolist()
        on_table = (x >= -1) & (y >= -1) & (x <= self.table_in[0] + 1) & (y <= self.table_in[1] + 1)
        ahead = on_table & (a * x + b * y + c > 1e-6)
        pixels = np.full_like(places_in, -1.0)
        pixels[ahead] = projector.to_frame(places_in[ahead])
        pixels -= 0.5
        u, v = pixels.T
        inside = (u > 0) & (v > 0) & (u < projector.width_px - 1) & (v < projector.height_px - 1)
        u, v = u[inside], v[inside]
        left, top = np.floor(u).astype(np.int32), np.floor(v).astype(np.int32)
        right, low = (u - left).astype(np.float32), (v - top).astype(np.float32)
        upper = levels[top, left] * (1 - right) + levels[top, left + 1] * right
        lower = levels[top + 1, left] * (1 - right) + levels[top + 1, left + 1] * right
        light: Linear = np.zeros(len(places_in), np.float32)
        light[inside] = upper * (1 - low) + lower * low
        return light


def photograph(camera: VirtualCamera, table: LitTable, taking: Taking = AS_USUAL) -> Picture:
    """The photograph (height, width, 3) as it comes out of the camera, JPEG's loss included; the same for a seed."""
    with Image.open(io.BytesIO(jpeg_bytes(camera, table, taking))) as picture:
        return np.asarray(picture)


def jpeg_bytes(camera: VirtualCamera, table: LitTable, taking: Taking = AS_USUAL) -> bytes:
    """The photograph as the file that a telephone keeps, its focal length in the EXIF part unless it tells none."""
    rng = np.random.default_rng(taking.seed)
    seen = np.concatenate(
        [
            _rows(camera, table, taking, first, min(_ROWS_AT_ONCE, camera.height_px - first))
            for first in range(0, camera.height_px, _ROWS_AT_ONCE)
        ]
    ).reshape(camera.height_px, camera.width_px, 3)
    # A camera exposes for what is bright, as table and floor let it.
    seen *= np.float32(
        WHITE_SHARE * taking.exposure / max(float(np.percentile(seen[::16, ::16].max(axis=-1), 97)), 1e-6)
    )
    if (smear := round(taking.moved_px)) > 1:
        seen = uniform_filter1d(seen, smear, axis=1)
    seen = gaussian_filter(seen, (taking.blur_px, taking.blur_px, 0))
    values = screen_of(seen).astype(np.float32)
    values += rng.standard_normal(values.shape, np.float32) * np.float32(taking.noise)
    np.clip(np.rint(values, out=values), 0, 255, out=values)
    picture = Image.fromarray(values.astype(np.uint8))
    held = io.BytesIO()
    picture.save(held, "JPEG", quality=taking.jpeg, exif=_exif(camera, taking.upright) if taking.tells_focal else b"")
    return held.getvalue()


def _rows(camera: VirtualCamera, table: LitTable, taking: Taking, first: int, rows: int) -> Linear:
    """Light (rows x width, 3) that comes into the camera for some of its rows."""
    u, v = np.arange(camera.width_px) + 0.5, np.arange(first, first + rows) + 0.5
    pixels = np.stack(np.meshgrid(u, v), axis=-1).reshape(-1, 2)
    places = camera.to_table(pixels)
    places[~np.isfinite(places[:, 0])] = -1e6
    light = table.light_at(places)
    x, y = (places / table.table_in - 0.5).T
    side = math.radians(taking.towards_deg)
    slope = np.clip(x * math.cos(side) + y * math.sin(side), -1, 1)
    room = taking.ambient * (1 + taking.uneven * (2 * slope + 0.3 * np.cos(3 * x + 5 * y)))
    light += room.clip(0).astype(np.float32)
    colour = surface(places, table.laid, table.table_in)
    if taking.hand is not None:
        covered = _within(places, taking.hand) < 1
        colour[covered], light[covered] = HAND_COLOUR, 2 * taking.ambient
    seen = colour * light[:, None]
    if taking.glare is not None:
        seen += (4 * np.exp(-2 * _within(places, taking.glare) ** 2))[:, None].astype(np.float32)
    reach = np.linalg.norm(pixels - camera.middle, axis=1) / math.hypot(camera.width_px, camera.height_px) * 2
    seen *= (1 - taking.vignetting * reach**2).astype(np.float32)[:, None]
    return np.asarray(seen * np.array([1 + taking.warmth, 1, 1 - taking.warmth], np.float32))


def _within(places: Array, patch: Place) -> Array:
    """How far places (N, 2) lie from the middle of a round patch, in its radius."""
    return np.asarray(np.linalg.norm(places - np.array(patch[:2]), axis=1) / patch[2])


def _exif(camera: VirtualCamera, upright: bool) -> Image.Exif:
    """The focal length as a camera writes it: to a whole millimetre of a film 36 mm wide."""
    exif = Image.Exif()
    if upright:
        exif[_ORIENTATION] = _QUARTER_CLOCKWISE
    part = exif.get_ifd(_EXIF_PART)
    part[_FOCAL_35_TAG] = round(36 * camera.focal_px / max(camera.width_px, camera.height_px))
    part[_FOCAL_MM_TAG] = part[_FOCAL_35_TAG] / 6
    return exif


def from_around(
    table_in: tuple[float, float], like: VirtualCamera, count: int, rng: np.random.Generator
) -> tuple[VirtualCamera, ...]:
    """The camera ``like`` held at ``count`` plausible places around the table, some upright, all of it in view.

    25 to 45 in from the table's middle seen from above, 60 to 80 in above it, aimed near the middle, as far away as it
    takes to have the whole table in the picture.
    """
    length, width = table_in
    middle = np.array([length / 2, width / 2])
    first = rng.uniform(0, 2 * math.pi)
    rolls = rng.permutation([ROLLS[at % len(ROLLS)] for at in range(count)])
    found = []
    for at in range(count):
        angle = first + 2 * math.pi * (at + rng.uniform(-0.2, 0.2)) / count
        out, high = rng.uniform(25, 45), rng.uniform(60, 80)
        x, y = middle + out * np.array([math.cos(angle), math.sin(angle)])
        aim = middle + rng.uniform(-3, 3, 2)
        roll = float(rolls[at] + rng.uniform(-8, 8))
        held = replace(like, lens_at=(float(x), float(y), high), aim=(float(aim[0]), float(aim[1])), roll_deg=roll)
        found.append(backed_off(held, table_in))
    return tuple(found)


def backed_off(camera: VirtualCamera, table_in: tuple[float, float]) -> VirtualCamera:
    """The camera moved straight away from where it looks until the whole table is in its picture.

    Not beyond arm's length above a person's head: a part of the table is then outside.
    """
    length, width = table_in
    corners = np.array([(0, 0), (length, 0), (length, width), (0, width)], float)
    aim, place = np.array([*camera.aim, 0.0]), np.array(camera.lens_at)
    for _ in range(60):
        seen = camera.to_picture(corners)
        if ((seen > 0) & (seen < (camera.width_px, camera.height_px))).all():
            break
        place = aim + (place - aim) * 1.04
        if place[2] > HIGHEST_IN:
            break
        camera = replace(camera, lens_at=(float(place[0]), float(place[1]), float(place[2])))
    return camera
