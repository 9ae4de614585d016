"""The pictures in the list of jobs, drawn one at a time by a process of their own and kept as long as the file is."""

from __future__ import annotations

import asyncio

from jobs.io.log import FileRefused
from projector.page.server.folder import Folder
from projector.page.work.answers import HOUSE, Asked
from projector.page.work.reckoner import Answer, Reckoner

PATIENCE_S = 20.0
"""A job whose windows take longer to draw has no picture in the list."""


class Thumbs:
    """Pictures of jobs by the names of their files."""

    def __init__(self, folder: Folder) -> None:
        self._folder = folder
        self._held: dict[str, tuple[int, str]] = {}
        self._one = asyncio.Lock()
        self._reckoner: Reckoner | None = None
        self._drawn: asyncio.Future[str] | None = None

    async def of(self, name: str) -> str:
        """The windows of the job as they hang, as SVG; empty where it cannot be drawn. Raises NoSuchName."""
        path = self._folder.there(name)
        changed = path.stat().st_mtime_ns
        held = self._held.get(name)
        if held is not None and held[0] == changed:
            return held[1]
        async with self._one:
            try:
                text = self._folder.read(name)
            except FileRefused:
                return ""
            self._reckoner = self._reckoner or Reckoner(self._hear)
            self._drawn = asyncio.get_running_loop().create_future()
            self._reckoner.ask(Asked(0, text, (HOUSE,), "look", str(self._folder.path)))
            try:
                svg = await asyncio.wait_for(self._drawn, PATIENCE_S)
            except TimeoutError:
                self.close()
                svg = ""
            self._held[name] = changed, svg
            return svg

    def close(self) -> None:
        """End the process."""
        if self._reckoner is not None:
            self._reckoner.close()
            self._reckoner = None

    def _hear(self, answer: Answer) -> None:
        if self._drawn is None or self._drawn.done():
            return
        if answer["stage"] == "picture":
            self._drawn.set_result(answer["svg"])
        elif answer["stage"] in ("done", "refused", "fault"):
            self._drawn.set_result("")
