"""The table file: bit for bit the same after writing and reading, and refused once its numbers do not agree."""

from __future__ import annotations

import re
from dataclasses import replace
from enum import StrEnum
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calibration.height import LensPosition
from calibration.lens import Lens
from calibration.marks import Mark, Placing, TapeCheck, TapeClass, TapeReading
from calibration.photographed import Photographed
from calibration.table import Table, fit_table
from jobs.io.log import FileRefused
from jobs.model.problems import Code
from projector.files.codes import FileCode
from projector.files.table_file import Stored, read_stored, write_stored
from projector.words.wording import file_lines

MARKS = (
    Mark((0.0, 0.0), (212.5, 903.25)),
    Mark((60.0, 0.0), (1701.125, 880.0)),
    Mark((60.0, 27.0), (1600.0, 160.75)),
    Mark((0.0, 27.0), (1 / 3, 150.0)),
    Mark((30.0, 13.5), (899.25, 535.75)),
)


def plain() -> Table:
    return replace(fit_table(MARKS, 1920, 1080), gamma=2.35, date="2026-03-04 17:20")


def full() -> Table:
    readings = (TapeReading((0.0, 0.0), (48.0, 1e-7), 48.0625), TapeReading((1.0, 2.0), (1 / 7, 5.0), 3.1))
    return replace(
        plain(),
        lens=Lens(-0.0123456789, 1e-06, (960.0, 540.0), 1920.0),
        placing=Placing(1 / 64, 1 / 3),
        lens_position=LensPosition((30.1, -4.0), 96.5),
        tape_check=TapeCheck(readings, TapeClass.METAL, 1 / 32, "2026-03-05", True),
        photographed=Photographed(5, 1 / 3, np.diag(np.arange(1.0, 13.0) / 3e9)),
    )


@pytest.mark.parametrize("make", [plain, full])
def test_a_table_comes_back_bit_for_bit(tmp_path: Path, make: type[Table]) -> None:
    table = make()  # type: ignore[call-arg]
    path = tmp_path / "table.yaml"
    write_stored(path, Stored(table))
    assert read_stored(path).table == table
    once = path.read_bytes()
    write_stored(path, Stored(read_stored(path).table))
    assert path.read_bytes() == once


@given(
    st.lists(st.floats(-40, 40), min_size=8, max_size=8),
    st.floats(1, 4),
    st.text(alphabet="0123456789-:. éß\"'\\#", max_size=30),
)
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
def test_any_fitted_table_comes_back_bit_for_bit(tmp_path: Path, nudges: list[float], gamma: float, date: str) -> None:
    marks = tuple(
        Mark(mark.table, (mark.pixel[0] + nudges[2 * i], mark.pixel[1] + nudges[2 * i + 1]))
        for i, mark in enumerate(MARKS[:4])
    )
    table = replace(fit_table(marks, 1920, 1080), gamma=gamma, date=" ".join(date.split()))
    path = tmp_path / "table.yaml"
    write_stored(path, Stored(table))
    assert read_stored(path).table == table


def test_every_field_of_a_table_is_stored() -> None:
    table = full()
    blank = Table(16, 16, np.eye(3), ())
    for name in Table.__dataclass_fields__:
        mine, theirs = getattr(table, name), getattr(blank, name)
        assert not np.array_equal(mine, theirs), f"{name} is not set in the table this test stores"


def changed(path: Path, pattern: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    mended, count = re.subn(pattern, new, text, count=1, flags=re.MULTILINE)
    assert count == 1, pattern
    assert mended != text
    path.write_text(mended, encoding="utf-8")


@pytest.mark.parametrize(
    ("pattern", "new", "code"),
    [
        (r"pixel: \[212\.5", "pixel: [212.6", FileCode.MAP_DOES_NOT_FIT),
        (r"table: \[60\.0", "table: [61.0", FileCode.MAP_DOES_NOT_FIT),
        (r"residual_px: .*}", "residual_px: 0.5}", FileCode.MAP_DOES_NOT_FIT),
        (r"^  - \[(\d+)", r"  - [1\1", FileCode.MAP_DOES_NOT_FIT),
        (r"k1: -0\.01", "k1: -0.02", FileCode.MAP_DOES_NOT_FIT),
        (r"^matrix:\n(  - .*\n){3}", "matrix: [[0, 0, 0], [0, 0, 0], [0, 0, 1]]\n", FileCode.MAP_DOES_NOT_FIT),
        (r"^matrix:\n(  - .*\n){3}", "matrix: [[1, 0, 0], [0, 1, 0], [9, 9, 1]]\n", FileCode.MAP_DOES_NOT_FIT),
        (r"^matrix:\n(  - .*\n){3}", "matrix: [[1, 0, 0], [0, 1, 0]]\n", FileCode.NOT_A_MAP),
        (r", 1\.0\]$", ", 2.0]", FileCode.NOT_A_MAP),
        (r"focal: 1920", "focal: -1920", FileCode.FOCAL_NOT_ABOVE_ZERO),
        (r"^  - \{table.*\n  - \{table.*\n", "", Code.LIST_TOO_SHORT),
        (r"width: 1920, ", "", Code.MISSING_KEY),
        (r"^units: in", "unit: in", Code.MISSPELT_KEY),
        (r"^proof:", "poof:", Code.MISSPELT_KEY),
    ],
)
def test_a_damaged_or_edited_table_is_refused(tmp_path: Path, pattern: str, new: str, code: StrEnum) -> None:
    path = tmp_path / "table.yaml"
    write_stored(path, Stored(full()))
    changed(path, pattern, new)
    with pytest.raises(FileRefused) as caught:
        read_stored(path)
    assert caught.value.problems[0].code is code
    assert all("None" not in line for line in file_lines(caught.value))


def test_a_table_cut_short_anywhere_is_never_taken_for_another(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    write_stored(path, Stored(plain()))
    whole = path.read_text(encoding="utf-8")
    for end in range(0, len(whole) - 1, 7):
        path.write_text(whole[:end], encoding="utf-8")
        try:
            read = read_stored(path).table
        except FileRefused:
            continue
        # What may be missing is the tail that has defaults, never the map or its marks.
        assert np.array_equal(read.matrix, plain().matrix)
        assert read.marks == plain().marks


def test_check_marks_and_screen_come_back_bit_for_bit(tmp_path: Path) -> None:
    stored = Stored(plain(), (Mark((1 / 3, -2.0), (17.25, 1 / 7)), Mark((3.0, 4.0), (5.0, 6.0))), 'screen 2 "upstairs"')
    path = tmp_path / "table.yaml"
    write_stored(path, stored)
    assert read_stored(path) == stored
    assert read_stored(path).table == stored.table


def test_a_table_without_either_is_written_as_before(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    write_stored(path, Stored(plain()))
    assert "checks" not in path.read_text()
    assert "display" not in path.read_text()
    assert read_stored(path) == Stored(plain())


def test_a_spoilt_check_mark_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    write_stored(path, Stored(plain(), (Mark((1.0, 2.0), (3.0, 4.0)),)))
    path.write_text(path.read_text().replace("{table: [1.0, 2.0], pixel", "{table: [1.0], pixel"))
    with pytest.raises(FileRefused, match="checks"):
        read_stored(path)
