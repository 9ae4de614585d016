"""Cloth run sideways through the commands: JSON and words, and a frame whose light does not reach the top."""

from __future__ import annotations

import json
from pathlib import Path

from projector.commands.shared.loading import load_job
from projector.files.table_file import read_stored
from projector.scene.lit_stretch import plan_on_table
from projector.scene.marks import Text
from projector.session.cutting.begin import arrive, session_for
from tests.projector.commands.running import EXAMPLES, run

DEPOT = EXAMPLES / "tram_depot.yaml"
CM = 1 / 2.54
MARKS = """\
projector: {width: 1920, height: 1080}
units: cm
marks:
  - {table: [0, 0], pixel: [160, 1060]}
  - {table: [290, 0], pixel: [1760, 1060]}
  - {table: [290, 180], pixel: [1760, 66.9]}
  - {table: [0, 180], pixel: [160, 66.9]}
"""


def test_json_tells_where_each_edge_of_a_sideways_cut_lies() -> None:
    plan = json.loads(run("plan", DEPOT, "--json").out)
    first_row, along = 31 * CM, 48 * CM
    for cut in plan["cuts"]:
        assert cut["run"] == "sideways"
        assert cut["leading_selvedge"] is None
        assert {cut["leading_in"], cut["return_in"]} == {cut["start_in"], cut["end_in"]}
        assert sorted((cut["top_in"], cut["foot_in"])) == cut["across_in"]
        assert (cut["top_in"] > cut["foot_in"]) is (cut["top_selvedge"] == "far")
        # A row of the print lies at the leading edge of a left or whole panel, and at the same place of its partner.
        off = (cut["leading_in"] - first_row) % along
        assert min(off, along - off) < 1e-9
    left, right = (next(cut for cut in plan["cuts"] if cut["hand"] == hand) for hand in ("left", "right"))
    # The mirror line lies on the columns at 12 + 32 k cm: the tops lie as far from one of them, or from halfway.
    off = (left["top_in"] + right["top_in"] - 2 * 12 * CM) % (32 * CM)
    assert min(off, 32 * CM - off) < 1e-9
    assert [stop["shows"] for stop in plan["stops"]] == [["top", "foot", "leading", "return"]] * 3


def test_upright_cuts_say_that_they_are() -> None:
    for cut in json.loads(run("plan", EXAMPLES / "reading_room.yaml", "--json").out)["cuts"]:
        assert (cut["run"], cut["top_selvedge"], cut["leading_in"], cut["return_in"]) == ("up", None, None, None)


def test_the_words_say_how_tall_how_long_and_which_way_it_lies() -> None:
    said = run("check", DEPOT).out
    assert "run sideways: the selvedges lie along top and foot" in said
    assert "TOP towards the near selvedge" in said
    order = run("order", DEPOT).out
    assert "lie across, of 277 cm between the selvedges" in order
    assert "to cut along the piece" in order
    plan = run("plan", DEPOT).out
    assert "260.2 cm across, far side" in plan
    assert "top, foot, leading edge and return edge" in plan


def test_a_row_out_of_reach_is_refused_with_the_nearest_one(tmp_path: Path) -> None:
    asked = tmp_path / "depot.yaml"
    asked.write_text(DEPOT.read_text().replace("below_top: 14", "below_top: 12"))
    ran = run("plan", asked)
    assert ran.code == 1
    assert "depot.yaml:" in ran.err
    assert "write `row: {below_top: 12.9 cm}`" in ran.err


def test_letters_of_a_frame_stand_where_its_light_reaches(tmp_path: Path) -> None:
    job, marks, table = tmp_path / "depot.yaml", tmp_path / "marks.yaml", tmp_path / "table.yaml"
    job.write_text(DEPOT.read_text().replace("table: {length: 300, width: 290}", ""))
    marks.write_text(MARKS)
    assert run("calibrate", table, "--marks", marks).code == 0
    made = read_stored(table).table
    plan = plan_on_table(load_job(job), made.lit_area())
    session = session_for(plan, made)
    arrive(session, 0)
    texts = {mark.text: mark.at for mark in session.lit().scene.marks if isinstance(mark, Text)}
    assert {"FOOT", "to the top", "leading edge", "return edge"} <= texts.keys()
    assert "TOP" not in texts
    assert all(made.contains([at])[0] for at in texts.values())
