"""How the light of a job is remembered: written whole, read strictly, and as at first where it is damaged."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.io.log import FileRefused
from projector.files.light_file import LightSettings, light_or_usual, light_path, read_light, write_light
from projector.files.write import CannotWrite

NAMES = ("rows and columns", "match marks", "letters")


def test_it_stands_beside_the_job() -> None:
    assert light_path(Path("rooms") / "den.yaml") == Path("rooms") / "den.yaml.light"


def test_without_a_file_the_light_is_as_at_first(tmp_path: Path) -> None:
    assert light_or_usual(tmp_path / "none.light", NAMES) == (LightSettings(), "")


@given(
    st.sets(st.sampled_from(NAMES)).map(lambda names: tuple(sorted(names))), st.integers(-50, 50), st.integers(0, 99)
)
def test_what_was_written_is_read(
    tmp_path_factory: pytest.TempPathFactory, dark: tuple[str, ...], wider: int, colours: int
) -> None:
    path = tmp_path_factory.getbasetemp() / "den.yaml.light"
    write_light(path, LightSettings(dark, wider, colours))
    assert read_light(path, NAMES) == LightSettings(dark, wider, colours)


@pytest.mark.parametrize(
    "text",
    [
        "dark: [curtains]\n",
        "wider: lots\n",
        "colours: 9999999999\n",
        "dark: 3\n",
        "\x00",
        "",
        "spare: 1\n",
        "wider: ²\n",
    ],
)
def test_a_damaged_file_gives_the_usual_light_and_one_sentence(tmp_path: Path, text: str) -> None:
    path = tmp_path / "den.yaml.light"
    path.write_text(text, encoding="utf-8")
    settings, said = light_or_usual(path, NAMES)
    assert settings == LightSettings()
    assert said == f"{path} is damaged: all layers are lit, in the usual widths and colours."
    with pytest.raises(FileRefused):
        read_light(path, NAMES)


@pytest.mark.parametrize("kind", ["link", "link to nothing", "pipe", "copy", "hard link"])
def test_nothing_is_written_through_a_link_or_over_what_was_not_made_here(tmp_path: Path, kind: str) -> None:
    path, letter = tmp_path / "den.yaml.light", tmp_path / "letter.txt"
    letter.write_text("Dear aunt", encoding="utf-8")
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "copy":
        path.write_text("Dear aunt", encoding="utf-8")
    elif kind == "hard link":
        path.hardlink_to(letter)
    else:
        path.symlink_to(letter if kind == "link" else tmp_path / "nothing")
    before = path.lstat()
    with pytest.raises(CannotWrite, match=r"left alone|not written by this program"):
        write_light(path, LightSettings(wider=2))
    assert os.path.samestat(path.lstat(), before)
    assert letter.read_text(encoding="utf-8") == "Dear aunt"
    assert not (tmp_path / "nothing").exists()


def test_the_light_of_a_linked_job_stands_beside_its_record(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    job, link = tmp_path / "real" / "den.yaml", tmp_path / "link.yaml"
    job.write_text("job: Den\n", encoding="utf-8")
    link.symlink_to(job)
    assert light_path(link) == tmp_path / "real" / "den.yaml.light"
