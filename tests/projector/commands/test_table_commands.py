import json

import pytest
from PIL import Image

from projector.session import run as session
from tests.projector.commands.running import READING_ROOM, run

# An exact trapezoid: pixels (0,0), (1920,0), (1680,1080), (240,1080) light inches (0,0), (48,0), (48,27), (0,27).
TRAPEZOID = """
projector: {width: 1920, height: 1080}
units: in
marks:
  - {table: [0, 0], pixel: [0, 0]}
  - {table: [48, 0], pixel: [1920, 0]}
  - {table: [48, 27], pixel: [1680, 1080]}
  - {table: [0, 27], pixel: [240, 1080]}
"""


@pytest.fixture
def table(tmp_path):
    marks, table = tmp_path / "marks.yaml", tmp_path / "table.yaml"
    marks.write_text(TRAPEZOID)
    ran = run("calibrate", table, "--marks", marks)
    assert (ran.code, ran.err) == (0, "")
    return table


def test_a_calibration_from_a_marks_file_maps_inches_to_pixels(table):
    said = json.loads(run("table", table, "--at", "24,13.5", "--at", "0,27", "--json").out)
    keys = {"width_px", "height_px", "matrix", "lens", "marks", "rms_px", "worst_in", "lit_area", "at"}
    assert set(said) >= keys
    assert said["matrix"][2][2] == 1
    # Worked by hand: inch (24, 13.5) is pixel (960, 4320/7).
    assert said["at"][0]["pixel"] == pytest.approx([960, 4320 / 7], abs=1e-9)
    assert said["at"][1]["pixel"] == pytest.approx([240, 1080], abs=1e-9)
    assert all(point["error_in"] > 0 for point in said["at"])
    assert said["worst_in"] >= max(point["error_in"] for point in said["at"])
    assert said["rms_px"] == pytest.approx(0, abs=1e-9)
    assert set(said["marks"][0]) >= {"table", "pixel", "residual_px", "residual_in"}


def test_points_may_be_written_as_lengths_and_lie_beyond_the_origin(table):
    said = json.loads(run("table", table, "--at", "1 yd,-1/2 in", "--json").out)
    assert said["at"][0]["table"] == [36, -0.5]


def test_a_point_that_is_no_point_is_wrong_usage(table):
    assert run("table", table, "--at", "12").code == 2
    assert run("table", table, "--at", "12,up").code == 2


def test_a_point_beyond_the_horizon_is_refused(table):
    ran = run("table", table, "--at", "24,-999", "--json")
    assert (ran.code, ran.out) == (1, "")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("[48, 27], pixel", "[24, 0], pixel"), "line"),
        (("[48, 27], pixel", "[48, 0], pixel"), "same"),
        (("pixel: [1680, 1080]", "pixel: [1680]"), "pixel"),
        (("width: 1920", "width: 0"), "width"),
    ],
)
def test_marks_that_carry_no_calibration_are_refused_and_nothing_is_written(tmp_path, change, said):
    marks, table = tmp_path / "marks.yaml", tmp_path / "table.yaml"
    marks.write_text(TRAPEZOID.replace(*change))
    ran = run("calibrate", table, "--marks", marks)
    assert ran.code == 1
    assert said in ran.err
    assert not table.exists()


def test_a_damaged_table_file_is_refused(table):
    table.write_text(table.read_text().replace("pixel: [1680.0", "pixel: [1681.0"))
    ran = run("table", table)
    assert ran.code == 1
    assert "calibrate again" in ran.err


def test_stops_are_planned_for_what_the_projector_lights(tmp_path, table):
    job = tmp_path / "job.yaml"
    job.write_text(
        READING_ROOM.read_text().replace("width: 54 ", "width: 26 ").replace("across: [20, 26]", "across: [9, 11]")
    )
    plan = json.loads(run("plan", job, "--table", table, "--json").out)
    # The trapezoid lights x from 0 to 48 over its whole depth of 27 in.
    for stop in plan["stops"]:
        at = stop["cloth_at_left_in"]
        assert 0 <= stop["lit_from_in"] - at <= stop["lit_to_in"] - at <= 48


def test_cloth_wider_than_the_light_is_planned_with_a_notice(tmp_path, table):
    job = tmp_path / "job.yaml"
    job.write_text(
        READING_ROOM.read_text().replace("width: 54 ", "width: 36 ").replace("across: [20, 26]", "across: [9, 11]")
    )
    ran = run("plan", job, "--table", table)
    assert ran.code == 0
    assert "the light reaches only" in ran.out
    ran = run("plan", READING_ROOM, "--table", table)
    assert "does not reach across even half" in ran.err or "the light reaches only" in ran.out


def test_the_pattern_for_photographs_is_written_with_the_place_of_its_crosses(tmp_path):
    out = tmp_path / "pattern.png"
    ran = run("calibrate", tmp_path / "table.yaml", "--pattern", out, "--size", "1280x800")
    assert (ran.code, ran.err) == (0, "")
    # 25 fields of 50 px leave 30 px, 15 a side. Dark in the last row but one, the fifteenth, are fields 3, 5 ... 23.
    assert json.loads(ran.out)["crosses_px"] == [[15 + 2.5 * 50, 14.5 * 50], [15 + 22.5 * 50, 14.5 * 50]]
    with Image.open(out) as picture:
        assert picture.size == (1280, 800)
    assert not (tmp_path / "table.yaml").exists()


def test_the_pattern_is_that_of_the_calibrated_projector_unless_told(table, tmp_path):
    out = tmp_path / "pattern.png"
    assert json.loads(run("calibrate", table, "--pattern", out).out)["width_px"] == 1920
    assert run("calibrate", table, "--pattern", out, "--size", "12").code == 2
    assert run("calibrate", table, "--pattern", out, "--size", "60x60").code == 2


@pytest.mark.parametrize(
    ("words", "nearest_in"),
    [((), 1 / 16), (("--units", "mm"), 1 / 16), (("--nearest", "1", "--units", "mm"), 1 / 25.4)],
)
def test_the_step_a_tape_is_read_to_is_in_the_unit_of_the_tape(table, monkeypatch, words, nearest_in):
    begun = []
    monkeypatch.setattr(session, "run_tape_check", lambda state, save, rim: begun.append(state))
    assert run("tape", table, "--display", "1", *words).code == 0
    assert begun[0].nearest_in == pytest.approx(nearest_in)


def test_a_file_that_is_no_calibration_is_not_written_over(tmp_path):
    (tmp_path / "marks.yaml").write_text(TRAPEZOID)
    job = tmp_path / "job.yaml"
    for text in ("job: curtains\nwindows: []\n", "", "\x00torn"):
        job.write_text(text)
        ran = run("calibrate", job, "--marks", tmp_path / "marks.yaml")
        assert (ran.code, ran.out) == (1, "")
        assert "nothing is written over it" in ran.err
        assert job.read_text() == text


def test_practice_does_not_write_over_a_true_calibration(tmp_path, monkeypatch):
    (tmp_path / "marks.yaml").write_text(TRAPEZOID)
    table = tmp_path / "table.yaml"
    assert run("calibrate", table, "--marks", tmp_path / "marks.yaml").code == 0
    before = table.read_text()
    practised = []
    monkeypatch.setattr(session, "run_practice", lambda save, start, rim: practised.append(start))
    ran = run("calibrate", table, "--simulated")
    assert ran.code == 1
    assert "practice-table.yaml" in ran.err
    assert table.read_text() == before
    assert practised == []
    # What was practised before may be practised anew, and is not cut by.
    table.write_text(before + 'display: "simulated"\n')
    assert run("calibrate", table, "--simulated").code == 0
    assert len(practised) == 1
    ran = run("cut", READING_ROOM, "--table", table)
    assert ran.code == 1
    assert "practised on the simulated table" in ran.err
