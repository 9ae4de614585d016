"""Laying the cloth by a photograph on the place Cut: taken under the lit pattern, looked at, told to the light."""

from __future__ import annotations

import asyncio
import hashlib
import json
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response

from projector.files.write import make_folder, write_whole
from projector.page.places.cloth_photograph import cloth_photograph_parts
from projector.page.server.light_topic import LightTopic
from projector.page.server.live import Message
from projector.page.server.photographs import MOST_BYTES
from projector.page.server.uploads import TooLarge, body_of
from projector.page.work.commands import Outcome, run_bounded
from projector.session.actions import ROW_OPEN, ROW_SEEN, Match, written

PATTERN, LAID = "pattern", "registration"
"""What cutting calls its pages while the pattern is lit, and while it is shown how the cloth lies."""
PHOTO, SMALL, SEEN, TAPPED = "photo.jpg", "small.jpg", "seen.jpg", "tapped.npy"
FRAME, ASKED = "frame.png", "asked.json"
PASSING = frozenset(("help", "legend"))
"""Pages of words between how the cloth lies and its being kept."""
NAMED = (("photo", PHOTO), ("small", SMALL), ("seen", SEEN), ("tapped", TAPPED))
REPEATS = "repeats"
NOT_LIT: Message = {"say": "The pattern is not lit any more: light it again.", "bad": True}
WENT_WRONG = "The program itself went wrong with this photograph."
Json = dict[str, Any]


class ClothPhotograph:
    """Beside the light of a cut: the photograph that is looked at now; it goes as soon as something else is lit."""

    def __init__(self, state: Path, topic: LightTopic) -> None:
        self._state, self._topic = state, topic
        self._held: tempfile.TemporaryDirectory[str] | None = None
        self._tasks: set[asyncio.Task[Message]] = set()
        self._on_white = False
        self._page: str | None = None
        self._tapped: Path | None = None
        self.found: Json = {}
        self.number, self.doing = 0, ""
        topic.beside = self

    def parts(self, about: Mapping[str, Any] | None, state: Mapping[str, Any]) -> dict[str, str]:
        """What is shown while the pattern is lit, and beside what the photograph has told."""
        page = state.get("page") if about is not None else None
        self._settle(page, state)
        if page not in (PATTERN, LAID):
            self._forget()
        if about is None or not (page == PATTERN or (page == LAID and self.found)):
            return {"photographs": "", "shots": ""}
        asking = page == PATTERN and not state.get("dark")
        return cloth_photograph_parts(self, simulated=bool(about["simulated"]), asking=asking)

    def take(self, asked: Mapping[str, Any]) -> Message | None:
        """Do what a page asks of the photograph; None where it asks for something else."""
        what = asked.get("do")
        if what not in ("shoot", "point"):
            return None
        if self._asked is None:
            return NOT_LIT
        if self.doing:
            return {}
        if what == "shoot" and self._topic.about is not None and self._topic.about["simulated"]:
            self._begin(self._taken())
        elif what == "point" and self.found.get("wants_point"):
            x, y = asked.get("x"), asked.get("y")
            if isinstance(x, int | float) and isinstance(y, int | float) and 0 <= x <= 1 and 0 <= y <= 1:
                self._begin(self._looked_at([x, y]))
        return {}

    async def bring(self, request: Request) -> Response:
        """A photograph taken by a phone, or chosen on a page."""
        if self._asked is None:
            return JSONResponse(NOT_LIT, 409)
        try:
            data = await body_of(request, MOST_BYTES)
        except TooLarge:
            return JSONResponse({"say": f"This is too large: at most {MOST_BYTES // 1_000_000} MB.", "bad": True}, 413)
        if self.doing:
            return JSONResponse({"say": "Another photograph is looked at: wait a moment.", "bad": True})
        self._file(PHOTO).write_bytes(data)
        return JSONResponse(await self._looked_at(None))

    async def picture(self, request: Request) -> Response:
        """The photograph made small, with what was found in it where something was."""
        names = (SEEN, SMALL) if self._held is not None else ()
        path = next((path for path in map(self._file, names) if path.is_file()), None)
        return FileResponse(path, media_type="image/jpeg") if path is not None else Response(status_code=404)

    def close(self) -> None:
        """Take the pictures away."""
        if self._held is not None:
            self._held.cleanup()
            self._held = None

    @property
    def _asked(self) -> Json | None:
        """What the light wants to be told, while it wants it."""
        lay = self._topic.state.get("lay") if self._topic.about is not None else None
        return lay if isinstance(lay, dict) else None

    def _file(self, name: str) -> Path:
        if self._held is None:
            self._held = tempfile.TemporaryDirectory(prefix="lightchalk-", ignore_cleanup_errors=True)
        return Path(self._held.name) / name

    def _kept(self, lay: Json) -> Path:
        """Where the repeat about a tapped motif is kept: for this job's cloth, for all photographs of it to come."""
        named = json.dumps([self._topic.state.get("job"), lay["carried"]["lattice"]])
        folder = self._state / REPEATS
        make_folder(folder)
        return folder / f"{hashlib.sha256(named.encode()).hexdigest()[:20]}.npy"

    def _settle(self, page: str | None, state: Mapping[str, Any]) -> None:
        """Keep the repeat about a tapped motif once the cloth is laid by it; a tap that was taken back was none."""
        was, self._page = self._page, page
        if was != LAID or page == LAID or page in PASSING or not self._tapped:
            return
        kept, self._tapped = self._tapped, None
        if page != PATTERN and (state.get("stop") or {}).get("laid"):
            write_whole(kept, self._file(TAPPED).read_bytes())

    def _forget(self) -> None:
        if self.found and not self.doing:
            self.found = {}
            for name in (PHOTO, SMALL, SEEN):
                self._file(name).unlink(missing_ok=True)

    def _begin(self, work: Any) -> None:
        task = asyncio.get_running_loop().create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _taken(self) -> Message:
        """The simulated table photographed by its virtual camera, and looked at."""
        about, lay = self._topic.about, self._asked
        if about is None or lay is None:
            return NOT_LIT
        self._show("taking")
        try:
            self._file(FRAME).write_bytes(await self._topic.frame())
            told = {"lay": lay, "as_it_lies": bool(about.get("as_it_lies")), "number": self.number}
            self._file(ASKED).write_text(json.dumps(told), encoding="utf-8")
            ran = await run_bounded("cloth", *map(str, map(self._file, (FRAME, ASKED, PHOTO))))
        finally:
            self._show("")
        if not ran.well:
            self.found = {"wrong": [WENT_WRONG]}
            self._show("")
            return {}
        return await self._looked_at(None, lay["on_white"])

    async def _looked_at(self, point: list[float] | None, on_white: bool | None = None) -> Message:
        """Find the print in the photograph; what was found goes to the light, unless something is wrong with it.

        ``on_white`` tells what was lit when it was taken; None: what is lit as it comes, and was for a point in it.
        """
        lay = self._asked
        if lay is None:
            return NOT_LIT
        if point is None:
            self._on_white = lay["on_white"] if on_white is None else on_white
        lay = {**lay, "on_white": self._on_white}
        self._show("looking")
        try:
            for name in (SMALL, SEEN):
                self._file(name).unlink(missing_ok=True)
            simulated = bool(self._topic.about and self._topic.about["simulated"])
            pictures = {name: str(self._file(file)) for name, file in NAMED}
            self._file(ASKED).write_text(
                json.dumps(
                    {"lay": lay, "point": point, "simulated": simulated, "tile": str(self._kept(lay)), **pictures}
                ),
                encoding="utf-8",
            )
            self.found = _json(await run_bounded("lay", str(self._file(ASKED)))) or {"wrong": [WENT_WRONG]}
        finally:
            self.number += 1
            self._show("")
        if "record" in self.found:
            self._tapped = self._kept(lay) if point is not None and self._file(TAPPED).is_file() else None
            row = ROW_OPEN if self.found.get("row_open", True) else ROW_SEEN
            self._topic.ask(f"lies {lay['stop']} {row} {self.found['record']}")
            return {"say": "The print was found."}
        if self.found.get("mated"):
            mates = tuple((cut, right) for cut, right in self.found.get("moves", ()))
            self._topic.ask(written(Match(lay["stop"], mates)))
            return {"say": "The cuts of the panel were found."}
        return {"say": " ".join(self.found.get("wrong", ())), "bad": not self.found.get("wants_point")}

    def _show(self, doing: str) -> None:
        self.doing = doing
        self._topic.show()


def _json(ran: Outcome) -> Json:
    try:
        found = json.loads(ran.out) if ran.well else {}
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}
