"""Random rigs: a projector, printed cloth that lies as cloth lies, a photograph by hand; their truth is known."""

from __future__ import annotations

import io
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from calibration.laying.flattening import Lit
from calibration.laying.laying import Photo, Planned
from calibration.laying.tile import Tile
from calibration.marks import Placing
from calibration.photographs.pattern import Pattern
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice
from calibration.table import Table, fit_table
from projector.demo.cloth import LaidCloth
from projector.demo.uneven import Uneven, Wave
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, backed_off, photograph
from projector.demo.virtual_projector import Hung, VirtualProjector, marks_of, projector_over
from projector.light.pattern import LIT as LIGHT
from projector.light.pattern import levels_of, pattern_frame
from projector.prints.face import Face
from tests.jobs.cutting.tilings import Setting, Tiling, settings
from tests.jobs.prints.photographs.pictures import Blots

Array = NDArray[np.float64]

PATTERN = Pattern(1920, 1080)
TABLE_IN = (104.0, 62.0)
FINE = 40.0
GAMMA = 2.2
SETTINGS = settings()


LIT = Lit(PATTERN, levels_of(pattern_frame(PATTERN), GAMMA))


def random_face(setting: Setting, motif: type[Tiling], seed: int, scale: float, width: float) -> Face:
    """A repeat of a print of a plane group as the cloth wears it, in two to three inks."""
    rng = np.random.default_rng(seed)
    lattice = setting.lattice
    tiling = motif(lattice, list(setting.steps), seed)
    along, across = lattice.along * scale, lattice.across * scale
    lines, columns = round(along * FINE), round(across * FINE)
    a, c = (np.arange(lines) + 0.5) / lines - 0.5, (np.arange(columns) + 0.5) / columns - 0.5
    tone = tiling.at(np.stack(np.meshgrid(a * lattice.along, c * lattice.across, indexing="ij"), axis=-1))
    tone = (tone - tone.mean()) / tone.std()
    if rng.random() < 0.7:  # inks with hard edges, as most prints have
        steps = np.sort(rng.uniform(-1.0, 1.2, int(rng.integers(1, 3))))
        tone = np.searchsorted(steps, tone) - 0.5 * len(steps)
        tone = tone / max(float(np.abs(tone).max()), 1e-6) * 1.2
    ground, ink = rng.uniform(0.35, 0.75, 3), rng.uniform(-0.2, 0.2, 3)
    ink += np.sign(ink.sum()) * 0.08
    pixels = np.clip(ground + ink * np.clip(tone, -1.6, 1.6)[..., None], 0.08, 0.97)
    count = max(1, int((width - 1) / across + 1e-9))
    column = width / 2 - (count - 1) * across / 2
    return Face((pixels * 255).astype(np.uint8), along, across, lattice.drop * along, column, "#8d8f92", None)


def faint(face: Face, contrast: float) -> Face:
    """The same print of which this share of the contrast is left."""
    ground = face.pixels.mean(axis=(0, 1))
    return replace(face, pixels=np.clip(ground + (face.pixels - ground) * contrast, 0, 255).astype(np.uint8))


def as_photographed(face: Face, rng: np.random.Generator) -> NDArray[np.uint8]:
    """The picture of the repeat that a job keeps: coarser, of another white, a little noisy."""
    longest = max(face.pixels.shape[:2])
    share = min(1.0, float(rng.uniform(200, 500)) / longest)
    size = tuple(max(8, round(n * share)) for n in face.pixels.shape[1::-1])
    small = np.asarray(Image.fromarray(face.pixels).resize(size, Image.Resampling.BOX), float) / 255
    small = small ** rng.uniform(0.85, 1.15) * rng.uniform(0.85, 1.05, 3) + rng.normal(0, 0.01, small.shape)
    return (np.clip(small, 0, 1) * 255).astype(np.uint8)


@dataclass(frozen=True, eq=False)
class Rig:
    lit: VirtualProjector
    above: VirtualProjector
    """The same as the cloth's face sees it, which lies nearer to the lens than the table."""
    camera: VirtualCamera
    table: Table
    cloth: Uneven
    face: Face
    tile: NDArray[np.uint8]
    taking: Taking
    lattice: PrintLattice
    carried: PrintFit
    thick_in: float
    setting: Setting

    def planned(self) -> Planned:
        return Planned(self.carried, Tile.of_picture(self.tile, self.lattice))

    def picture(self, frame: NDArray[np.uint32] | None = None) -> NDArray[np.uint8]:
        shown = pattern_frame(PATTERN) if frame is None else frame
        x, y, z = self.camera.lens_at
        camera = replace(self.camera, lens_at=(x, y, z - self.thick_in))
        return photograph(camera, LitTable(self.above, shown, self.cloth, TABLE_IN), self.taking)

    def second(self, light: int = LIGHT, **of: object) -> NDArray[np.uint8]:
        """A second photograph by the same hand from nearly the same place, the whole frame lit evenly; ``of`` changes
        what is in it (``cloth``, ``camera``)."""
        rng = np.random.default_rng((self.taking.seed, 77))
        camera = replace(
            self.camera,
            lens_at=tuple((np.array(self.camera.lens_at) + rng.normal(0, 2, 3)).tolist()),
            aim=tuple((np.array(self.camera.aim) + rng.normal(0, 1.5, 2)).tolist()),
            roll_deg=self.camera.roll_deg + float(rng.normal(0, 1.5)),
        )
        taking = replace(self.taking, seed=self.taking.seed + 1000)
        other = replace(self, **{"camera": camera, "taking": taking, **of})  # type: ignore[arg-type]
        return other.picture(np.full((PATTERN.height_px, PATTERN.width_px), light, np.uint32))

    def photo(self, *, on_white: bool = False) -> Photo:
        """One photograph; of the codes on a white field alone, if so."""
        frame = pattern_frame(PATTERN, on_white=on_white)
        return Photo(self.picture(frame), Lit(PATTERN, levels_of(frame, GAMMA)))

    def lies_at(self, piece_in: Array) -> Array:
        """Where (N, 2), by the calibration, light meets what is printed at piece places (N, 2)."""
        cloth = self.cloth.cloth
        even = cloth.to_table(np.column_stack([piece_in[:, 0] + cloth.slide(piece_in[:, 1]), piece_in[:, 1]]))
        return self.table.to_table(self.above.to_frame(even + self.cloth.pushed(even)))

    def off_print(self, fit: PrintFit, edge_in: float, count: int = 55) -> Array:
        """How far (count,) further along than the print has it a cut edge at a piece position is lit, table inches."""
        across = np.linspace(0.5, self.lattice.width_in - 0.5, count)
        meant = fit.to_table(np.column_stack([np.full(count, edge_in), across]))
        met = self.above.to_table(self.table.to_frame(meant))
        return np.asarray((self.cloth.to_print(met)[:, 0] - edge_in) * self.cloth.cloth.stretch_along)


def rig(seed: int, long_px: int = 2016, **of: object) -> Rig:
    """The rig of this number. ``of``: ``setting`` a plane group, ``waves_in`` how uneven the cloth is, ``cut`` 1 for
    the second cut of its pair, ``contrast`` what is left of the print's contrast, ``ambient`` the light of the room."""
    rng = np.random.default_rng(seed)
    hung = Hung(
        tilt_deg=rng.uniform(0, 15),
        towards_deg=rng.uniform(0, 360),
        roll_deg=rng.uniform(-2, 2),
        k1=rng.uniform(-0.01, 0.01),
        mirrored=bool(rng.random() < 0.1),
    )
    lit = projector_over(*TABLE_IN, hung)
    places = np.stack(np.meshgrid(np.linspace(2, 102, 5), np.linspace(2, 60, 3)), axis=-1).reshape(-1, 2)
    marks = marks_of(lit, places + rng.normal(0, 1 / 100, places.shape))
    marks = tuple(replace(mark, table=place) for mark, place in zip(marks, map(tuple, places.tolist()), strict=True))
    table = fit_table(marks, lit.width_px, lit.height_px, Placing(1 / 100, 1 / 100))
    setting = of.get("setting") or SETTINGS[int(rng.integers(len(SETTINGS)))]
    assert isinstance(setting, Setting)
    motif = (Tiling, Blots)[int(rng.integers(2))]
    width = float(rng.uniform(47, 55))
    scale = float(rng.uniform(0.35, 2.0))
    face = faint(random_face(setting, motif, seed, scale, width), float(of.get("contrast", 1)))  # type: ignore[arg-type]
    at_left = float(rng.uniform(20, 200))
    first_row = float(rng.uniform(0, face.along))
    cloth = LaidCloth(
        length=400,
        width=width,
        along=face.along,
        across=face.across,
        selvedge=0.5,
        first_row=first_row,
        at_left=at_left,
        shift=(float(rng.uniform(-1, 1)), 3 + float(rng.uniform(-0.5, 0.5))),
        turn_deg=float(rng.uniform(-1.5, 1.5)),
        skew=float(rng.uniform(-0.03, 0.03)) * width,
        bow=float(rng.uniform(-0.03, 0.03)) * width,
        stretch_along=1 + float(rng.uniform(-0.015, 0.015)),
        stretch_across=1 + float(rng.uniform(-0.01, 0.01)),
        column=face.column,
        drop=face.drop / face.along,
        face=face,
    )
    if of.get("cut"):  # the same bolt and light, pulled on and laid anew
        rng = np.random.default_rng((seed, 1))
        at_left = at_left + round(110 / face.along) * face.along
        cloth = replace(
            cloth,
            at_left=at_left,
            shift=(float(rng.uniform(-1, 1)), 3 + float(rng.uniform(-0.5, 0.5))),
            turn_deg=float(rng.uniform(-1.5, 1.5)),
            stretch_along=cloth.stretch_along * (1 + float(rng.uniform(-0.002, 0.002))),
        )
    much = float(of.get("waves_in", 0.012))  # type: ignore[arg-type]
    waves = tuple(
        Wave(
            (float(rng.normal(0, much / 2)), float(rng.normal(0, much / 2))),
            float(rng.uniform(12, 60)),
            float(rng.uniform(0, 360)),
            float(rng.uniform(0, 6)),
        )
        for _ in range(4)
    )
    lattice = PrintLattice(face.along, face.across, width, face.column, first_row, face.drop / face.along)
    carried = PrintFit(lattice, (-at_left, 3.0))
    thick = float(rng.uniform(0.01, 0.1))
    x, y, z = lit.lens_at
    above = replace(lit, lens_at=(x, y, z - thick))
    # The same frame from a lens that much nearer: aimed where its beam meets the raised plane.
    toward = np.array([lit.aim[0] - x, lit.aim[1] - y]) * (z - thick) / z
    above = replace(above, aim=(float(x + toward[0]), float(y + toward[1])))
    k1, share = rng.uniform(-0.06, 0.08), rng.uniform(0.65, 0.85)
    off = rng.normal(0, 0.004 * long_px, 2)
    angle, out = rng.uniform(0, 2 * np.pi), rng.uniform(3, 26)
    middle = np.array(TABLE_IN) / 2
    camera = VirtualCamera(
        (float(middle[0] + out * np.cos(angle)), float(middle[1] + out * np.sin(angle)), float(rng.uniform(60, 85))),
        tuple((middle + rng.uniform(-2, 2, 2)).tolist()),
        share * long_px,
        long_px,
        long_px * 3 // 4,
        float(rng.uniform(-6, 6)),
        float(k1),
        -0.01,
        (float(off[0]), float(off[1])),
    )
    camera = backed_off(camera, TABLE_IN)
    ambient = float(rng.uniform(0.12, 0.3))
    taking = Taking(
        ambient=float(of.get("ambient", ambient)),  # type: ignore[arg-type]
        blur_px=1.2 * long_px / 4032 + 0.2,
        towards_deg=float(rng.uniform(0, 360)),
        warmth=float(rng.uniform(-0.08, 0.08)),
        seed=seed,
    )
    return Rig(
        lit,
        above,
        camera,
        table,
        Uneven(cloth, waves),
        face,
        as_photographed(face, rng),
        taking,
        lattice,
        carried,
        thick,
        setting,
    )


def png(rgb: NDArray[np.uint8]) -> bytes:
    held = io.BytesIO()
    Image.fromarray(rgb).save(held, "PNG")
    return held.getvalue()
