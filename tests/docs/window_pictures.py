"""The pictures of the window, made by the program on a virtual screen: python -m tests.docs.window_pictures

Needs Xvfb and ImageMagick's import, like the tests of windows.
"""

from __future__ import annotations

import os
import subprocess
import tempfile
import time
from pathlib import Path

from jobs.io.reader import parse_job
from projector.page.form.blank import examples
from tests.projector.desk.hands import Hands, before_the_window
from tests.projector.session.conftest import VirtualScreen

HERE = Path(__file__).parents[2] / "docs" / "window"
SIZE = (1180, 768)
FOOT = 60
"""The window leaves so many pixels of the screen for the bars of a desktop."""


def make() -> None:
    """Write every picture into docs/window."""
    HERE.mkdir(exist_ok=True)
    read, write = os.pipe()
    command = ["Xvfb", "-displayfd", str(write), "-screen", "0", "{}x{}x24".format(*SIZE), "-nolisten", "tcp"]
    server = subprocess.Popen(command, pass_fds=(write,), stderr=subprocess.DEVNULL)
    os.close(write)
    try:
        with os.fdopen(read) as numbers:
            screen = VirtualScreen(f":{numbers.readline().strip()}")
        with tempfile.TemporaryDirectory() as home, before_the_window(screen, Path(home)) as hands:
            _walk(screen, hands)
    finally:
        server.terminate()
        server.wait(10)


def _walk(screen: VirtualScreen, hands: Hands) -> None:
    hands.wait(lambda: hands.ask("text inches"))
    _keep(screen, hands, "start")
    hands.click("Mill-race reading room")
    hands.bought()
    hands.click("4 Windows")
    hands.type_into("windows/0/row/below_top", "9 1/4")
    hands.bought()
    _keep(screen, hands, "windows")
    hands.type_into("windows/0/finished_length", "81 inchs")
    time.sleep(0.5)
    _keep(screen, hands, "mend")
    hands.keys("ctrl+z")
    hands.bought()
    hands.click("5 Pieces")
    notebook = hands.wait(lambda: hands.ask("tab On cloth"))
    hands.click_at(notebook)
    _keep(screen, hands, "cloth")
    assert parse_job(hands.job(), "job").title in examples()


def _keep(screen: VirtualScreen, hands: Hands, name: str) -> None:
    time.sleep(0.8)
    whole = f"{SIZE[0]}x{SIZE[1] - FOOT}+0+0"
    command = ["import", "-window", "root", "-crop", whole, "+repage", "-colors", "128", f"png8:{HERE / name}.png"]
    subprocess.run(command, env=screen.environment, check=True)


if __name__ == "__main__":
    make()
