"""What is remembered of a person: where it lies, that it is read strictly, and that nothing stops them."""

from __future__ import annotations

import os
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.io.log import FileRefused
from jobs.io.values import LONGEST_NAME
from projector.files.settings import (
    LightSettings,
    Settings,
    light_or_usual,
    light_path,
    read_light,
    read_settings,
    settings_or_none,
    settings_path,
    write_light,
    write_settings,
)
from projector.files.write import CannotWrite


def test_it_lies_where_the_base_directory_specification_puts_it() -> None:
    """XDG Base Directory Specification: XDG_CONFIG_HOME, by default ~/.config; a path not absolute is ignored."""
    home = Path.home()
    assert settings_path({"XDG_CONFIG_HOME": "/srv/set"}, "linux") == Path("/srv/set/lightchalk/settings.yaml")
    assert settings_path({}, "linux") == home / ".config/lightchalk/settings.yaml"
    assert settings_path({"XDG_CONFIG_HOME": "here"}, "linux") == home / ".config/lightchalk/settings.yaml"
    assert settings_path({"APPDATA": "/roaming"}, "win32") == Path("/roaming/lightchalk/settings.yaml")
    assert settings_path({"APPDATA": "/roaming"}, "linux") == home / ".config/lightchalk/settings.yaml"


NAMES = st.text(
    st.characters(exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn", "Z")), min_size=1, max_size=LONGEST_NAME // 4
)


@given(name=NAMES)
def test_any_name_of_a_screen_is_read_back_as_written(name: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    path = tmp_path_factory.mktemp("set") / "deep" / "settings.yaml"
    write_settings(path, Settings(name))
    assert read_settings(path) == Settings(unicodedata.normalize("NFC", name))


def test_nothing_remembered_is_read_back_as_nothing(tmp_path: Path) -> None:
    path = tmp_path / "settings.yaml"
    assert read_settings(path) == Settings()
    write_settings(path, Settings())
    assert read_settings(path) == Settings()


@pytest.mark.parametrize(
    "text", ["display: [a, b]\n", "screen: lamp\n", "display: a\ndisplay: b\n", "- a\n", "display: {\n", "\x00"]
)
def test_a_spoilt_file_is_told_and_nothing_is_remembered(tmp_path: Path, text: str) -> None:
    path = tmp_path / "settings.yaml"
    path.write_text(text)
    with pytest.raises(FileRefused):
        read_settings(path)
    kept, said = settings_or_none(path)
    assert kept == Settings()
    assert str(path) in said
    assert "nothing is remembered until that is put right" in said


def test_a_folder_in_the_way_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(CannotWrite, match="its folder cannot be made"):
        write_settings(tmp_path / "file" / "settings.yaml", Settings("lamp"))
    (tmp_path / "settings.yaml").mkdir()
    with pytest.raises(CannotWrite, match="this is not a file"):
        write_settings(tmp_path / "settings.yaml", Settings("lamp"))
    assert settings_or_none(tmp_path / "settings.yaml")[0] == Settings()


LAYERS = ("rows and columns", "match marks", "letters")


def test_it_stands_beside_the_job() -> None:
    assert light_path(Path("rooms") / "den.yaml") == Path("rooms") / "den.yaml.light"


def test_without_a_file_the_light_is_as_at_first(tmp_path: Path) -> None:
    assert light_or_usual(tmp_path / "none.light", LAYERS) == (LightSettings(), "")


@given(
    st.sets(st.sampled_from(LAYERS)).map(lambda names: tuple(sorted(names))), st.integers(-50, 50), st.integers(0, 99)
)
def test_what_was_written_is_read(
    tmp_path_factory: pytest.TempPathFactory, dark: tuple[str, ...], wider: int, colours: int
) -> None:
    path = tmp_path_factory.getbasetemp() / "den.yaml.light"
    write_light(path, LightSettings(dark, wider, colours))
    assert read_light(path, LAYERS) == LightSettings(dark, wider, colours)


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
    settings, said = light_or_usual(path, LAYERS)
    assert settings == LightSettings()
    assert said == f"{path} is damaged: all layers are lit, in the usual widths and colours."
    with pytest.raises(FileRefused):
        read_light(path, LAYERS)


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
