"""The server's side of the working out: asks a process, hands on what it answers, and never waits."""

from __future__ import annotations

import asyncio
import contextlib
import json
import subprocess
import threading
from collections.abc import Callable
from dataclasses import asdict, replace
from typing import Any

from projector.page.processes import program
from projector.page.work.asked import Answer, Asked

PATIENCE_S = 1.5
"""So long an older request may hold up a newer one before its process is ended and another takes over."""
MOST_FAULTS = 3
"""So many processes in a row may end without an answer to one request."""

Hear = Callable[[Answer], None]


class Reckoner:
    """Keeps one process at work; only answers to the newest request are handed on, in the loop it was made in."""

    def __init__(self, hear: Hear, patience_s: float = PATIENCE_S) -> None:
        self._hear, self._patience_s = hear, patience_s
        self._loop = asyncio.get_running_loop()
        self._newest: Asked | None = None
        self._answered = True
        self._faults = 0
        self._run = 0
        self._process: subprocess.Popen[str] | None = None
        self._hurry: asyncio.TimerHandle | None = None

    @property
    def busy(self) -> bool:
        """Whether the newest request is not answered yet."""
        return not self._answered

    def ask(self, asked: Asked) -> None:
        """Work this job out; what was asked before does not matter any more."""
        number = (self._newest.number if self._newest else 0) + 1
        held_up = self.busy
        self._newest = replace(asked, number=number)
        self._answered, self._faults = False, 0
        if self._process is None:
            self._start()
        self._send(asdict(self._newest))
        if held_up and self._hurry is None:
            self._hurry = self._loop.call_later(self._patience_s, self._again)

    def stop(self) -> None:
        """End a long search with the best that was found so far."""
        self._send({"stop": True})

    def forget(self) -> None:
        """Nothing is asked any more, for the job has something wrong."""
        if self._newest is not None:
            self._newest = replace(self._newest, number=self._newest.number + 1)
        self._answered = True
        self._made_way()

    def close(self) -> None:
        """End the process."""
        self._made_way()
        self._end()

    def _take(self, run: int, answer: Answer | None) -> None:
        if run != self._run:
            return
        if answer is None:
            self._ended()
        elif self._newest is not None and answer["number"] == self._newest.number:
            self._answered = answer["stage"] in ("done", "fault", "refused")
            self._made_way()
            self._hear(answer)

    def _made_way(self) -> None:
        if self._hurry is not None:
            self._hurry.cancel()
            self._hurry = None

    def _ended(self) -> None:
        """The process has gone: another one is asked, but not for ever."""
        self._end()
        if not self.busy:
            return
        self._faults += 1
        if self._faults < MOST_FAULTS:
            self._again()
            return
        self._answered = True
        self._hear({"stage": "fault", "words": "its process ended again and again"})

    def _again(self) -> None:
        """Another process for the newest request, when an older one does not make way or its process has gone."""
        self._hurry = None
        if self._newest is not None and self.busy:
            self._end()
            self._start()
            self._send(asdict(self._newest))

    def _start(self) -> None:
        self._run += 1
        command, environment = program("projector.page.work.worker")
        self._process = subprocess.Popen(
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
            env=environment,
        )
        threading.Thread(target=self._listen, args=(self._process, self._run), daemon=True).start()

    def _listen(self, process: subprocess.Popen[str], run: int) -> None:
        assert process.stdout is not None
        # The loop may have ended before its last answer comes.
        with contextlib.suppress(RuntimeError):
            with process.stdout:
                for line in process.stdout:
                    with contextlib.suppress(json.JSONDecodeError):  # half a line, of a process that was ended
                        self._loop.call_soon_threadsafe(self._take, run, json.loads(line))
            self._loop.call_soon_threadsafe(self._take, run, None)

    def _send(self, request: dict[str, Any]) -> None:
        process = self._process
        if process is None:
            return
        assert process.stdin is not None
        with contextlib.suppress(OSError, ValueError):
            process.stdin.write(json.dumps(request) + "\n")
            process.stdin.flush()

    def _end(self) -> None:
        process, self._process = self._process, None
        self._run += 1
        if process is None:
            return
        with contextlib.suppress(OSError):
            process.kill()
        with contextlib.suppress(OSError, ValueError):
            if process.stdin is not None:
                process.stdin.close()
        process.wait()
