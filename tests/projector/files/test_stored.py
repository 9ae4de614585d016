"""What is kept beside the fit: check marks and the screen."""

from __future__ import annotations

from pathlib import Path

import pytest

from calibration.marks import Mark
from jobs.io.log import FileRefused
from projector.files.stored import Stored
from projector.files.table_file import read_stored, read_table, write_stored
from tests.projector.files.test_table_file import plain


def test_check_marks_and_screen_come_back_bit_for_bit(tmp_path: Path) -> None:
    stored = Stored(plain(), (Mark((1 / 3, -2.0), (17.25, 1 / 7)), Mark((3.0, 4.0), (5.0, 6.0))), 'screen 2 "upstairs"')
    path = tmp_path / "table.yaml"
    write_stored(path, stored)
    assert read_stored(path) == stored
    assert read_table(path) == stored.table


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
