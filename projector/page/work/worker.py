"""The process that works jobs out: requests come in as lines of JSON, answers go out as such, the newest request first.

A newer request interrupts an older one, a line ``{"stop": true}`` ends a long search with the best found so far, and
the end of the input ends the process.
"""

from __future__ import annotations

import _thread
import contextlib
import json
import queue
import sys
import threading
from typing import Any, TextIO

from projector.page.work.answers import Asked, answers, progress_words


class Worker:
    """Reads requests and writes answers in threads of their own, so that an interruption tears neither."""

    def __init__(self, given: TextIO, out: TextIO) -> None:
        self._given, self._out = given, out
        self._asked: queue.SimpleQueue[Asked | None] = queue.SimpleQueue()
        self._answers: queue.SimpleQueue[str | None] = queue.SimpleQueue()
        self._busy, self._searching = threading.Event(), threading.Event()

    def run(self) -> None:
        """Answer until the input ends."""
        writer = threading.Thread(target=self._write, daemon=True)
        writer.start()
        threading.Thread(target=self._read, daemon=True).start()
        while (asked := self._newest()) is not None:
            with contextlib.suppress(KeyboardInterrupt):
                self._answer(asked)
        with contextlib.suppress(KeyboardInterrupt):
            self._answers.put(None)
            writer.join()

    def _read(self) -> None:
        for line in self._given:
            request = json.loads(line)
            if request.pop("stop", False):
                if self._searching.is_set():
                    _thread.interrupt_main()
                continue
            self._asked.put(Asked(**{**request, "windows": tuple(request["windows"])}))
            if self._busy.is_set():
                _thread.interrupt_main()
        self._asked.put(None)

    def _write(self) -> None:
        while (line := self._answers.get()) is not None:
            self._out.write(line + "\n")
            self._out.flush()

    def _newest(self) -> Asked | None:
        """The last request that came; None when the input has ended."""
        asked: Asked | None = None
        while True:
            with contextlib.suppress(KeyboardInterrupt):
                self._busy.clear()
                asked = asked or self._asked.get()
                while asked is not None and not self._asked.empty():
                    asked = self._asked.get()
                return asked

    def _answer(self, asked: Asked) -> None:
        def tell(progress: Any) -> None:
            self._say(asked, {"stage": "progress", "words": progress_words(progress, job)})

        try:
            self._busy.set()
            if not self._asked.empty():
                return
            from jobs.io.reader import parse_job

            job = parse_job(asked.text, "job")
            self._searching.set()
            for answer in answers(asked, tell):
                if not self._asked.empty():
                    return
                if answer["stage"] == "plan":
                    self._searching.clear()
                self._say(asked, answer)
            self._say(asked, {"stage": "done"})
        except Exception as fault:
            self._say(asked, {"stage": "fault", "words": f"{type(fault).__name__}: {fault}"})
        finally:
            self._searching.clear()
            self._busy.clear()

    def _say(self, asked: Asked, answer: dict[str, Any]) -> None:
        self._answers.put(json.dumps({"number": asked.number, **answer}))


if __name__ == "__main__":
    with contextlib.suppress(BrokenPipeError, KeyboardInterrupt):
        Worker(sys.stdin, sys.stdout).run()
