"""Marks, points and readings files: read into inches, refused with places."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from calibration.height import LensPosition
from calibration.marks import Mark
from calibration.placing import Placing
from calibration.proof import TapeClass, TapeProof, TapeReading
from jobs.job import Unit
from jobs.reading.problems import Problems
from projector.files.marks_file import MarksFile, read_marks
from projector.files.points_file import MotifPoint, PointsFile, read_points
from projector.files.readings_file import read_readings

MARKS = """\
projector: {width: 1920, height: 1080, gamma: 2.4}
units: cm
marks:
  - {table: [0, 0], pixel: [212.5, 903.25]}
  - {table: [127, -2.54], pixel: [1700, 1e-05]}
  - {table: [127, 50 in], pixel: [-3.5, 100]}
  - {table: [2.54e-16, 127], pixel: [200, 90]}
  - {table: [63.5, 63.5], pixel: [900, 500], check: yes}
lens_position: {height: 254, foot: [127, 0]}
placing: {tape: 1/16 in, pointing: 1/2}
"""
POINTS = """\
units: in
points:
  - {row: 0, column: 0, table: [3.20, 5.10]}
  - {row: -2, column: 1, table: [16 1/4, 5]}
"""
READINGS = """\
units: in
tape: {class: III, reading: 1/32}
readings:
  - {from: [0, 0], to: [48, 0], tape: 48 1/16}
  - {from: [0, 0], to: [48, 24], tape: 53.6}
"""


def on_disk(folder: Path, text: str) -> Path:
    path = folder / "file.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def refusal(read: Callable[[Path], object], folder: Path, text: str) -> str:
    with pytest.raises(Problems) as caught:
        read(on_disk(folder, text))
    return str(caught.value)


def test_marks_are_read_in_inches_whatever_their_unit(tmp_path: Path) -> None:
    assert read_marks(on_disk(tmp_path, MARKS)) == MarksFile(
        1920,
        1080,
        2.4,
        Unit.CENTIMETRE,
        (
            Mark((0.0, 0.0), (212.5, 903.25)),
            Mark((50.0, -1.0), (1700.0, 1e-05)),
            Mark((50.0, 50.0), (-3.5, 100.0)),
            Mark((1e-16, 50.0), (200.0, 90.0)),
        ),
        (Mark((25.0, 25.0), (900.0, 500.0)),),
        LensPosition((50.0, 0.0), 100.0),
        Placing(1 / 16, 1 / 2),
    )


def test_points_are_read_by_row_and_column(tmp_path: Path) -> None:
    points = (MotifPoint(0, 0, (3.2, 5.1)), MotifPoint(-2, 1, (16.25, 5.0)))
    assert read_points(on_disk(tmp_path, POINTS)) == PointsFile(Unit.INCH, points)


def test_readings_become_a_proof_that_is_not_yet_judged(tmp_path: Path) -> None:
    readings = (TapeReading((0.0, 0.0), (48.0, 0.0), 48.0625), TapeReading((0.0, 0.0), (48.0, 24.0), 53.6))
    assert read_readings(on_disk(tmp_path, READINGS)) == TapeProof(readings, TapeClass.III, 1 / 32)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("width: 1920", "width: 12", "1:20: projector, width: 12 is out of bounds here; write 16 to 20000"),
        ("width: 1920", "width: 1920.5", "not a whole number"),
        ("gamma: 2.4", "gamma: 0", "gamma of 0 is out of bounds"),
        ("gamma: 2.4", "gama: 2.4", "write gamma if that is meant"),
        ("[212.5, 903.25]", "[212.5]", "4:28: marks 1, pixel: two values belong here, not 1"),
        ("[212.5, 903.25]", "[212.5, .nan]", '4:36: marks 1, pixel 2: ".nan" is not a usable number'),
        ("[212.5, 903.25]", "[212.5, 1e9999]", "not a usable number"),
        ("[212.5, 903.25]", "[212.5, 1e7]", "not a usable number"),
        ("[212.5, 903.25]", "212.5", "a list belongs here"),
        ("table: [0, 0], ", "", "marks 1, table: this key is missing"),
        ("table: [0, 0]", "table: [0, .inf]", "not a length"),
        ("check: yes", "check: maybe", "neither yes nor no"),
        ("height: 254", "height: 0", "above zero"),
        ("tape: 1/16 in, pointing: 1/2", "tape: 0, pointing: 0", "without any error"),
        ("pointing: 1/2", "pointing: -1", "below zero"),
        ("units: cm", "units: cm\nunits: in", "a second time"),
    ],
)
def test_marks_without_meaning_are_refused_with_their_place(tmp_path: Path, old: str, new: str, says: str) -> None:
    assert MARKS.count(old) == 1
    assert says in refusal(read_marks, tmp_path, MARKS.replace(old, new))


def test_points_and_readings_without_meaning_are_refused(tmp_path: Path) -> None:
    assert 'row: "1/2" is not a whole number' in refusal(read_points, tmp_path, POINTS.replace("row: 0", "row: 1/2"))
    one = POINTS[: POINTS.rindex("  - ")]
    assert "give at least 2" in refusal(read_points, tmp_path, one)
    assert "write I, II, III or metal tape" in refusal(read_readings, tmp_path, READINGS.replace("III", "IV"))
    assert "same place as from" in refusal(read_readings, tmp_path, READINGS.replace("to: [48, 0]", "to: [0, 0]"))
    assert "above zero" in refusal(read_readings, tmp_path, READINGS.replace("tape: 53.6", "tape: 0"))


@pytest.mark.parametrize(
    ("read", "text"), [(read_marks, MARKS), (read_points, POINTS), (read_readings, READINGS)], ids=["m", "p", "r"]
)
def test_any_mutation_is_read_or_refused(tmp_path: Path, read: Callable[[Path], object], text: str) -> None:
    chance = random.Random(7)
    scraps = ["", "[", "]", "{", ":", "- ", "\n", "&a ", "'", "\x00", "1e9999", ".nan", "-1", "1/0", "9" * 80, "é", "~"]
    refused = 0
    for _ in range(200):
        at = chance.randrange(len(text))
        mutated = text[:at] + chance.choice(scraps) + text[at + chance.choice([0, 1, 3, 20]) :]
        try:
            read(on_disk(tmp_path, mutated))
        except Problems:
            refused += 1
    assert 20 < refused < 200
