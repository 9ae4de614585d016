"""``calibrate --photos``: files of photographs and a length to a table file, and what is said of bad ones."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from calibration.marks import Mark
from calibration.photographed import Photographed
from calibration.photographs.pattern import Pattern
from calibration.table import fit_table
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, from_around, jpeg_bytes
from projector.demo.virtual_projector import Hung, projector_over
from projector.files.table_file import Stored, write_stored
from projector.light.pattern import pattern_frame
from projector.session import run as session
from tests.projector.commands.running import run

PATTERN = Pattern(640, 480)
LIT = projector_over(72, 54, Hung(tilt_deg=8), size_px=(640, 480))
LIKE = VirtualCamera((0.0, 0.0, 70.0), (36.0, 27.0), 900.0, 1200, 900, k1=0.03)


@pytest.fixture(scope="module")
def photos(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    folder = tmp_path_factory.mktemp("photos")
    table = LitTable(LIT, pattern_frame(PATTERN), None, (72, 54))
    paths = []
    for number, camera in enumerate(from_around((72, 54), LIKE, 5, np.random.default_rng(2))):
        paths.append(folder / f"{number}.jpg")
        paths[-1].write_bytes(jpeg_bytes(camera, table, Taking(blur_px=0.6, noise=3.0, seed=number)))
    return paths


def test_five_photographs_and_a_length_write_the_table_file(photos: list[Path], tmp_path: Path) -> None:
    first, second = LIT.to_table(PATTERN.crosses_px).tolist()
    length, table = math.dist(first, second), tmp_path / "table.yaml"
    ran = run("calibrate", table, "--photos", *photos, "--tape", f"{length:.4f}", "--size", "640x480")
    assert (ran.code, ran.err) == (0, "")
    assert "From 5 photographs" in ran.out
    said = json.loads(run("table", table, "--at", f"{length:.4f},0", "--json").out)
    assert said["photographs"]["count"] == 5
    # The place of the second cross is lit by its pixel.
    assert said["at"][0]["pixel"] == pytest.approx(PATTERN.crosses_px[1], abs=0.02)
    assert said["worst_in"] < 3 / 32


def test_a_length_is_held_against_the_calibration_that_was_there(photos: list[Path], tmp_path: Path) -> None:
    table = tmp_path / "table.yaml"
    for typed, told in (("60", ""), ("63", "when it was calibrated last")):
        ran = run("calibrate", table, "--photos", *photos, "--tape", typed, "--tape", typed, "--size", "640x480")
        assert ran.code == 0
        assert told in ran.out
        assert ("calibrated last" in ran.out) == bool(told)


def test_lengths_are_read_in_the_unit_that_is_measured_in_and_said_as_they_were_typed(
    photos: list[Path], tmp_path: Path
) -> None:
    table, asked = tmp_path / "table.yaml", ("--size", "640x480", "--tape")
    ran = run("calibrate", table, "--units", "cm", "--photos", *photos, *asked, "152.4", "--tape", "152.4")
    assert "the second one lies 152.40 cm from it" in ran.out
    ran = run("calibrate", table, *asked, "152.7", "--tape", "152.7", "--units", "cm", "--photos", *photos)
    assert "152.40 cm lay between the crosses, not 152.70 cm" in ran.out
    ran = run("calibrate", table, "--photos", *photos, *asked, "60 1/32", "--tape", "60 1/32")
    assert "the second one lies 60 1/32 in from it" in ran.out
    ran = run("calibrate", table, "--photos", *photos, *asked, "60 1/32", "--tape", "60 5/32")
    assert "read as 60 1/32 in and as 60 5/32 in" in ran.err
    words = ("--lens-height", "240", "--lens-foot", "80,70", "--units", "cm")
    assert run("calibrate", table, "--photos", *photos, *asked, "60", *words).code == 0
    assert "lens_position: {height: 94.488" in table.read_text()


def test_what_is_left_over_is_drawn_for_each_photograph(photos: list[Path], tmp_path: Path) -> None:
    picture = tmp_path / "left.svg"
    words = ("--tape", "60", "--size", "640x480", "--picture", picture)
    assert run("calibrate", tmp_path / "t.yaml", "--photos", *photos, *words).code == 0
    drawn = picture.read_text()
    assert all(f"{number + 1}: {path.name}" in drawn for number, path in enumerate(photos))
    assert run("calibrate", tmp_path / "t.yaml", "--picture", picture).code == 2


def test_a_photograph_of_later_tells_whether_anything_has_moved(photos: list[Path], tmp_path: Path) -> None:
    table, picture = tmp_path / "t.yaml", tmp_path / "moved.svg"
    assert run("calibrate", table, "--photos", *photos, "--tape", "60", "--size", "640x480").code == 0
    assert (tmp_path / "t.lit.jpg").read_bytes() == photos[0].read_bytes()
    told = run("table", table, "--photo", photos[0], "--picture", picture)
    assert (told.code, told.err) == (0, "")
    assert "has moved" not in told.out
    assert "Has anything moved?" in picture.read_text()
    found = json.loads(run("table", table, "--photo", photos[0], "--json").out)
    assert found["moved"] is False
    assert max(math.hypot(*one["shift_in"]) for one in found["at"]) < 1e-6
    (tmp_path / "t.lit.jpg").unlink()
    lost = run("table", table, "--photo", photos[0])
    assert lost.code == 1
    assert "--then" in lost.err
    assert run("table", table, "--then", photos[0]).code == 2


def test_files_that_are_no_photograph_of_the_light_are_named(photos: list[Path], tmp_path: Path) -> None:
    torn = tmp_path / "torn.jpg"
    torn.write_bytes(b"no picture")
    ran = run("calibrate", tmp_path / "t.yaml", "--photos", torn, tmp_path / "none.jpg", "--tape", "60")
    assert ran.code == 1
    assert [line.split(":")[0] for line in ran.err.splitlines()] == [str(torn), str(tmp_path / "none.jpg")]
    assert not (tmp_path / "t.yaml").exists()


def test_photographs_want_a_length_and_a_length_wants_photographs(photos: list[Path], tmp_path: Path) -> None:
    table = tmp_path / "t.yaml"
    assert run("calibrate", table, "--photos", *photos).code == 2
    assert run("calibrate", table, "--tape", "60").code == 2
    assert run("calibrate", table, photos[0]).code == 2


def test_marks_by_hand_begin_anew_where_photographs_made_the_table(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    places = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
    by_hand = fit_table([Mark((x, y), (100 + 10 * x, 600 - 10 * y)) for x, y in places], 1280, 800)
    begun = []
    monkeypatch.setattr(session, "run_calibrating", lambda save, start, rim: begun.append(start.earlier))
    for made in (by_hand, replace(by_hand, photographed=Photographed(5, 0.3, np.eye(12) * 1e-10))):
        write_stored(tmp_path / "t.yaml", Stored(made))
        assert run("calibrate", tmp_path / "t.yaml").code == 0
    assert begun == [Stored(by_hand), None]
