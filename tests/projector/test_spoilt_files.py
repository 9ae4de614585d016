"""Spoilt files in small number; ten thousand are read by hand (tests/benchmarks/spoilt_files.py)."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from jobs.reading.problems import Problems
from tests.benchmarks.spoilt_files import UnclearError, main, samples, spoilt, verdict


def test_a_thousand_spoilt_files_are_read_or_clearly_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(1000, seed=77) == 0
    said = capsys.readouterr().out
    assert "1000 spoilt files, 0 faults" in said
    for kind in ("job", "table", "marks", "points", "journal", "keys"):
        assert f"{kind:<8} refused" in said


def test_the_sound_files_are_read(tmp_path: Path) -> None:
    for _, data, read in samples(tmp_path):
        (tmp_path / "sound").write_bytes(data)
        assert verdict(read, tmp_path / "sound") == "read"


def test_a_file_is_spoilt_more_often_than_not() -> None:
    data, rng = b"job: Mill\nunits: in\n" * 5, random.Random(3)
    assert sum(spoilt(data, rng) != data for _ in range(100)) > 90


def test_a_reader_that_falls_over_or_mumbles_is_found_out(tmp_path: Path) -> None:
    def falls_over(path: Path) -> object:
        return {}["nothing"]

    def mumbles(path: Path) -> object:
        raise Problems(())

    with pytest.raises(KeyError):
        verdict(falls_over, tmp_path)
    with pytest.raises(UnclearError):
        verdict(mumbles, tmp_path)
