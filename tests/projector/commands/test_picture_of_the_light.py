"""`picture --of frame` is what the session lights: its colours, doubts, layers and widths."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from jobs.io.reader import read_job
from jobs.model.plan import Plan
from projector.demo.setup import DemoSetup, demo_setup
from projector.files.settings import LightSettings, light_path, write_light
from projector.scene.lit_stretch import plan_on_table
from projector.session.actions import Action
from projector.session.cutting.begin import arrive, session_for
from projector.session.cutting.light import choice_at
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import Page
from tests.projector.commands.running import READING_ROOM, run
from tests.projector.session.sessions import cutting_of, key

REST_S = 30.0
MARKS = """
projector: {width: 1280, height: 720}
units: in
marks:
  - {table: [0, 0], pixel: [60.0, 660.0]}
  - {table: [95, 0], pixel: [1230.0, 648.0]}
  - {table: [96, 60], pixel: [1180.0, 40.0]}
  - {table: [1, 60], pixel: [88.0, 61.0]}
"""


def pixels_of(path: Path) -> np.ndarray:
    red, green, blue = np.moveaxis(np.asarray(Image.open(path).convert("RGB"), np.uint32), -1, 0)
    return red << 16 | green << 8 | blue


def at_the_table(plan: Plan, demo: DemoSetup, at: int) -> Cutting:
    """A session at the simulated table, stepped on by a person with one key."""
    cutting = cutting_of(plan, demo.table)
    while cutting.state.page is not Page.STOP or cutting.state.at < at:
        key(cutting, "Space", REST_S)
    return cutting


def lit(cutting: Cutting) -> np.ndarray:
    width, height = cutting.size_px
    frame = np.zeros((height, width), np.uint32)
    cutting.paint(frame)
    return frame


@pytest.mark.parametrize(
    ("name", "stop"), [("reading_room", 1), ("ferry_lane", 3), ("potting_shed", 2), ("attic_studio", 2)]
)
def test_the_picture_of_a_frame_is_the_first_frame_of_the_session_at_that_stop(
    tmp_path: Path, name: str, stop: int
) -> None:
    path, out = READING_ROOM.with_name(f"{name}.yaml"), tmp_path / "frame.png"
    assert run("picture", path, "--of", "frame", "--stop", str(stop), "--out", out).code == 0
    job = read_job(path)
    demo = demo_setup(job)
    seen = at_the_table(plan_on_table(job, demo.table.lit_area()), demo, stop - 1)
    assert seen.state.at == stop - 1
    assert (pixels_of(out) == lit(seen)).all()


def test_the_picture_with_a_table_has_its_doubts_and_the_light_as_it_was_set(tmp_path: Path) -> None:
    job, marks, table, out = (tmp_path / name for name in ("job.yaml", "marks.yaml", "table.yaml", "frame.png"))
    job.write_text(READING_ROOM.read_text())
    marks.write_text(MARKS)
    assert run("calibrate", table, "--marks", marks).code == 0
    write_light(light_path(job), LightSettings(("rows and columns",), 2, 1))
    assert run("picture", job, "--of", "frame", "--table", table, "--out", out).code == 0
    with_settings = pixels_of(out)
    light_path(job).unlink()
    assert run("picture", job, "--of", "frame", "--table", table, "--out", out).code == 0
    usual = pixels_of(out)
    assert (with_settings != usual).any()
    # The same from the keys: rows dark, twice wider, the next colours.
    from projector.commands.shared.loading import load_table
    from projector.commands.shared.planned import load_fitting_plan, on_cloth

    made = load_table(table)
    plan = load_fitting_plan(job, made)
    cutting = session_for(plan, on_cloth(job, made, plan.job))
    arrive(cutting, 0)
    assert (usual == lit(cutting)).all()
    for action in (Action.ROWS, Action.WIDER, Action.WIDER, Action.COLOURS):
        cutting.act(action, REST_S)
    lit_in = {one for one in np.unique(with_settings) if one}
    assert choice_at(plan.job, 1).chosen[1].colour in lit_in
    assert cutting.state.light.width_factor == pytest.approx(1.44)


def test_an_svg_of_a_frame_has_the_colours_of_the_session(tmp_path: Path) -> None:
    out = tmp_path / "frame.svg"
    path = READING_ROOM.with_name("attic_studio.yaml")
    assert run("picture", path, "--of", "frame", "--out", out).code == 0
    colours = choice_at(read_job(path), 0)
    drawn = out.read_text()
    assert f'fill="#{colours.chosen[1].colour:06x}"' in drawn
    assert {f'stroke="#{one.colour:06x}"' in drawn for one in colours.chosen[:1]} == {True}


def test_a_stop_that_lies_behind_is_not_come_to(tmp_path: Path) -> None:
    job = read_job(READING_ROOM)
    demo = demo_setup(job)
    session = session_for(plan_on_table(job, demo.table.lit_area()), demo.table)
    arrive(session, 1)
    with pytest.raises(ValueError, match="stop 1"):
        arrive(session, 0)
