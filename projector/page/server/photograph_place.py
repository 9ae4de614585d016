"""Calibrating by photographs on the place Table: which set belongs to the light that is on, and what is asked of it."""

from __future__ import annotations

import asyncio
import secrets
import tempfile
from collections.abc import Coroutine, Mapping
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response

from calibration.photographs.sides import SIDES
from jobs.model.choices import Unit
from projector.page.places.photographs import photograph_parts
from projector.page.server.light_topic import LightTopic
from projector.page.server.lit_photographs import LitPhotographs, kept_tables
from projector.page.server.live import Message
from projector.page.server.photographs import MOST_BYTES
from projector.page.server.uploads import TooLarge, body_of
from projector.page.work.commands import run_bounded

PATTERN = "pattern"
"""What a calibration calls its page while the pattern is lit."""
TYPES = {"jpg": "image/jpeg", "svg": "image/svg+xml"}
NOT_LIT: Message = {"say": "The pattern is not lit any more: light it again.", "bad": True}


class PhotographPlace:
    """Beside the light of a calibration; sets are kept in ``state`` until they are used."""

    def __init__(self, state: Path, topic: LightTopic) -> None:
        self._state, self._topic = state, topic
        self._sets: dict[Path, LitPhotographs] = {}
        self._tasks: set[asyncio.Task[None]] = set()
        self._taking = 0
        topic.beside = self

    @property
    def kept(self) -> list[str]:
        """The names of table files of which photographs wait to be used."""
        return [path.name for path in kept_tables(self._state)]

    def parts(self, about: Mapping[str, Any] | None, state: Mapping[str, Any]) -> dict[str, str]:
        """What is shown of the photographs while the pattern is lit."""
        found = self._current(about, state)
        if found is None or about is None:
            return {"photographs": "", "shots": ""}
        found.begin()
        return photograph_parts(found, simulated=bool(about["simulated"]), taking=self._taking > 0)

    def _current(self, about: Mapping[str, Any] | None, state: Mapping[str, Any]) -> LitPhotographs | None:
        """The photographs of the table whose pattern is lit; None where none is."""
        if about is None or state.get("page") != PATTERN or not about.get("table"):
            return None
        table = Path(about["table"])
        if table not in self._sets:
            self._sets[table] = LitPhotographs(self._state, table, self._topic.show)
        wide, high = state["frame_px"]
        simulated = bool(about["simulated"])
        self._sets[table].light((int(wide), int(high)), Unit(state["unit"]), simulated=simulated)
        return self._sets[table]

    @property
    def _now(self) -> LitPhotographs | None:
        return self._current(self._topic.about, self._topic.state)

    def take(self, asked: Mapping[str, Any]) -> Message | None:
        """Do what a page asks of the photographs; None where it asks for something else."""
        what = asked.get("do")
        if what not in ("type", "drop", "use", "clear", "shoot", "compare", "knock"):
            return None
        found = self._now
        if found is None:
            return NOT_LIT
        match what:
            case "type":
                number = str(asked.get("path", "")).removeprefix("tape/")
                if number.isdigit():
                    found.type(int(number), str(asked.get("value", "")))
            case "drop":
                found.drop(str(asked.get("of", "")))
            case "clear":
                found.clear()
            case "use":
                wrong = found.use()
                if wrong:
                    return {"say": wrong, "bad": True}
                self._topic.ask("leave")
                return {"say": f"Kept in {found.table.name}."}
            case "compare":
                self._later(found.compare(str(asked.get("of", ""))))
            case "knock":
                found.knocked = not found.knocked
                self._topic.show()
            case "shoot":
                return self._shoot(found, asked)
        return {}

    def _shoot(self, found: LitPhotographs, asked: Mapping[str, Any]) -> Message:
        """Have the virtual camera take a photograph of the simulated table."""
        side = asked.get("side")
        if self._topic.about is None or not self._topic.about["simulated"] or self._taking:
            return {}
        if not isinstance(side, int) or not 0 <= side < SIDES:
            return {}
        held = [str(side), *(str(int(bool(asked.get(how)))) for how in ("high", "upright")), str(len(found.shots))]
        self._taking += 1
        self._later(self._taken(found, [*held, str(int(found.knocked))]))
        self._topic.show()
        return {}

    def _later(self, work: Coroutine[Any, Any, None]) -> None:
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _taken(self, found: LitPhotographs, held: list[str]) -> None:
        try:
            with tempfile.TemporaryDirectory(prefix="lightchalk-") as folder:
                frame, out = Path(folder) / "frame.png", Path(folder) / "taken.jpg"
                frame.write_bytes(await self._topic.frame())
                ran = await run_bounded("taken", str(frame), str(out), *held)
                data = out.read_bytes() if ran.well else b""
        finally:
            self._taking -= 1
        if data:
            await found.bring(data)
        else:
            self._topic.show()

    async def bring(self, request: Request) -> Response:
        """A photograph taken by a phone, or chosen on a page."""
        found = self._now
        if found is None:
            return JSONResponse(NOT_LIT, 409)
        try:
            data = await body_of(request, MOST_BYTES)
        except TooLarge:
            return JSONResponse({"say": f"This is too large: at most {MOST_BYTES // 1_000_000} MB.", "bad": True}, 413)
        return JSONResponse(await found.bring(data))

    async def picture(self, request: Request) -> Response:
        """The small picture of a photograph, or the bars that lie over it."""
        found, (name, _, ending) = self._now, request.path_params["file"].partition(".")
        known = found is not None and any(secrets.compare_digest(one.name, name) for one in found.shots)
        if found is None or not known or ending not in TYPES:
            return Response(status_code=404)
        path = found.picture(name) if ending == "jpg" else found.over(name)
        return FileResponse(path, media_type=TYPES[ending]) if path.is_file() else Response(status_code=404)
