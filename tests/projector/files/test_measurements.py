"""Marks, points and readings files: read into inches, refused with places."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from calibration.height import LensPosition
from calibration.marks import Mark, Placing, TapeCheck, TapeClass, TapeReading
from jobs.io.log import FileRefused
from jobs.model.choices import Unit
from projector.files.measurements import MarksFile, MotifPoint, PointsFile, read_marks, read_points, read_readings
from projector.words.wording import file_lines

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
    """Line, column, path and code of the first thing that is wrong."""
    with pytest.raises(FileRefused) as caught:
        read(on_disk(folder, text))
    assert all("None" not in line for line in file_lines(caught.value))
    place, problem = caught.value.places[0], caught.value.problems[0]
    return f"{place.line}:{place.column}: {'.'.join(map(str, problem.path))}: {problem.code}"


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
    assert read_readings(on_disk(tmp_path, READINGS)) == TapeCheck(readings, TapeClass.III, 1 / 32)


@pytest.mark.parametrize(
    ("old", "new", "wrong"),
    [
        ("width: 1920", "width: 12", "1:20: projector.width: out of bounds"),
        ("width: 1920", "width: 1920.5", "1:20: projector.width: not whole"),
        ("gamma: 2.4", "gamma: 0", "1:47: projector.gamma: out of bounds"),
        ("gamma: 2.4", "gama: 2.4", "1:40: projector.gama: misspelt key"),
        ("[212.5, 903.25]", "[212.5]", "4:28: marks.0.pixel: not two"),
        ("[212.5, 903.25]", "[212.5, .nan]", "4:36: marks.0.pixel.1: not a usable number"),
        ("[212.5, 903.25]", "[212.5, 1e9999]", "4:36: marks.0.pixel.1: not a usable number"),
        ("[212.5, 903.25]", "[212.5, 1e7]", "4:36: marks.0.pixel.1: not a usable number"),
        ("[212.5, 903.25]", "212.5", "4:28: marks.0.pixel: list belongs here"),
        ("table: [0, 0], ", "", "4:5: marks.0.table: missing key"),
        ("table: [0, 0]", "table: [0, .inf]", "4:17: marks.0.table.1: not a length"),
        ("check: yes", "check: maybe", "8:53: marks.4.check: not yes or no"),
        ("height: 254", "height: 0", "9:25: lens_position.height: must be above zero"),
        ("tape: 1/16 in, pointing: 1/2", "tape: 0, pointing: 0", "10:10: placing: no error at all"),
        ("pointing: 1/2", "pointing: -1", "10:36: placing.pointing: number below zero"),
        ("units: cm", "units: cm\nunits: in", "3:1: units: repeated key"),
    ],
)
def test_marks_without_meaning_are_refused_with_their_place(tmp_path: Path, old: str, new: str, wrong: str) -> None:
    assert MARKS.count(old) == 1
    assert refusal(read_marks, tmp_path, MARKS.replace(old, new)) == wrong


def test_points_and_readings_without_meaning_are_refused(tmp_path: Path) -> None:
    def points(text: str) -> str:
        return refusal(read_points, tmp_path, text)

    def readings(old: str, new: str) -> str:
        return refusal(read_readings, tmp_path, READINGS.replace(old, new))

    assert points(POINTS.replace("row: 0", "row: 1/2")) == "3:11: points.0.row: not whole"
    assert points(POINTS[: POINTS.rindex("  - ")]) == "3:3: points: list too short"
    assert readings("III", "IV") == "2:15: tape.class: not a word"
    assert readings("to: [48, 0]", "to: [0, 0]") == "4:24: readings.0.to: same place"
    assert readings("tape: 53.6", "tape: 0") == "5:40: readings.1.tape: must be above zero"


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
        except FileRefused:
            refused += 1
    assert 20 < refused < 200
