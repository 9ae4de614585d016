"""Panels cut with known faults, laid back under the lit pattern of a random rig; how far off each end is is known."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from calibration.laying.laying import Photo, Planned
from calibration.laying.tile import Tile
from projector.demo.cut_panel import CutPanel, TrueCut
from projector.demo.virtual_camera import LitTable, photograph
from projector.light.pattern import pattern_frame
from tests.calibration.laying.rigs import LIT, PATTERN, TABLE_IN, Rig, rig


@dataclass(frozen=True)
class Fault:
    """How far off an end was cut at the near side of the panel, towards the last end of the piece, and how much more at
    the far one: planned inches on the print."""

    off_in: float = 0.0
    aslant_in: float = 0.0


EXACT = Fault()


@dataclass(frozen=True, eq=False)
class PanelRig:
    """``made`` is the rig of the whole cloth, ``panel`` what of it lies there."""

    made: Rig
    panel: CutPanel
    cut_in: tuple[float, float]

    def planned(self) -> Planned:
        """The panel as it was to be cut, about where it lay then."""
        lattice, carried = self.made.lattice.strip(*self.panel.across), self.made.carried
        x, y = carried.shift
        here = replace(carried, lattice=lattice, shift=(x, y + self.panel.across[0]))
        return Planned(here, Tile.of_picture(self.made.tile, lattice), cut_in=self.cut_in)

    def photo(self) -> Photo:
        made = self.made
        x, y, z = made.camera.lens_at
        camera = replace(made.camera, lens_at=(x, y, z - made.thick_in))
        table = LitTable(made.above, pattern_frame(PATTERN), self.panel, TABLE_IN)
        return Photo(photograph(camera, table, made.taking), LIT)

    def truth(self, last: bool, across_in: float) -> float:
        """How far off an end truly is at a place across the panel, inches of the cloth."""
        near, far = self.panel.across
        end = (self.panel.first, self.panel.last)[last]
        along = float(end.along(np.array(across_in / (far - near))))
        return (along - self.cut_in[last]) * self.made.cloth.cloth.stretch_along


def panel_rig(seed: int, long_px: int = 1500, faults: tuple[Fault, Fault] = (EXACT, EXACT), **of: object) -> PanelRig:
    """The panel of this number. ``of``: ``length_in`` and ``from_left_in`` of it on the table, ``across`` its share of
    the cloth's width from and to, ``turned`` by half a turn about its middle, and what ``rig`` takes."""
    length, left = float(of.pop("length_in", 80.0)), float(of.pop("from_left_in", 9.0))  # type: ignore[arg-type]
    low, high = of.pop("across", (0.0, 1.0))  # type: ignore[misc]
    turned = bool(of.pop("turned", False))
    made = rig(seed, long_px, **of)
    start = made.cloth.cloth.at_left + left
    cut = (start, start + length)
    first, last = (
        TrueCut((at + one.off_in, at + one.off_in + one.aslant_in)) for at, one in zip(cut, faults, strict=True)
    )
    width = made.lattice.width_in
    middle = (left + length / 2, made.carried.shift[1] + (low + high) / 2 * width)
    panel = CutPanel(made.cloth, first, last, (low * width, high * width), middle if turned else None)
    return PanelRig(made, panel, cut)
