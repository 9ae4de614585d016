"""The window's side of reckoning: asks a process, takes what it answered, and never waits."""

from __future__ import annotations

import contextlib
import json
import queue
import subprocess
import threading
import time
from collections.abc import Callable
from dataclasses import asdict, replace
from typing import Any

from projector.desk.reckoning.answers import Asked
from projector.page.processes import program

PATIENCE_S = 1.5
"""So long an older request may hold up a newer one before its process is ended and another takes over."""
MOST_FAULTS = 3
"""So many processes in a row may end without an answer to one request."""

Answer = dict[str, Any]


class Reckoner:
    """Keeps one process reckoning; only answers to the newest request come out."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._answers: queue.Queue[tuple[int, Answer | None]] = queue.Queue()
        self._newest: Asked | None = None
        self._held_up_since: float | None = None
        self._answered = True
        self._faults, self._gone = 0, False
        self._run = 0
        self._process = self._started()

    @property
    def busy(self) -> bool:
        """Whether the newest request is not answered yet."""
        return not self._answered

    def ask(self, asked: Asked) -> None:
        """Reckon this job; what was asked before does not matter any more."""
        number = (self._newest.number if self._newest else 0) + 1
        if self.busy and self._held_up_since is None:
            self._held_up_since = self._clock()
        self._newest = replace(asked, number=number)
        self._answered, self._faults = False, 0
        if self._gone:
            self._process, self._gone = self._anew(), False
        self._send(asdict(self._newest))

    def stop(self) -> None:
        """End a long search with the best that was found so far."""
        self._send({"stop": True})

    def forget(self) -> None:
        """Nothing is asked any more, for the job has something wrong."""
        if self._newest is not None:
            self._newest = replace(self._newest, number=self._newest.number + 1)
        self._answered, self._held_up_since = True, None

    def heard(self) -> list[Answer]:
        """The answers to the newest request that have come since the last call."""
        found = []
        with contextlib.suppress(queue.Empty):
            while True:
                run, answer = self._answers.get_nowait()
                if run != self._run:
                    continue
                if answer is None:
                    found += self._ended()
                elif self._newest is not None and answer["number"] == self._newest.number:
                    self._answered = answer["stage"] in ("done", "fault", "refused")
                    self._held_up_since = None
                    found.append(answer)
        self._hurry()
        return found

    def close(self) -> None:
        """End the process."""
        self._run += 1
        self._end(self._process)

    def _hurry(self) -> None:
        """Another process for the newest request when an older one does not make way."""
        if self._held_up_since is not None and self._clock() - self._held_up_since > PATIENCE_S:
            self._again()

    def _ended(self) -> list[Answer]:
        """The process has gone: another one is asked, but not for ever."""
        self._faults += 1
        if self._newest is None or not self.busy:
            self._gone = True
        elif self._faults < MOST_FAULTS:
            self._again()
        else:
            self._gone = self._answered = True
            return [{"stage": "fault", "words": "its process ended again and again"}]
        return []

    def _again(self) -> None:
        assert self._newest is not None
        self._process = self._anew()
        self._send(asdict(self._newest))
        self._held_up_since = None

    def _anew(self) -> subprocess.Popen[str]:
        self._run += 1
        self._end(self._process)
        return self._started()

    def _started(self) -> subprocess.Popen[str]:
        command, environment = program("projector.desk.reckoning.worker")
        process = subprocess.Popen(
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
            env=environment,
        )
        threading.Thread(target=self._listen, args=(process, self._run), daemon=True).start()
        return process

    def _listen(self, process: subprocess.Popen[str], run: int) -> None:
        assert process.stdout is not None
        with process.stdout:
            for line in process.stdout:
                with contextlib.suppress(ValueError):  # half a line, of a process that was ended
                    self._answers.put((run, json.loads(line)))
        self._answers.put((run, None))

    def _send(self, request: dict[str, Any]) -> None:
        assert self._process.stdin is not None
        with contextlib.suppress(OSError, ValueError):
            self._process.stdin.write(json.dumps(request) + "\n")
            self._process.stdin.flush()

    @staticmethod
    def _end(process: subprocess.Popen[str]) -> None:
        with contextlib.suppress(OSError):
            process.kill()
        with contextlib.suppress(OSError, ValueError):
            if process.stdin is not None:
                process.stdin.close()
        process.wait()
