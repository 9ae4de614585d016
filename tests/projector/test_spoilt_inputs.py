"""Spoilt inputs in small number; thousands are tried by hand (tests/benchmarks/spoilt_inputs.py)."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from jobs.io.log import FileRefused
from jobs.model.choices import Unit
from tests.benchmarks.spoilt_inputs import (
    UnclearError,
    command_lines,
    read_spoilt,
    run_spoilt,
    samples,
    spoilt,
    verdict,
)
from tests.projector.commands.running import run


def test_spoilt_files_of_every_kind_are_read_or_clearly_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert read_spoilt(tmp_path, 90, seed=77) == 0
    said = capsys.readouterr().out
    for kind in ("job", "table", "marks", "points", "journal", "keys", "readings", "settings", "light", "picture"):
        assert f"{kind:<8} refused" in said


def test_spoilt_options_of_every_command_are_answered_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    list(samples(tmp_path))  # the sound table
    assert run_spoilt(tmp_path, 84, seed=5) == 0, capsys.readouterr().out


def test_the_commands_are_sound_before_they_are_spoilt(tmp_path: Path) -> None:
    list(samples(tmp_path))
    for words in command_lines(tmp_path):
        ran = run(*words)
        assert ran.code in (0, 1), (words, ran.err)
        assert "lightchalk itself" not in ran.err


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
        raise FileRefused("mumbled", (), (), Unit.INCH)

    with pytest.raises(KeyError):
        verdict(falls_over, tmp_path)
    with pytest.raises(UnclearError):
        verdict(mumbles, tmp_path)
