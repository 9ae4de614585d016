"""Errands run as processes of their own, one at a time; the window looks now and then whether one has ended."""

from __future__ import annotations

import contextlib
import subprocess
import tempfile
import tkinter as tk
from collections.abc import Callable
from pathlib import Path

from projector.desk.errands import MAIN, Errand, Outcome, outcome
from projector.page.processes import program

EVERY_MS = 120


class Runner:
    """Runs an errand and tells what came of it."""

    def __init__(self, root: tk.Misc) -> None:
        self._root = root
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def busy(self) -> bool:
        """Whether an errand is going on."""
        return self._process is not None

    def run(self, errand: Errand, ended: Callable[[Outcome], None], hidden: tuple[Path, ...] = ()) -> None:
        """Start it; ``ended`` is called in the window's own time when it is over."""
        command, environment = program(MAIN, *errand.words)
        held = contextlib.ExitStack()
        out = held.enter_context(tempfile.TemporaryFile())  # noqa: SIM115 - closed by held
        err = held.enter_context(tempfile.TemporaryFile())  # noqa: SIM115
        environment["PYTHONIOENCODING"] = "utf-8"
        process = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=out, stderr=err, env=environment)
        self._process = process

        def look() -> None:
            code = process.poll()
            if code is None:
                self._root.after(EVERY_MS, look)
                return
            self._process = None
            said = []
            for stream in (out, err):
                stream.seek(0)
                said.append(stream.read().decode("utf-8", "replace"))
            held.close()
            ended(outcome(errand, code, said[0], said[1], hidden))

        self._root.after(EVERY_MS, look)
