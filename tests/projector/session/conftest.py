"""A virtual screen of its own for tests that need a real window."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.waiting import HUNG_S

NEEDED = "LIGHTCHALK_NEEDS_SCREEN"
SIZE = (1280, 720)


@dataclass(frozen=True)
class VirtualScreen:
    """A running Xvfb, by the name X programs know it."""

    name: str

    @property
    def environment(self) -> dict[str, str]:
        """The environment of a program that is to open its windows there."""
        return {**os.environ, "DISPLAY": self.name, "SDL_VIDEODRIVER": "x11"}

    def keys(self, *names: str) -> None:
        """Press keys, by their X names, as a keyboard would."""
        self.run("xdotool", "key", "--delay", "20", *names)

    def run(self, *words: str) -> None:
        """Run a program that ends by itself."""
        subprocess.run(words, env=self.environment, check=True, stdout=subprocess.DEVNULL)


def without(tool: str) -> None:
    """Skip for want of a tool, or fail where the screen is needed."""
    reason = f"{tool} is not installed, so no real window was tried"
    if os.environ.get(NEEDED) == "1":
        pytest.fail(f"{reason}, and {NEEDED}=1 demands it")
    pytest.skip(reason)


LAPTOP, LAMP = (1366, 768), (1280, 720)
XORG = Path("/usr/lib/xorg/Xorg")
"""The server itself: the command of that name may refuse those who do not sit at the machine."""


@dataclass(frozen=True)
class TwoScreens(VirtualScreen):
    """A server with two displays side by side, the laptop's and the projector's, which can be unplugged."""

    def plug(self, *, projector: bool) -> None:
        """Switch the projector's display on, right of the laptop's, or off."""
        there = ("--mode", "lamp", "--right-of", "DUMMY0") if projector else ("--off",)
        self._xrandr("--output", "DUMMY1", *there)
        # Asking makes the server look which displays are plugged in.
        self._xrandr()

    def laptop(self, *, opened: bool) -> None:
        """Open the laptop, or close it: its display goes off and the projector's moves to where that was."""
        there = ("--mode", "desk", "--pos", "0x0", "--primary") if opened else ("--off",)
        at = f"{LAPTOP[0] if opened else 0}x0"
        self._xrandr("--output", "DUMMY0", *there, "--output", "DUMMY1", "--pos", at)
        self._xrandr()

    def make_modes(self) -> None:
        """The two sizes, each for its display, in figures of no real screen: nothing is sent anywhere."""
        for name, output, (width, height) in (("desk", "DUMMY0", LAPTOP), ("lamp", "DUMMY1", LAMP)):
            across = [str(width + more) for more in (0, 40, 80, 160)]
            down = [str(height + more) for more in (0, 3, 8, 30)]
            self._xrandr("--newmode", name, "80", *across, *down)
            self._xrandr("--addmode", output, name)
        self._xrandr("--output", "DUMMY0", "--mode", "desk", "--primary")

    def _xrandr(self, *words: str) -> None:
        self.run("xrandr", *words)


@pytest.fixture(scope="session")
def two_screens(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TwoScreens]:
    """Xorg with its dummy driver and two displays; skipped, saying so, where that is missing."""
    if not XORG.exists() or not (XORG.parent / "modules" / "drivers" / "dummy_drv.so").exists():
        without("Xorg with its dummy driver")
    for tool in ("xrandr", "xdotool", "import"):
        if shutil.which(tool) is None:
            without(tool)
    folder = tmp_path_factory.mktemp("xorg")
    (folder / "xorg.conf").write_text(
        'Section "Device"\n  Identifier "D"\n  Driver "dummy"\n  VideoRam 64000\nEndSection\n'
        'Section "Screen"\n  Identifier "S"\n  Device "D"\n  DefaultDepth 24\n  SubSection "Display"\n'
        "    Depth 24\n    Virtual 2646 768\n  EndSubSection\nEndSection\n"
    )
    read, write = os.pipe()
    server = subprocess.Popen(
        [
            str(XORG),
            *("-displayfd", str(write)),
            *("-config", str(folder / "xorg.conf"), "-logfile", str(folder / "log")),
            *("-noreset", "-nolisten", "tcp", "-novtswitch", "-sharevts"),
        ],
        pass_fds=(write,),
        stderr=subprocess.DEVNULL,
    )
    os.close(write)
    try:
        with os.fdopen(read) as numbers:
            number = numbers.readline().strip()
        if not number:
            without("a working Xorg with its dummy driver")
        screens = TwoScreens(f":{number}")
        screens.make_modes()
        screens.plug(projector=True)
        yield screens
    finally:
        server.terminate()
        server.wait(HUNG_S)


@pytest.fixture(scope="session")
def virtual_screen() -> Iterator[VirtualScreen]:
    """Xvfb on a display number it finds free itself; skipped, saying so, where it or xdotool is missing."""
    for tool in ("Xvfb", "xdotool", "import"):
        if shutil.which(tool) is None:
            without(tool)
    read, write = os.pipe()
    geometry = "{}x{}x24".format(*SIZE)
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write), "-screen", "0", geometry, "-nolisten", "tcp"],
        pass_fds=(write,),
        stderr=subprocess.DEVNULL,
    )
    os.close(write)
    try:
        with os.fdopen(read) as numbers:
            number = numbers.readline().strip()
        if not number:
            without("a working Xvfb")
        yield VirtualScreen(f":{number}")
    finally:
        server.terminate()
        server.wait(HUNG_S)
