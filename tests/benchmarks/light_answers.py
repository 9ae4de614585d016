"""How long an action takes from whoever asks until the light shows its frame and says so, and what memory it holds.

python -m tests.benchmarks.light_answers [how often, 100 unless given]

The light is a process of its own, full screen at 1920 x 1080 on a screen of Xvfb; it is asked by its own link, as the
page asks it. Wall time and, beside it, the processor time of the light per action: on a busy machine the first tells of
the others as well. A nudge moves all that is lit; a step to the next stop draws another scene.
"""

from __future__ import annotations

import json
import os
import select
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import psutil

from projector.files.table_file import Stored, write_stored
from projector.page.form.blank import examples
from projector.page.light.found import lights
from tests.projector.session.tables import table_of
from tests.waiting import wait_until

SIZE_PX = 1920, 1080
JOBS = {"a pair": "Mill-race reading room", "a house of eight windows": "Nine Ferry Lane"}
WAYS = {"a nudge": ("light left", "light right"), "a stop": ("next stop", "previous stop")}
ROOT = Path(__file__).parents[2]


class Asked:
    """The link of a light: an action asked, and the state that comes of it."""

    def __init__(self, about: dict[str, Any]) -> None:
        self._talk = socket.create_connection(("127.0.0.1", about["port"]))
        self._lines = self._talk.makefile("r", encoding="utf-8")
        self._send({"key": about["key"]})
        self.state = self._next()

    def _send(self, message: dict[str, Any]) -> None:
        self._talk.sendall(json.dumps(message).encode() + b"\n")

    def _next(self) -> dict[str, Any]:
        while "state" not in (told := json.loads(self._lines.readline())):
            pass
        return dict(told["state"])

    def ask(self, action: str) -> float:
        """Seconds until the frame of this action is shown."""
        began = time.perf_counter()
        self._send({"ask": action})
        self.state = self._next()
        return time.perf_counter() - began

    def rest(self) -> None:
        """Until its pictures are drawn and nothing more is told."""
        while select.select([self._talk], [], [], 0.5)[0]:
            self._lines.readline()


def screen() -> tuple[subprocess.Popen[bytes], str]:
    """A virtual screen of the projector's size."""
    read, write = os.pipe()
    command = ["Xvfb", "-displayfd", str(write), "-screen", "0", f"{SIZE_PX[0]}x{SIZE_PX[1]}x24", "-nolisten", "tcp"]
    server = subprocess.Popen(command, pass_fds=[write], stderr=subprocess.DEVNULL)
    os.close(write)
    with os.fdopen(read) as told:
        return server, f":{told.readline().strip()}"


def late(times: Sequence[float]) -> str:
    """The middle one and the 95th of 100, in milliseconds."""
    ordered = sorted(times)
    best, middle, most = (1000 * ordered[at] for at in (0, len(ordered) // 2, int(0.95 * len(ordered)) - 1))
    return f"{middle:.0f} ms, 95 of 100 within {most:.0f} ms, at best {best:.0f} ms"


def worked(process: psutil.Process) -> tuple[float, float]:
    """Processor seconds of the thread that takes actions and lights frames, and of those that draw and tell."""
    spent = {one.id: one.user_time + one.system_time for one in process.threads()}
    frames = spent.pop(process.pid)
    return frames, sum(spent.values())


def measured(folder: Path, name: str, environment: dict[str, str], count: int) -> float:
    """Print how one job is lit; megabytes that its light holds."""
    (folder / "job.yaml").write_text(examples()[JOBS[name]])
    command = [sys.executable, "-m", "projector.commands.main", "cut", "job.yaml", "--table", "table.yaml"]
    light = subprocess.Popen([*command, "--display", "1"], cwd=folder, env=environment, stdout=subprocess.DEVNULL)
    try:
        (about,) = wait_until(lambda: lights(folder / "state"))
        link = Asked(about)
        while link.state["page"] != "stop":
            link.ask("next stop")
        process = psutil.Process(light.pid)
        for way, actions in WAYS.items():
            link.rest()
            before, times = worked(process), []
            for number in range(count):
                times.append(link.ask(actions[number % 2]))
            spent = zip(worked(process), before, strict=True)
            frame_ms, rest_ms = (1000 * (now - then) / count for now, then in spent)
            print(f"{name}: {way} is lit after {late(times)}")
            print(
                f"  processor time for each: {frame_ms:.0f} ms for the frame, {rest_ms:.0f} ms for pictures and telling"
            )
        link.rest()
        return float(process.memory_full_info().pss) / 2**20
    finally:
        light.terminate()
        light.wait()


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    shown, display = screen()
    try:
        for name in JOBS:
            with tempfile.TemporaryDirectory() as made:
                folder = Path(made)
                write_stored(folder / "table.yaml", Stored(table_of(*SIZE_PX)))
                environment = os.environ | {"LIGHTCHALK_STATE": str(folder / "state"), "DISPLAY": display}
                environment |= {"PYTHONPATH": str(ROOT), "XDG_CONFIG_HOME": made}
                environment.pop("SDL_VIDEODRIVER", None)
                print(f"{name}: the light holds {measured(folder, name, environment, count):.0f} MB")
    finally:
        shown.terminate()
        shown.wait()


if __name__ == "__main__":
    main()
