"""What the list shows of each job: its windows as they hang and how far it is cut.

One process works them out in turn; what it found is kept as long as the job and its record of cuts are as they were.
"""

from __future__ import annotations

import asyncio
from dataclasses import replace
from pathlib import Path

from jobs.io.log import FileRefused
from jobs.journal.file import records_of
from jobs.model.records import dataclass
from projector.page.places.templates import rendered
from projector.page.server.folder import Folder
from projector.page.work.asked import HOUSE, Asked
from projector.page.work.reckoner import Answer, Reckoner

PATIENCE_S: float | None = 20.0
"""A job that takes longer is listed without a picture."""


@dataclass(frozen=True)
class Look:
    """A job in the list: its windows as SVG, and how far it is cut as HTML; each empty where it is not known."""

    svg: str = ""
    far: str = ""


class Thumbs:
    """Looks of jobs by the names of their files, and of texts that no file holds."""

    def __init__(self, folder: Folder) -> None:
        self._folder = folder
        self._held: dict[str, tuple[object, Look]] = {}
        self._one = asyncio.Lock()
        self._reckoner: Reckoner | None = None
        self._look = Look()
        self._drawn: asyncio.Future[Look] | None = None

    async def of_file(self, name: str) -> Look:
        """The job in this file. Raises NoSuchName."""
        path = self._folder.there(name)
        stands = _changed(path), tuple(map(_changed, records_of(path).values()))
        try:
            text = self._folder.read(name)
        except FileRefused:
            return Look()
        return await self._found(f"file {name}", stands, Asked(0, text, (HOUSE,), "look", str(path.parent), path.name))

    async def of_text(self, name: str, text: str) -> Look:
        """A job that is in no file yet."""
        return await self._found(f"text {name}", text, Asked(0, text, (HOUSE,), "look", str(self._folder.path)))

    async def _found(self, key: str, stands: object, asked: Asked) -> Look:
        async with self._one:
            held = self._held.get(key)
            if held is not None and held[0] == stands:
                return held[1]
            self._reckoner = self._reckoner or Reckoner(self._hear)
            self._look = Look()
            self._drawn = asyncio.get_running_loop().create_future()
            self._reckoner.ask(asked)
            try:
                found = await asyncio.wait_for(self._drawn, PATIENCE_S)
            except TimeoutError:
                self.close()
                found = self._look
            self._held[key] = stands, found
            return found

    def close(self) -> None:
        """End the process."""
        if self._reckoner is not None:
            self._reckoner.close()
            self._reckoner = None

    def _hear(self, answer: Answer) -> None:
        match answer["stage"]:
            case "picture":
                self._look = replace(self._look, svg=answer["svg"])
            case "cuts":
                far = rendered("parts/how_far.html", done=answer["done"], of=answer["of"], wrong=answer["wrong"])
                self._look = replace(self._look, far=far)
            case "done" | "refused" | "fault" if self._drawn is not None and not self._drawn.done():
                self._drawn.set_result(self._look)


def _changed(path: Path) -> tuple[int, int] | None:
    """When a file was written last and how long it is; None where there is none."""
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_mtime_ns, status.st_size
