"""The process that reckons: requests come in as lines of JSON, answers go out as such, the newest request first.

A line ``{"stop": true}`` ends a long search with the best found so far; the end of the input ends the process.
"""

from __future__ import annotations

import _thread
import contextlib
import json
import queue
import sys
import threading
from typing import Any, TextIO

from projector.desk.reckoning.answers import Asked, answers, progress_words


class Worker:
    """Reads requests in a thread of its own, so that a newer one is noticed between two stages of an older one."""

    def __init__(self, given: TextIO, out: TextIO) -> None:
        self._given, self._out = given, out
        self._asked: queue.Queue[Asked | None] = queue.Queue()
        self._searching = threading.Event()

    def run(self) -> None:
        """Answer until the input ends."""
        threading.Thread(target=self._read, daemon=True).start()
        while (asked := self._newest()) is not None:
            with contextlib.suppress(KeyboardInterrupt):
                self._answer(asked)

    def _read(self) -> None:
        for line in self._given:
            request = json.loads(line)
            if request.pop("stop", False):
                if self._searching.is_set():
                    _thread.interrupt_main()
            else:
                self._asked.put(Asked(**request))
        self._asked.put(None)

    def _newest(self) -> Asked | None:
        """The last request that came; None when the input has ended."""
        while True:
            with contextlib.suppress(KeyboardInterrupt):
                asked = self._asked.get()
                while asked is not None and not self._asked.empty():
                    asked = self._asked.get()
                return asked

    def _answer(self, asked: Asked) -> None:
        def tell(progress: Any) -> None:
            self._say(asked, {"stage": "progress", "words": progress_words(progress, job)})

        try:
            from jobs.io.reader import parse_job

            job = parse_job(asked.text, "job")
            self._searching.set()
            for answer in answers(asked, tell):
                if answer["stage"] == "plan":
                    self._searching.clear()
                self._say(asked, answer)
                if not self._asked.empty():
                    return
            self._say(asked, {"stage": "done"})
        except Exception as fault:
            self._say(asked, {"stage": "fault", "words": f"{type(fault).__name__}: {fault}"})
        finally:
            self._searching.clear()

    def _say(self, asked: Asked, answer: dict[str, Any]) -> None:
        self._out.write(json.dumps({"number": asked.number, **answer}) + "\n")
        self._out.flush()


if __name__ == "__main__":
    with contextlib.suppress(BrokenPipeError, KeyboardInterrupt):
        Worker(sys.stdin, sys.stdout).run()
