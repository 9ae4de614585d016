"""What is remembered of a person: where it lies, that it is read strictly, and that nothing stops them."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.io.log import FileRefused
from jobs.io.values import LONGEST_NAME
from projector.files.settings_file import (
    Settings,
    read_settings,
    settings_or_none,
    settings_path,
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
