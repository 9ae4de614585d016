"""The commands where there is no screen, each in a process of its own: SDL must not open a window nobody sees."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

UNSET = ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER")
PROGRAM = "from projector.commands.main import run; run()"


SMALL = "from projector.commands.shared import practice; practice.TABLE_PICTURE_PX = (140, 90); "
"""Pictures of the table that are made in a moment."""


def without_a_screen(tmp_path: Path, *words: str, first: str = "") -> subprocess.CompletedProcess[str]:
    seen = {name: value for name, value in os.environ.items() if name not in UNSET}
    seen["PYTHONPATH"] = str(Path(__file__).parents[3])
    command = [sys.executable, "-c", first + PROGRAM, *words]
    return subprocess.run(command, cwd=tmp_path, env=seen, capture_output=True, text=True)


@pytest.mark.skipif(sys.platform != "linux", reason="only here can a screen be taken away by a variable")
def test_the_demo_writes_pictures(tmp_path):
    done = without_a_screen(tmp_path, "demo", first=SMALL)
    assert done.returncode == 0, done.stderr
    assert "No screen was found" in done.stdout
    names = {path.name for path in (tmp_path / "demo").iterdir()}
    assert names >= {"cloth.png", "hung.png", "stop-1-frame.png", "stop-1-table.png", "stop-4-table.png"}


@pytest.mark.skipif(sys.platform != "linux", reason="only here can a screen be taken away by a variable")
def test_displays_and_calibrate_say_that_there_is_none(tmp_path):
    for words in (("displays",), ("calibrate", "table.yaml")):
        done = without_a_screen(tmp_path, *words)
        assert done.returncode == 1
        assert "screen" in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(sys.platform != "linux", reason="only here is it told in this variable where a login keeps sockets")
@pytest.mark.parametrize("told", [None, "not/whole"])
def test_nothing_is_said_of_what_a_login_left_unset(tmp_path, monkeypatch, told):
    if told is None:
        monkeypatch.delenv("XDG_RUNTIME_DIR", raising=False)
    else:
        monkeypatch.setenv("XDG_RUNTIME_DIR", told)
    done = without_a_screen(tmp_path, "displays")
    (line,) = done.stderr.splitlines()
    assert line.startswith("no screen was found")
