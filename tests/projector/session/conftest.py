"""A virtual screen of its own for tests that need a real window."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass

import pytest

NEEDED = "LIGHTCHALK_NEEDS_SCREEN"
SIZE = (1280, 720)


@pytest.fixture(autouse=True)
def _dummy_driver(monkeypatch: pytest.MonkeyPatch) -> None:
    """Windows of this process open nowhere, whatever screen the machine has; the virtual screen is for others."""
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")


@dataclass(frozen=True)
class VirtualScreen:
    """A running Xvfb, by the name X programs know it."""

    name: str

    @property
    def environment(self) -> dict[str, str]:
        """The environment of a program that is to open its windows there."""
        kept = {key: value for key, value in os.environ.items() if key not in ("SDL_VIDEODRIVER", "WAYLAND_DISPLAY")}
        return {**kept, "DISPLAY": self.name, "SDL_VIDEODRIVER": "x11"}

    def keys(self, *names: str) -> None:
        """Press keys, by their X names, as a keyboard would."""
        subprocess.run(["xdotool", "key", "--delay", "20", *names], env=self.environment, check=True, timeout=20)


def without(tool: str) -> None:
    """Skip for want of a tool, or fail where the screen is needed."""
    reason = f"{tool} is not installed, so no real window was tried"
    if os.environ.get(NEEDED) == "1":
        pytest.fail(f"{reason}, and {NEEDED}=1 demands it")
    pytest.skip(reason)


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
        server.wait(10)
