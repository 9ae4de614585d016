"""``lay --photo``: a photograph of the lit pattern over the cloth of a job."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from calibration.photographs.pattern import Pattern
from jobs.io.reader import read_job
from jobs.planning.planner import plan_job
from projector.demo.cloth import AsItLies
from projector.demo.setup import cloth_at, demo_setup
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, backed_off, jpeg_bytes
from projector.files.table_file import Stored, write_stored
from projector.light.pattern import LIT, pattern_frame
from tests.calibration.laying.rigs import SETTINGS, random_face
from tests.jobs.prints.photographs.pictures import Blots
from tests.projector.commands.running import READING_ROOM, run

LIES = AsItLies(1.01, 0.014, 0.008, 0.4, (-0.6, 0.4))


@pytest.fixture(scope="module")
def taken(tmp_path_factory):
    """A folder with the job, its table and a photograph of its cloth as it lies; and where the print truly lies."""
    folder = tmp_path_factory.mktemp("laid")
    setting = next(one for one in SETTINGS if one.group == "p1")
    face = random_face(setting, Blots, 5, 1.0, 54.0)
    # The picture of a repeat is upright, tops up: as this job's cloth lies, its first line is nearest the first end.
    Image.fromarray(face.pixels).resize((265, 248), Image.Resampling.BOX).save(folder / "print.png")
    text = READING_ROOM.read_text(encoding="utf-8").replace(
        "cloth:\n", f"cloth:\n  picture: {folder / 'print.png'}\n", 1
    )
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    job = read_job(folder / "job.yaml")
    demo = demo_setup(job, 1920, 1080, date="2026-03-01")
    write_stored(folder / "table.yaml", Stored(demo.table))
    plan = plan_job(job)
    cloth = cloth_at(plan, plan.stops[0], LIES)
    pattern = Pattern(1920, 1080)
    camera = VirtualCamera((40.0, 10.0, 75.0), (48.0, 27.0), 1200.0, 1600, 1200, 2.0, 0.03)
    camera = backed_off(camera, demo.table_in)
    lit = LitTable(demo.projector, pattern_frame(pattern, on_white=True), cloth, demo.table_in)
    (folder / "seen.jpg").write_bytes(jpeg_bytes(camera, lit, Taking(blur_px=0.8)))
    near = replace(camera, lens_at=(41.5, 9.0, camera.lens_at[2] + 1), aim=(48.5, 28.0), roll_deg=1.0)
    white = replace(lit, frame=np.full_like(lit.frame, LIT))
    (folder / "white.jpg").write_bytes(jpeg_bytes(near, white, Taking(blur_px=0.8, seed=1)))
    Image.open(folder / "white.jpg").rotate(90, expand=True).save(folder / "upright.jpg")
    return folder, cloth, float(plan.stops[0].cloth_at_left)


def test_the_print_is_found_and_told_as_by_points(taken):
    folder, cloth, at_left = taken
    words = ("--photo", folder / "seen.jpg", "--table", folder / "table.yaml", "--at-left", f"{at_left}")
    ran = run("lay", folder / "job.yaml", *words, "--json")
    assert (ran.code, ran.err) == (0, "")
    found = json.loads(ran.out)
    assert found["along_in"] == pytest.approx(12.375 * 1.01, abs=0.01)
    assert found["skew_pct"] == pytest.approx(1.4, abs=0.15)
    assert found["bow_pct"] == pytest.approx(0.8, abs=0.15)
    (a, b, c), (d, e, f) = found["matrix"]
    place = np.array([at_left + 30.0, 0.0])
    lit = (a * place[0] + b * place[1] + c, d * place[0] + e * place[1] + f)
    assert lit == pytest.approx(cloth.to_table([place])[0], abs=1 / 16)
    assert found["photograph"]["row_open"] is True
    told = run("lay", folder / "job.yaml", *words)
    assert "laid by a photograph" in told.out
    assert "The light is within" in told.out


def test_with_a_second_photograph_in_white_light_the_print_is_found_in_that_one(taken):
    folder, cloth, at_left = taken
    photos = ("--photo", folder / "seen.jpg", "--white", folder / "white.jpg")
    words = (*photos, "--table", folder / "table.yaml", "--at-left", f"{at_left}")
    ran = run("lay", folder / "job.yaml", *words, "--json")
    assert (ran.code, ran.err) == (0, "")
    found = json.loads(ran.out)
    (a, b, c), (d, e, f) = found["matrix"]
    place = np.array([at_left + 30.0, 0.0])
    lit = (a * place[0] + b * place[1] + c, d * place[0] + e * place[1] + f)
    assert lit == pytest.approx(cloth.to_table([place])[0], abs=1 / 16)
    brought = found["photograph"]["white"]
    assert brought["places"] > 100
    assert 0.5 < brought["share"] <= 1
    assert 0 < brought["off_in"] < 1 / 16


@pytest.mark.parametrize(("name", "why"), [("seen", "the pattern is lit in it"), ("upright", "has not the size")])
def test_a_second_photograph_of_the_pattern_or_held_otherwise_is_refused_by_its_name(taken, name, why):
    folder, *_ = taken
    words = ("--photo", folder / "seen.jpg", "--white", folder / f"{name}.jpg", "--table", folder / "table.yaml")
    ran = run("lay", folder / "job.yaml", *words)
    assert ran.code == 1
    assert ran.err.startswith(str(folder / f"{name}.jpg"))
    assert why in ran.err


def test_the_frame_that_is_lit_is_written_whole_or_as_codes_on_white(taken):
    folder, *_ = taken
    pictures = []
    for more in (("--whole",), ("--on-white",)):
        ran = run("lay", folder / "job.yaml", "--table", folder / "table.yaml", "--pattern", folder / "lit.png", *more)
        facts = json.loads(ran.out)
        assert (facts["width_px"], facts["height_px"], facts["on_white"]) == (1920, 1080, more == ("--on-white",))
        pictures.append(np.asarray(Image.open(folder / "lit.png").convert("L")))
    assert [one.shape for one in pictures] == [(1080, 1920)] * 2
    whole, on_white = pictures
    # The codes are the same; what is dark beside them is white.
    assert (on_white >= whole).mean() > 0.99
    assert np.mean(on_white > 128) > 0.75 > 0.6 > np.mean(whole > 128)


@pytest.mark.parametrize(("motifs", "on_white"), [("'#e8dcc0'", True), ("'#fffdf5', '#202024'", False)])
def test_which_frame_is_lit_is_chosen_by_the_colours_of_the_cloth(taken, motifs, on_white):
    folder, *_ = taken
    text = (folder / "job.yaml").read_text(encoding="utf-8")
    told = re.sub(r"motif_colours: .*", f"motif_colours: [{motifs}]", text)
    assert told != text
    (folder / "coloured.yaml").write_text(told, encoding="utf-8")
    ran = run("lay", folder / "coloured.yaml", "--table", folder / "table.yaml", "--pattern", folder / "chosen.png")
    assert json.loads(ran.out)["on_white"] is on_white


def test_a_job_without_a_picture_says_what_to_do(taken):
    folder, *_ = taken
    ran = run("lay", READING_ROOM, "--photo", folder / "seen.jpg", "--table", folder / "table.yaml")
    assert ran.code == 1
    assert "no picture of its print" in ran.err


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("--photo", "a.jpg"),
        ("--points", "a.yaml", "--photo", "a.jpg"),
        ("--table", "t.yaml"),
        ("--points", "a.yaml", "--on-white"),
        ("--points", "a.yaml", "--whole"),
        ("--points", "a.yaml", "--white", "b.jpg"),
        ("--pattern", "a.png", "--table", "t.yaml", "--white", "b.jpg"),
    ],
)
def test_half_of_what_is_needed_is_wrong_usage(words):
    assert run("lay", READING_ROOM, *words).code == 2


def test_a_cloth_that_lies_the_other_way_about_is_refused(taken):
    folder, *_ = taken
    other = folder / "turned.yaml"
    Image.open(folder / "print.png").rotate(180).save(folder / "turned.png")
    other.write_text((folder / "job.yaml").read_text(encoding="utf-8").replace("print.png", "turned.png"))
    ran = run("lay", other, "--photo", folder / "seen.jpg", "--table", folder / "table.yaml")
    assert ran.code == 1
    assert "the other way about" in ran.err
