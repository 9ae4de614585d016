"""A panel laid back on the simulated table lies so that an end of it can be seen, at each stop of its cut."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from calibration.laying.flattening import Lit
from calibration.laying.laying import Photo
from calibration.laying.tile import Tile
from calibration.photographs.pattern import Pattern
from projector.commands.shared.planned import load_plan
from projector.demo.cloth import AsItLies
from projector.demo.cut_panel import panel_laid_back
from projector.demo.setup import demo_setup
from projector.demo.virtual_camera import LitTable, Taking, jpeg_bytes
from projector.light.pattern import levels_of, pattern_frame
from projector.page.work.taking import NEAR_SIDE, Held, camera_held
from projector.prints.face import face_of
from projector.scene.lit_stretch import plan_on_table
from projector.scene.mates import panel_seen
from projector.scene.print_marks import lattice_of
from tests.projector.commands.running import EXAMPLES


@pytest.mark.parametrize("at", [0, 1])
def test_a_panel_longer_than_the_table_shows_the_end_that_its_stop_lights(at: int) -> None:
    job = load_plan(EXAMPLES / "reading_room.yaml").job
    demo = demo_setup(job)
    stop = plan_on_table(job, demo.table.lit_area()).stops[at]
    assert stop.shows == (("top",), ("foot",))[at]
    pattern = Pattern(demo.table.width_px, demo.table.height_px)
    frame = pattern_frame(pattern)
    panel = panel_laid_back(load_plan(EXAMPLES / "reading_room.yaml"), stop, None, AsItLies())
    held = camera_held(demo.table_in, Held(NEAR_SIDE, high=True, upright=False, number=1))
    taken = jpeg_bytes(held, LitTable(demo.projector, frame, panel, demo.table_in), Taking(blur_px=0.6, noise=3.0))
    rgb = np.asarray(Image.open(io.BytesIO(taken)))
    lattice = lattice_of(job.cloth, job.cloth.pieces[0])
    tile = Tile.of_picture(face_of(job.cloth).pixels, lattice)
    lit = Lit(pattern, levels_of(frame, demo.table.gamma))
    seen = panel_seen(Photo(rgb, lit), demo.table, stop.placement, tile, job.cloth)
    assert seen.problems == ()
    assert [end is not None for end in seen.ends] == [at == 0, at == 1]
    # It is drawn where it is, and was to be, though nothing tells which row of the print is which.
    cut, meant = seen.place(at == 1, 27.0), seen.wanted(at == 1, 27.0)
    assert cut is not None
    along = np.arange(-10, 80, 1 / 64)
    on = along[np.isfinite(panel.to_piece(np.column_stack([along, np.full_like(along, cut[1])]))[:, 0])]
    end = on.min() if at == 0 else on.max()
    assert cut[0] == pytest.approx(end, abs=1 / 4)
    assert meant[0] == pytest.approx(end, abs=2)
