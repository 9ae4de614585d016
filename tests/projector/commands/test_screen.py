"""Which screen is lit: the one given, the one remembered, or the last, each said in a sentence."""

from __future__ import annotations

from pathlib import Path

import pytest

from projector.commands.shared.screen import screen_for
from projector.files.settings import Settings, read_settings, settings_path, write_settings
from projector.session.windows import window
from projector.session.windows.displays import Display, NoDisplayError, UnknownDisplayError, UnknownNameError

DESK = Display(1, "Desk panel", 1366, 768)
LAMP = Display(2, "Lamp HDMI", 1920, 1080, left_px=1366)
SPARE = Display(3, "Spare", 1280, 1024, left_px=3286)


@pytest.fixture
def plugged(monkeypatch: pytest.MonkeyPatch) -> list[Display]:
    """The screens that there are, to be changed by the test."""
    screens = [DESK, LAMP, SPARE]
    monkeypatch.setattr(window, "displays", lambda: tuple(screens))
    return screens


def remembered() -> str:
    return read_settings(settings_path()).display


def test_a_screen_given_by_number_or_name_is_remembered(
    plugged: list[Display], capsys: pytest.CaptureFixture[str]
) -> None:
    assert screen_for("2") == 2
    assert remembered() == "Lamp HDMI"
    assert screen_for("desk") == 1
    assert remembered() == "Desk panel"
    assert screen_for(None) == 1
    assert capsys.readouterr().out == ""


def test_a_screen_that_the_calibration_does_not_fit_is_not_remembered(plugged: list[Display]) -> None:
    assert screen_for("desk", (1920, 1080)) == 1
    assert not settings_path().exists()
    assert screen_for("lamp", (1920, 1080)) == 2
    assert remembered() == "Lamp HDMI"


def test_without_a_choice_the_last_one_is_lit_and_nothing_is_remembered(plugged: list[Display]) -> None:
    assert screen_for(None) == 3
    assert not settings_path().exists()


def test_the_remembered_screen_is_found_wherever_it_is_plugged_in(plugged: list[Display]) -> None:
    screen_for("lamp")
    plugged[:] = [Display(1, "Lamp HDMI", 1920, 1080), Display(2, "Desk panel", 1366, 768, left_px=1920)]
    assert screen_for(None) == 1


def test_a_remembered_screen_that_is_not_there_falls_back_with_a_sentence(
    plugged: list[Display], capsys: pytest.CaptureFixture[str]
) -> None:
    screen_for("spare")
    plugged.pop()
    assert screen_for(None) == 2
    said = capsys.readouterr().out
    assert "the screen chosen last time (Spare) is not there, so screen 2 (Lamp HDMI) is lit" in said
    assert "--display" in said
    assert remembered() == "Spare"


def test_a_screen_that_is_not_there_is_refused_and_not_remembered(plugged: list[Display]) -> None:
    with pytest.raises(UnknownDisplayError):
        screen_for("4")
    with pytest.raises(UnknownDisplayError):
        screen_for("0")
    with pytest.raises(UnknownNameError):
        screen_for("beam")
    assert not settings_path().exists()
    plugged.clear()
    with pytest.raises(NoDisplayError):
        screen_for(None)


def test_mirrored_displays_are_told_before_the_light_goes_on(
    plugged: list[Display], capsys: pytest.CaptureFixture[str]
) -> None:
    plugged[:] = [DESK, Display(2, "Lamp HDMI", 1366, 768)]
    assert screen_for(None) == 2
    assert "Note: Screens 1 and 2 show the same picture" in capsys.readouterr().out


def test_settings_that_cannot_be_read_or_written_stop_nobody(
    plugged: list[Display], capsys: pytest.CaptureFixture[str]
) -> None:
    write_settings(settings_path(), Settings("Lamp HDMI"))
    settings_path().write_text("display: [\n")
    assert screen_for(None) == 3
    assert "nothing is remembered" in capsys.readouterr().out
    assert screen_for("lamp") == 2
    assert remembered() == "Lamp HDMI"


def test_a_choice_that_cannot_be_remembered_is_said(
    plugged: list[Display], settings_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (settings_folder / "lightchalk").write_text("in the way")
    assert screen_for("lamp") == 2
    assert "the choice of screen could not be remembered" in capsys.readouterr().out
