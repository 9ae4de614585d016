import json
from fractions import Fraction

import numpy as np
import pytest
from PIL import Image

from jobs.io.reader import read_job
from tests.jobs.cutting.tilings import settings
from tests.jobs.prints.photographs import desk_lamp
from tests.jobs.prints.photographs.pictures import photograph
from tests.projector.commands.running import READING_ROOM, run

FERRY = """\
# The night ferry
job: Night ferry saloon
units: cm   # as measured
cloth:
  name: Sprigs   # from the lamp
  width: 140
  repeat: {along: 6, across: 3.8}   # by eye
  print: {group: pm, top_to_bottom: mirror}   # to be looked at
  colour: "#ffffff"
allowances: {heading: 6, hem: 12, side_hem: 4, seam: 1, squaring: 2}
windows:
  - {name: Saloon, panels: pair, finished_length: 120, row: {below_top: 3}}
"""
SIZE = (330, 400)
SHARE = 0.002
"""Of a repeat: how far off it may be."""


@pytest.fixture
def photo(tmp_path):
    setting = settings()[0]
    picture, per_inch = photograph(setting, 101, size=SIZE)
    path = tmp_path / "cloth.png"
    Image.fromarray(np.rint(np.clip(picture, 0, 1) * 255).astype(np.uint8)).save(path)
    return path, setting, per_inch


def test_a_photograph_gives_the_stable_keys_in_inches(photo):
    path, setting, per_inch = photo
    ran = run("measure", path, "--pixels-per-inch", per_inch, "--json")
    assert (ran.code, ran.err) == (0, "")
    told = json.loads(ran.out)
    assert set(told) >= {"along_in", "across_in", "drop", "angle_deg", "symmetry", "confidence"}
    assert told["along_in"] == pytest.approx(setting.lattice.along, rel=SHARE)
    assert told["across_in"] == pytest.approx(setting.lattice.across, rel=SHARE)
    assert told["symmetry"] == {
        "top_to_bottom": setting.top_to_bottom,
        "side_to_side": setting.side_to_side,
        "half_turn": setting.half_turn,
    }
    assert 0 <= told["confidence"] <= 1


def test_two_points_of_a_ruler_give_the_same_scale(photo):
    path, _, per_inch = photo
    ends = f"{200 - 3 * per_inch},165", f"{200 + 3 * per_inch},165"
    by_ruler = run("measure", path, "--points", *ends, "--distance", "6", "--json")
    by_scale = run("measure", path, "--pixels-per-inch", per_inch, "--json")
    # The picture is taken at a slant of a degree, which shortens a ruler in its direction by 2 in 10,000.
    assert json.loads(by_ruler.out)["along_in"] == pytest.approx(json.loads(by_scale.out)["along_in"], rel=0.001)
    assert "Repeat along" in run("measure", path, "--pixels-per-inch", per_inch).out


def test_without_a_scale_or_with_two_it_is_wrong_usage(photo):
    path = photo[0]
    assert run("measure", path).code == 2
    assert run("measure", path, "--points", "1,1", "9,9").code == 2
    assert run("measure", path, "--points", "1,1", "1,1", "--distance", "3").code == 2
    assert run("measure", path, "--pixels-per-inch", "30", "--points", "1,1", "9,9", "--distance", "3").code == 2


def test_what_is_no_picture_or_shows_no_print_is_refused(tmp_path):
    plain = tmp_path / "plain.png"
    Image.new("RGB", (300, 300), "#8899aa").save(plain)
    for path in (plain, READING_ROOM, tmp_path / "nowhere.jpg", tmp_path):
        ran = run("measure", path, "--pixels-per-inch", "30", "--json")
        assert (ran.code, ran.out) == (1, "")
        assert ran.err.startswith(f"{path}: ")
        assert len(ran.err.splitlines()) == 1


LAMP_SHARE = 0.001
"""Of a repeat, for scales read exactly off the picture."""


@pytest.fixture(scope="module")
def lamp(tmp_path_factory):
    path = tmp_path_factory.mktemp("lamp") / "page.jpg"
    return path, desk_lamp.write_photo(path, size=(1050, 1400))


def at(pixel_of, across_in, along_in):
    return "{:.1f},{:.1f}".format(*pixel_of(across_in, along_in))


def told_by(path, *scale):
    ran = run("measure", path, *scale, "--json")
    assert (ran.code, ran.err) == (0, "")
    return json.loads(ran.out)


def scales_of(pixel_of):
    ends = at(pixel_of, 0.5, 13.75), at(pixel_of, 10.5, 13.75)
    corners = [at(pixel_of, *place) for place in ((11, 0), (0, 0), (11, 14), (0, 14))]
    return {
        "ruler": ["--points", *ends, "--distance", "10"],
        "tape": ["--tape", *ends, "--tick", "1/8"],
        "corners": ["--corners", *corners, "--size", "11x14"],
        "width": ["--cloth-width", "11"],
    }


@pytest.mark.parametrize("way", ["ruler", "tape", "corners", "width"])
def test_a_page_under_a_desk_lamp_is_measured_by_every_kind_of_scale(lamp, way):
    path, pixel_of = lamp
    told = told_by(path, *scales_of(pixel_of)[way])
    share = LAMP_SHARE if way != "width" else 0.004
    assert told["along_in"] == pytest.approx(desk_lamp.ALONG_IN, rel=share)
    assert told["across_in"] == pytest.approx(desk_lamp.ACROSS_IN, rel=share)
    assert told["along_in"] == pytest.approx(desk_lamp.ALONG_IN, abs=3 * told["along_uncertainty_in"])
    assert told["drop"] == 0.5
    assert told["symmetry"] == {"top_to_bottom": "none", "side_to_side": "mirror", "half_turn": False}
    assert told["confidence"] > 0.6
    assert told["mirror_offset_in"] is None
    assert told["mirror_offset_across_in"] == pytest.approx(0, abs=0.01)


def test_a_line_without_ticks_is_no_tape(lamp):
    path, pixel_of = lamp
    ran = run("measure", path, "--tape", at(pixel_of, 0.12, 1), at(pixel_of, 0.12, 12), "--tick", "1/8")
    assert ran.code == 1
    assert "no even ticks" in ran.err


def test_the_mirror_line_is_told_from_the_place_rows_are_measured_from(lamp):
    path, pixel_of = lamp
    # A stalk stands 0.4 in from the side of the page, the next 1.5 in on: the place is 0.3 in short of that one.
    row = at(pixel_of, 0.4 + 3 * 1.5 - 0.3, 6.0)
    told = told_by(path, *scales_of(pixel_of)["corners"], "--row", row)
    assert told["mirror_offset_across_in"] == pytest.approx(0.3, abs=0.01)


def test_the_picture_shows_lattice_mirror_lines_and_the_mean_repeat(lamp, tmp_path):
    path, pixel_of = lamp
    ran = run("measure", path, *scales_of(pixel_of)["corners"], "--picture", tmp_path / "seen.png")
    assert f"Wrote {tmp_path / 'seen.png'}" in ran.out
    with Image.open(tmp_path / "seen.png") as image:
        seen = np.asarray(image.convert("RGB")).astype(int)
    mirror = (np.abs(seen - (213, 94, 0)).max(2) < 30)[:, :900]
    # Mirror lines run from top to foot of the photograph: in most of its rows some are seen.
    assert (mirror.sum(1) > 3).mean() > 0.8
    assert run("measure", path, *scales_of(pixel_of)["corners"], "--picture", tmp_path / "seen.gif").code == 1


def test_what_was_found_goes_into_a_job_and_its_remarks_stay(lamp, tmp_path):
    path, pixel_of = lamp
    job = tmp_path / "ferry.yaml"
    job.write_text(FERRY)
    ran = run("measure", path, *scales_of(pixel_of)["corners"], "--into", job)
    assert (ran.code, ran.err) == (0, "")
    assert "repeat, along: 6 -> 6.1" in ran.out
    assert "print, top_to_bottom: mirror -> none" in ran.out
    text = job.read_text()
    kept = [
        line for line in FERRY.splitlines() if "repeat" not in line and "print" not in line and "colour" not in line
    ]
    assert [line for line in text.splitlines() if line in kept] == kept
    read = read_job(job)
    assert float(read.cloth.repeat.along) == pytest.approx(desk_lamp.ALONG_IN, rel=0.003)
    assert read.cloth.drop == Fraction(1, 2)
    assert read.cloth.print.side_to_side == "mirror"
    assert read.cloth.picture == "ferry-repeat.png"
    with Image.open(tmp_path / "ferry-repeat.png") as tile:
        assert tile.height > 100
    assert "says all this already" in run("measure", path, *scales_of(pixel_of)["corners"], "--into", job).out
    assert job.read_text() == text
    assert run("picture", job, "--of", "hung", "--out", tmp_path / "hung.png").code == 0


def test_a_job_that_is_not_sound_is_refused_before_and_left_as_it_is(lamp, tmp_path):
    path, pixel_of = lamp
    job = tmp_path / "ferry.yaml"
    job.write_text(FERRY.replace("width: 140", "width: wide"))
    ran = run("measure", path, *scales_of(pixel_of)["corners"], "--into", job)
    assert ran.code == 1
    assert "cloth, width" in ran.err
    assert job.read_text() == FERRY.replace("width: 140", "width: wide")
    assert not (tmp_path / "ferry-repeat.png").exists()


def test_several_pictures_are_surer_than_one(photo, tmp_path):
    path, setting, per_inch = photo
    more = []
    for seed in (102, 103):
        picture, _ = photograph(setting, seed, size=SIZE)
        more.append(tmp_path / f"{seed}.png")
        Image.fromarray(np.rint(np.clip(picture, 0, 1) * 255).astype(np.uint8)).save(more[-1])
    one = told_by(path, "--pixels-per-inch", per_inch)
    all_of = json.loads(run("measure", path, *more, "--pixels-per-inch", per_inch, "--json").out)
    assert all_of["along_uncertainty_in"] < 0.8 * one["along_uncertainty_in"]
    assert all_of["along_in"] == pytest.approx(setting.lattice.along, rel=SHARE)
    assert len(all_of["pictures"]) == 3
    assert run("measure", path, *more, "--points", "1,1", "9,9", "--distance", "3").code == 2


def test_corners_that_are_none_and_half_a_scale_are_wrong_usage(photo):
    path = photo[0]
    assert run("measure", path, "--corners", "0,0", "10,10", "20,20", "5,0", "--size", "4x4").code == 2
    assert run("measure", path, "--corners", "0,0", "10,0", "10,10", "0,10").code == 2
    assert run("measure", path, "--tape", "0,0", "300,0").code == 2
    assert run("measure", path, "--selvedges", "0", "300", "--pixels-per-inch", "30").code == 2


@pytest.mark.parametrize(
    "words",
    [("--points", "10,10", "9000,10", "--distance", "8"),
     ("--corners", "-5,0", "90,0", "90,90", "0,90", "--size", "9x9"),
     ("--tape", "10,10", "10,9000", "--tick", "1/8"), ("--cloth-width", "54", "--selvedges", "-3", "90"),
     ("--pixels-per-inch", "20", "--row", "-1,5"), ("--pixels-per-inch", "20", "--inside", "5,5", "9000,90")],
)  # fmt: skip
def test_a_place_outside_the_picture_is_refused(tmp_path, words):
    Image.new("RGB", (200, 100)).save(tmp_path / "a.png")
    ran = run("measure", tmp_path / "a.png", *words)
    assert ran.code == 1
    assert "lies outside the picture, which is 200 x 100 pixels" in ran.err


@pytest.mark.parametrize("number", ["nan", "inf", "-inf", "1e999"])
def test_what_is_no_number_is_wrong_usage(tmp_path, number):
    Image.new("RGB", (200, 100)).save(tmp_path / "a.png")
    for words in (("--pixels-per-inch", number), ("--cloth-width", "54", "--selvedges", number, "90")):
        assert run("measure", tmp_path / "a.png", *words).code == 2


@pytest.mark.parametrize(
    ("name", "said"),
    [("", "is no name of a file"), (".", "is no name of a file"), ("a" * 300, "longer than that of a file"),
     ("\x1b[31mred.yaml", "hidden characters"), ("\u202eyaml", "hidden characters"), ("\udcff", "hidden characters")],
)  # fmt: skip
@pytest.mark.parametrize("command", ["check", "status", "measure", "plan"])
def test_a_name_that_can_be_no_file_is_refused_in_words_that_can_be_shown(name, said, command):
    ran = run(command, name, *(("--pixels-per-inch", "20") if command == "measure" else ()))
    assert (ran.code, said in ran.err) == (1, True)
    assert ran.err.strip().replace("\ufffd", "").isprintable()
