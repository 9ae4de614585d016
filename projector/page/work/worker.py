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

import jobs.packing.engines.fill  # noqa: F401 - loaded now: an interruption in the middle of an import would spoil it
from jobs.io.reader import parse_job
from projector.page.work.answers import answers, progress_words
from projector.page.work.asked import Asked


class Worker:
    """Reads requests and writes answers in threads of their own, so that an interruption tears neither."""

    def __init__(self, given: TextIO, out: TextIO) -> None:
        self._given, self._out = given, out
        self._newest: Asked | None = None
        self._ended = self._busy = self._searching = False
        self._wake: queue.SimpleQueue[None] = queue.SimpleQueue()
        self._answers: queue.SimpleQueue[str | None] = queue.SimpleQueue()

    def run(self) -> None:
        """Answer until the input ends."""
        writer = threading.Thread(target=self._write, daemon=True)
        writer.start()
        threading.Thread(target=self._read, daemon=True).start()
        answered: Asked | None = None
        while not self._ended:
            # An interruption may come at any place of this loop, also when what it was meant for is over: what was not
            # answered to its end is begun again, unless something newer was asked.
            with contextlib.suppress(KeyboardInterrupt):
                asked = self._newest
                if asked is answered:
                    self._wake.get()
                    continue
                self._busy = True
                self._answer(asked)  # type: ignore[arg-type]
                self._busy = False
                answered = asked
        with contextlib.suppress(KeyboardInterrupt):
            self._answers.put(None)
            writer.join()

    def _read(self) -> None:
        for line in self._given:
            request = json.loads(line)
            if request.pop("stop", False):
                if self._searching:
                    _thread.interrupt_main()
                continue
            self._newest = Asked(**{**request, "windows": tuple(request["windows"])})
            self._wake.put(None)
            if self._busy:
                _thread.interrupt_main()
        self._ended = True
        self._wake.put(None)

    def _write(self) -> None:
        while (line := self._answers.get()) is not None:
            self._out.write(line + "\n")
            self._out.flush()

    def _answer(self, asked: Asked) -> None:
        """Answer one request, or leave it as soon as a newer one has come."""

        def tell(progress: Any) -> None:
            self._say(asked, {"stage": "progress", "words": progress_words(progress, job)})

        try:
            job = parse_job(asked.text, "job")
            self._searching = True
            for answer in answers(asked, tell):
                if self._newest is not asked:
                    return
                if answer["stage"] == "plan":
                    self._searching = False
                self._say(asked, answer)
            self._say(asked, {"stage": "done"})
        except Exception as fault:
            self._say(asked, {"stage": "fault", "words": f"{type(fault).__name__}: {fault}"})
        finally:
            self._searching = False

    def _say(self, asked: Asked, answer: dict[str, Any]) -> None:
        self._answers.put(json.dumps({"number": asked.number, **answer}))


if __name__ == "__main__":
    with contextlib.suppress(BrokenPipeError, KeyboardInterrupt):
        Worker(sys.stdin, sys.stdout).run()
