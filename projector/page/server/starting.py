"""Starting the light as a process of its own, which works on whatever becomes of the page; and how it ended."""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import IO

from jobs.model.records import dataclass
from projector.page.processes import program
from projector.page.work.commands import MAIN, Outcome

HEADINGS = {0: "done", 1: "it could not be done", 130: "it was stopped"}


@dataclass(frozen=True)
class Ended:
    """What came of a light: a heading, and the lines its command told."""

    well: bool
    heading: str
    lines: tuple[str, ...]


class Starting:
    """The light that this server started last, until it has ended."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._held = contextlib.ExitStack()
        self._called = ""
        self._hidden: Mapping[Path, str] = {}
        self._files: tuple[IO[bytes], ...] = ()
        self.ended: Ended | None = None

    @property
    def is_on(self) -> bool:
        """Whether it is still at work."""
        if self._process is not None and self._process.poll() is not None:
            self._finish(self._process)
        return self._process is not None

    def start(self, called: str, words: tuple[str, ...], hidden: Mapping[Path, str]) -> None:
        """Start a command of the program; it belongs to no page and to no terminal."""
        command, environment = program(MAIN, *words)
        environment["PYTHONIOENCODING"] = "utf-8"
        if sys.platform == "linux" and not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY")):
            # Without any screen the simulated table is seen on the page alone.
            environment.setdefault("SDL_VIDEODRIVER", "dummy")
        out, err = (self._held.enter_context(tempfile.TemporaryFile()) for _ in range(2))  # noqa: SIM115
        self._files = out, err
        self._called, self._hidden, self.ended = called, hidden, None
        self._process = subprocess.Popen(
            command, stdin=subprocess.DEVNULL, stdout=out, stderr=err, env=environment, start_new_session=True
        )

    def _finish(self, process: subprocess.Popen[bytes]) -> None:
        told = []
        for stream in self._files:
            stream.seek(0)
            told.append(stream.read().decode("utf-8", "replace"))
        self._held.close()
        self._process = None
        ran = Outcome(process.returncode, *told)
        heading = HEADINGS.get(ran.code, "the program itself went wrong")
        self.ended = Ended(ran.well, f"{self._called}: {heading}", tuple(ran.lines(self._hidden)))
