"""Whole files: the old or the new, with nothing left behind."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from projector.files.write import CannotWrite, write_whole


def test_a_new_file_holds_what_was_written_with_ordinary_permissions(tmp_path: Path) -> None:
    path = tmp_path / "new.yaml"
    ordinary = tmp_path / "ordinary"
    ordinary.touch()
    write_whole(path, "é\n")
    assert path.read_bytes() == "é\n".encode()
    assert stat.S_IMODE(path.stat().st_mode) == stat.S_IMODE(ordinary.stat().st_mode)
    write_whole(path, b"\x89PNG")
    assert path.read_bytes() == b"\x89PNG"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["new.yaml", "ordinary"]


def test_a_file_that_is_there_keeps_its_permissions(tmp_path: Path) -> None:
    path = tmp_path / "table.yaml"
    path.write_text("old")
    path.chmod(0o640)
    write_whole(path, "new")
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert path.read_text() == "new"


def test_a_link_keeps_pointing_to_the_file(tmp_path: Path) -> None:
    real, link = tmp_path / "real.yaml", tmp_path / "link.yaml"
    real.write_text("old")
    link.symlink_to(real)
    write_whole(link, "new")
    assert link.is_symlink()
    assert real.read_text() == "new"


@pytest.mark.parametrize("call", ["fsync", "replace", "write"])
def test_a_failure_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    path = tmp_path / "table.yaml"
    path.write_text("old")

    def fail(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, call, fail)
    with pytest.raises(CannotWrite, match="No space left on device") as caught:
        write_whole(path, "new")
    monkeypatch.undo()
    assert caught.value.path == path
    assert path.read_text() == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["table.yaml"]


def test_an_interruption_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_whole(tmp_path / "a.yaml", "new")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["", "missing/a.yaml", "a\x00b", "x" * 300])
def test_places_that_cannot_hold_a_file_are_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(CannotWrite):
        write_whole(tmp_path / name, "new")
    assert list(tmp_path.iterdir()) == []
