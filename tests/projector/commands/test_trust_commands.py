"""What the commands say of how far a calibration can be trusted."""

from __future__ import annotations

import json
import re

import pytest

from tests.projector.commands.running import READING_ROOM, run

# A table seen from straight above, 20 pixels an inch: u = 200 + 20 x, v = 1000 - 20 y.
HEAD = "projector: {width: 1920, height: 1080}\nunits: in\n"
CORNERS = ((0, 0), (70, 0), (70, 40), (0, 40))


def marks_text(*places, checks=(), typed=None):
    """A marks file; ``typed`` maps a mark (from 0) to what was typed for it instead."""
    lines = [HEAD + "marks:"]
    for number, (x, y) in enumerate((*places, *checks)):
        table = (typed or {}).get(number, (x, y))
        check = ", check: yes" if number >= len(places) else ""
        lines.append(f"  - {{table: [{table[0]}, {table[1]}], pixel: [{200 + 20 * x}, {1000 - 20 * y}]{check}}}")
    return "\n".join(lines) + "\n"


@pytest.fixture
def calibrated(tmp_path):
    def make(text, *options):
        marks, table = tmp_path / "marks.yaml", tmp_path / "table.yaml"
        marks.write_text(text)
        return table, run("calibrate", table, "--marks", marks, *options)

    return make


def test_four_marks_are_told_to_prove_nothing_with_the_error_and_the_mark_that_helps(calibrated):
    _, ran = calibrated(marks_text(*CORNERS))
    assert ran.code == 0
    assert "Four marks always agree with each other, which proves nothing" in ran.out
    assert re.search(r"Expected error: the whole lit area at once within .* in, in 95 of 100\.", ran.out)
    assert re.search(r"A single place: within .* in where it is largest, (at|between) the ", ran.out)
    assert re.search(r"One more mark near .* in \((at|between) the .*\) brings .* in down to .* in\.", ran.out)
    assert "These marks cannot show whether the lens bends straight lines" in ran.out


def test_marks_crowded_together_are_sent_to_the_corners(calibrated):
    _, crowded = calibrated(marks_text((0, 0), (20, 0), (20, 12), (0, 12)))
    assert "Set the first four marks near the four corners" in crowded.out
    _, spread = calibrated(marks_text((-9, -3), (85, -3), (85, 49), (-9, 49)))
    assert "Set the first four marks" not in spread.out


def test_json_carries_advice_doubt_checks_and_age(calibrated):
    table, _ = calibrated(marks_text(*CORNERS, checks=((35, 0), (35, 40))))
    said = json.loads(run("table", table, "--json").out)
    assert said["advice"]["before_in"] == pytest.approx(said["worst_in"], rel=0.02)
    assert said["advice"]["after_in"] < said["advice"]["before_in"]
    assert said["lens_doubt"]["told_by_marks"] is False
    assert said["age_days"] == 0
    assert said["checks"]["verdict"] == "agrees"
    assert len(said["checks"]["marks"]) == 2
    assert len(said["marks"]) == 4
    assert said["proof"] is None


def test_check_marks_are_judged_and_kept_out_of_the_fit(calibrated):
    table, ran = calibrated(marks_text(*CORNERS, checks=((35, 0),), typed={4: (35.5, 0)}))
    assert "check mark 1" in ran.out
    # Half an inch off where about 3/32 was to be expected.
    assert "The light misses check mark 1 by 1/2 in" in ran.out
    assert "misses" in run("table", table).out


def test_a_mistyped_mark_is_named_with_the_likely_slip(calibrated):
    places = (*CORNERS, (35, 40), (35, 0))
    _, ran = calibrated(marks_text(*places, typed={2: (40, 70)}))
    assert "Mark 3 does not go with the others" in ran.out + ran.err
    assert "should be (70, 40)" in ran.out + ran.err


def test_a_slip_in_centimetres_is_found_in_the_figures_as_they_stand_in_the_file(calibrated):
    # The same table at 20 pixels a centimetre; the fifth mark stands 3.5 instead of 35 along.
    text = marks_text(*CORNERS, (35, 40), (35, 0), (0, 20), typed={4: (3.5, 40)}).replace("units: in", "units: cm")
    _, ran = calibrated(text)
    assert "Mark 5 does not go with the others" in ran.out + ran.err
    assert "number of centimetres 35 instead of 3.5" in ran.out + ran.err


def test_light_is_raised_onto_thick_cloth_where_the_lens_position_is_known(calibrated, tmp_path):
    pictures = []
    for name, lens in (("bare", ()), ("raised", ("--lens-height", "96", "--lens-foot", "35,20"))):
        table, _ = calibrated(marks_text((0, 0), (70, 0), (70, 52), (0, 52)), *lens)
        job, out = tmp_path / "job.yaml", tmp_path / f"{name}.png"
        job.write_text(READING_ROOM.read_text().replace("  width: 54 ", "  thickness: 2\n  width: 54 "))
        ran = run("picture", job, "--of", "frame", "--table", table, "--out", out)
        assert (ran.code, ran.err) == (0, "")
        pictures.append(out.read_bytes())
    assert pictures[0] != pictures[1]


def test_marks_in_crossed_order_are_refused_with_the_right_order(calibrated, tmp_path):
    table, ran = calibrated(marks_text(*CORNERS, typed={2: (0, 40), 3: (70, 40)}))
    assert ran.code == 1
    assert "mark 3 takes the pixel of mark 4" in ran.err
    assert not table.exists()


def test_a_pixel_outside_the_frame_is_pointed_out(calibrated):
    _, ran = calibrated(marks_text((-12, 0), *CORNERS[1:]))
    assert "Look: mark 1: outside the frame" in ran.out


@pytest.mark.parametrize("ending", [".png", ".svg"])
def test_the_picture_of_the_error_is_written(calibrated, tmp_path, ending):
    table, _ = calibrated(marks_text(*CORNERS))
    out = tmp_path / f"error{ending}"
    ran = run("table", table, "--picture", out)
    assert (ran.code, ran.err) == (0, "")
    assert out.read_bytes()[:5] in (b"\x89PNG\r", b"<?xml")
    assert f"Wrote {out}" in ran.out


def test_a_picture_of_another_kind_is_refused_and_nothing_written(calibrated, tmp_path):
    table, _ = calibrated(marks_text(*CORNERS))
    ran = run("table", table, "--picture", tmp_path / "error.gif")
    assert ran.code == 1
    assert ".png or .svg" in ran.err
    assert not (tmp_path / "error.gif").exists()


def test_the_picture_leaves_json_alone_on_standard_output(calibrated, tmp_path):
    table, _ = calibrated(marks_text(*CORNERS))
    assert json.loads(run("table", table, "--json", "--picture", tmp_path / "e.svg").out)


def test_lens_height_and_foot_are_kept_and_belong_together(calibrated, tmp_path):
    table, ran = calibrated(marks_text(*CORNERS), "--lens-height", "2.5 m", "--lens-foot", "36,-4")
    assert ran.code == 0
    position = json.loads(run("table", table, "--json").out)["lens_position"]
    assert position["height_in"] == pytest.approx(2500 / 25.4)
    assert position["foot_in"] == [36, -4]
    assert calibrated(marks_text(*CORNERS), "--lens-height", "96")[1].code == 2
    assert calibrated(marks_text(*CORNERS), "--lens-height", "0", "--lens-foot", "1,1")[1].code == 2


def test_without_a_lens_position_the_possible_shift_is_said(calibrated):
    _, ran = calibrated(marks_text(*CORNERS))
    assert "on cloth 1/16 in thick the light may shift by up to" in ran.out


READINGS = """
tape: {class: II, reading: 1/32}
readings:
  - {from: [0, 0], to: [70, 0], tape: 70}
  - {from: [0, 0], to: [0, 40], tape: 40}
  - {from: [0, 0], to: [70, 40], tape: 80 5/8}
"""


def taped(table, tmp_path, text, *options):
    readings = tmp_path / "readings.yaml"
    readings.write_text(text)
    return run("tape", table, "--readings", readings, *options)


def sure(text):
    return text.replace("units: in\n", "units: in\nplacing: {tape: 1/128}\n")


def test_a_tape_that_agrees_is_accepted_and_kept_with_its_date(calibrated, tmp_path):
    table, _ = calibrated(sure(marks_text(*CORNERS, checks=((35, 0),))))
    ran = taped(table, tmp_path, READINGS)
    assert (ran.code, ran.err) == (0, "")
    assert "The calibration can be used." in ran.out
    said = json.loads(run("table", table, "--json").out)
    assert (said["proof"]["accepted"], said["proof"]["readings"]) == (True, 3)
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", said["proof"]["date"])
    # What else the table file holds is still there.
    assert len(said["checks"]["marks"]) == 1


def test_a_table_that_is_a_hundredth_too_long_is_a_finding_not_an_error(calibrated, tmp_path):
    table, _ = calibrated(sure(marks_text(*CORNERS)))
    ran = taped(table, tmp_path, READINGS.replace("tape: 70}", "tape: 70.7}").replace("80 5/8", "81 1/4"))
    assert (ran.code, ran.err) == (0, "")
    assert "too long along the table" in ran.out
    assert "Scale along: the tape reads 1.0" in ran.out
    assert json.loads(run("table", table, "--json").out)["proof"]["accepted"] is False


def test_the_proof_is_printed_for_programs(calibrated, tmp_path):
    table, _ = calibrated(sure(marks_text(*CORNERS)))
    said = json.loads(taped(table, tmp_path, READINGS, "--json").out)
    assert (said["action"], said["accepted"], said["verdict"]) == ("accept", True, "agrees")
    assert [one["runs"] for one in said["readings"]] == ["along", "across", "diagonal"]
    # 70^2 + 40^2 = 6500, so the diagonal is lit 80.6226 in long.
    assert said["readings"][2]["lit_in"] == pytest.approx(6500**0.5, abs=1e-5)


@pytest.mark.parametrize(
    ("change", "says"),
    [(("tape: 70}", "tape: 0}"), "tape"), (("readings:", "reading:"), "reading"), (("[70, 0]", "[400, 0]"), "30 ft")],
)
def test_readings_that_cannot_be_used_are_refused_and_nothing_is_kept(calibrated, tmp_path, change, says):
    table, _ = calibrated(marks_text(*CORNERS))
    was = table.read_bytes()
    ran = taped(table, tmp_path, READINGS.replace(*change))
    assert (ran.code, ran.out) == (1, "")
    assert says in ran.err
    assert table.read_bytes() == was


def test_no_window_is_opened_for_readings_from_a_file(calibrated, tmp_path):
    table, _ = calibrated(marks_text(*CORNERS))
    from tests.projector.commands.running import modules_after

    (tmp_path / "readings.yaml").write_text(READINGS)
    call = f"from tests.projector.commands.running import run; run('tape', {str(table)!r}, '--readings', "
    assert "pygame" not in modules_after(f"{call}{str(tmp_path / 'readings.yaml')!r})")


def test_json_at_the_table_is_wrong_usage(calibrated):
    table, _ = calibrated(marks_text(*CORNERS))
    assert run("tape", table, "--json").code == 2


def test_cut_wants_a_table_or_practice_and_not_both(tmp_path, calibrated):
    table, _ = calibrated(marks_text(*CORNERS))
    assert run("cut", READING_ROOM).code == 2
    assert run("cut", READING_ROOM, "--table", table, "--simulated").code == 2


def test_practice_and_a_marks_file_are_not_both_taken(tmp_path):
    assert run("calibrate", tmp_path / "t.yaml", "--marks", tmp_path / "m.yaml", "--simulated").code == 2


def test_cloth_that_reaches_up_to_the_lens_is_refused(calibrated, tmp_path):
    low = ("--lens-height", "1/2", "--lens-foot", "35,20")
    table, _ = calibrated(marks_text((0, 0), (70, 0), (70, 52), (0, 52)), *low)
    job = tmp_path / "job.yaml"
    job.write_text(READING_ROOM.read_text().replace("  width: 54 ", "  thickness: 1/4\n  layers: 2\n  width: 54 "))
    ran = run("plan", job, "--table", table)
    assert ran.code == 1
    assert "not below the lens" in ran.err
