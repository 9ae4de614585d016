"""Hands with a mouse and a keyboard before the real window on a virtual screen."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from projector.session.windows.displays import Display, window_size
from tests.projector.session.conftest import SIZE, VirtualScreen, without
from tests.waiting import wait_until

READ_S = 0.9
"""How long a person reads before a click on the table's windows: longer than a bounce, see ``press.DELIBERATE_S``."""


@dataclass
class Hands:
    """What a person does and sees."""

    screen: VirtualScreen
    program: subprocess.Popen[str]

    def ask(self, question: str) -> Any:
        """Ask the window under test where something is, or what the job says."""
        assert self.program.stdin is not None
        assert self.program.stdout is not None
        self.program.stdin.write(question + "\n")
        self.program.stdin.flush()
        line = self.program.stdout.readline()
        assert line, "the window has gone"
        return json.loads(line)

    def wait(self, what: Callable[[], Any]) -> Any:
        """Wait until something is so, and give it."""
        return wait_until(what, lambda: f"waited in vain before: {self.ask('said')}")

    def click(self, words: str) -> None:
        """Click what says this."""
        self.click_at(self.wait(lambda: self._resting(f"text {words}")))

    def _resting(self, question: str) -> tuple[int, int] | None:
        """Where something is, once it has stopped moving about: a window just opened is still laying itself out."""
        first = self.ask(question)
        time.sleep(0.15)
        return first if first and first == self.ask(question) else None

    def click_at(self, place: tuple[int, int]) -> None:
        self._xdotool("mousemove", *map(str, place), "click", "1")

    def type_into(self, field: str, typed: str) -> None:
        """Click a field, wipe it and type."""
        self.click_at(self.wait(lambda: self._resting(f"field {field}")))
        self._xdotool("key", "ctrl+slash")
        self._xdotool("type", "--delay", "15", typed)

    def typed(self, words: str) -> None:
        """Type where the cursor is."""
        self._xdotool("type", "--delay", "15", words)

    def keys(self, *names: str) -> None:
        self._xdotool("key", "--delay", "30", *names)

    def job(self) -> str:
        """The text of the job, empty while none is open."""
        return str(self.ask("job") or "")

    def bought(self) -> str:
        """What the window says is to be bought, once it has reckoned."""
        time.sleep(0.4)  # reckoning begins a moment after the last key
        return str(self.wait(lambda: (said := self.ask("buy"))[0].startswith("Buy") and not said[1] and said)[0])

    def window_of_the_table(self) -> tuple[int, int, int, int]:
        """Left, upper, width and height of a window of the table, once it is painted dark over the pale form."""
        wide, high = window_size(Display(1, "", *SIZE))
        left, upper = (SIZE[0] - wide) // 2, (SIZE[1] - high) // 2
        self.wait(lambda: sum(self._pixel(left + wide // 2, upper + high - 3)) < 150)
        return left, upper, wide, high

    def _pixel(self, x: int, y: int) -> tuple[int, int, int]:
        command = ["import", "-window", "root", "-crop", f"1x1+{x}+{y}", "-depth", "8", "rgb:-"]
        done = subprocess.run(command, env=self.screen.environment, check=True, capture_output=True)
        red, green, blue = done.stdout[:3]
        return red, green, blue

    def _xdotool(self, *words: str) -> None:
        subprocess.run(["xdotool", *words], env=self.screen.environment, check=True)


@contextmanager
def before_the_window(screen: VirtualScreen, home: Path, job: Path | None = None) -> Iterator[Hands]:
    """The window open on the virtual screen; ``home`` is the person's folder."""
    if find_spec("tkinter") is None:
        without("tkinter")
    environment = {**screen.environment, "LIGHTCHALK_STATE": str(home / "state"), "HOME": str(home)}
    command = [sys.executable, "-m", "tests.projector.desk.at_the_desk", *([str(job)] if job else [])]
    program = subprocess.Popen(
        command,
        env=environment,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[3],
    )
    try:
        yield Hands(screen, program)
    finally:
        program.kill()
        program.wait(10)
        for pipe in (program.stdin, program.stdout):
            if pipe is not None:
                pipe.close()
