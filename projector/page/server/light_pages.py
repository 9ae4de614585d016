"""The places Cut and Table: the light that is on, or what can be started."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl

from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from jobs.io.log import FileRefused
from projector.files.write import CannotWrite, make_folder, write_whole
from projector.page.form.document import elsewhere
from projector.page.places.templates import rendered
from projector.page.server.cloth_photograph import ClothPhotograph
from projector.page.server.entrance.phones import Phones
from projector.page.server.folder import NoSuchName
from projector.page.server.job_topic import JobTopic
from projector.page.server.light_topic import LightTopic
from projector.page.server.photograph_place import PhotographPlace
from projector.page.server.starting import Starting
from projector.page.server.tables import Tables
from projector.page.server.uploads import TooLarge, body_of
from projector.page.server.workshop import Workshop
from projector.page.work.commands import run_command

WORKS = {"/cut": ("cutting",), "/table": ("calibrating", "tape")}
PLACES = {"/cut": "cut", "/table": "table"}
UNITS = ("in", "cm", "mm")
NEAREST = {"in": "1/16 in", "cm": "1 mm", "mm": "1 mm"}
"""The finest step that is read on a tape of each unit (common practice, no source)."""
PRACTISED = "practice-table.yaml"


class CannotStart(Exception):  # noqa: N818 - says what happened
    """The light cannot be started; the words say why and what to do."""


class LightPages:
    """Both places; ``topics`` are followed by their address."""

    def __init__(self, workshop: Workshop, phones: Phones) -> None:
        self.workshop, self.phones = workshop, phones
        self.starting, self.tables = Starting(), Tables()
        self.screens: list[dict[str, Any]] = []
        self.topics: dict[str, LightTopic] = {}
        self.topics |= {at: LightTopic(works, workshop.state, self._idle(at)) for at, works in WORKS.items()}

        self.photographs = PhotographPlace(workshop.state, self.topics["/table"])
        self.cloth = ClothPhotograph(workshop.state, self.topics["/cut"])

    @property
    def is_on(self) -> bool:
        """Whether a light is on that this server knows of."""
        return self.starting.is_on or any(topic.is_on for topic in self.topics.values())

    @property
    def is_used(self) -> bool:
        """Whether a light is on, or a page or phone waits at one of these places."""
        return self.is_on or any(topic.listeners for topic in self.topics.values())

    async def page(self, request: Request) -> Response:
        """The place itself."""
        at = request.url.path
        topic = self.topics[at]
        topic.begin()
        if not self.is_on:
            ran = await run_command("displays", "--json")
            self.screens = json.loads(ran.out) if ran.well else []
        own = request.scope["whose"] == "page"
        values = {"at": at, "place": PLACES[at], "places": self.workshop.places(own=own), "parts": topic.parts()}
        job = next(reversed(self.workshop.jobs.values()), None) if not own else None
        photographed = job.job.title if job is not None else ""
        return HTMLResponse(
            rendered("cut.html", own=own, phones=self.phones.part() if own else "", photographed=photographed, **values)
        )

    async def view(self, request: Request) -> Response:
        """What is seen in the window of the light, as a picture."""
        picture = await self.topics[request.url.path.removesuffix("/view.jpg")].view()
        return Response(picture, media_type="image/jpeg") if picture else Response(status_code=404)

    async def look(self, request: Request) -> Response:
        """A calibration: how far off the light can be, drawn, and what is said of it."""
        name, unit = request.path_params["name"], request.query_params.get("unit", "")
        try:
            path = self._practised if name == PRACTISED else self.workshop.folder.there(name)
            look = await self.tables.look(path, unit if unit in UNITS else "in")
        except (NoSuchName, OSError):
            return JSONResponse({"svg": "", "lines": ["It is not there any more."], "marks": []}, 404)
        return JSONResponse({"svg": look.svg, "lines": look.lines, "marks": look.marks})

    @property
    def _practised(self) -> Path:
        """The calibration that was practised on the simulated table."""
        return self.workshop.state / PRACTISED

    async def start(self, request: Request) -> Response:
        """Start a light, or say why not."""
        at = request.url.path.removesuffix("/start")
        try:
            asked = dict(parse_qsl((await body_of(request, 10_000)).decode("utf-8", "replace")))
            if self.is_on:
                raise CannotStart("A light is on already: leave it first.")
            called, words, hidden = (self._cut if at == "/cut" else self._table)(asked)
        except CannotStart as refused:
            return JSONResponse({"wrong": str(refused)})
        except (TooLarge, NoSuchName, KeyError, IndexError, ValueError, FileRefused):
            return JSONResponse({"wrong": "That is not there any more. Load the page again."})
        except CannotWrite as fault:
            return JSONResponse({"wrong": f"{fault.what}; {fault.advice}."})
        self.starting.start(called, words, hidden)
        self.topics[at].show()
        return JSONResponse({"say": "The light is coming on."})

    def _cut(self, asked: Mapping[str, str]) -> tuple[str, tuple[str, ...], dict[Path, str]]:
        name, _, number = asked["job"].partition("/")
        topic = self.workshop.open_file(name) if name not in self.workshop.jobs else self.workshop.jobs[name]
        if topic.job.complaints.count:
            raise CannotStart("Something in this job is to be mended first.")
        cloths = topic.job.cloths
        if cloths and not number:
            raise CannotStart("This job has several cloths: choose which.")
        of = ("--cloth", cloths[int(number)]) if cloths else ()
        if asked["work"] == "practise":
            copy = self._copy(topic)
            askew = ("--as-it-lies",) if asked.get("askew") else ()
            return "Practice", ("cut", str(copy), *of, "--simulated", *askew), {copy: "this job"}
        if topic.job.file is None or topic.job.document.changed:
            raise CannotStart("Save the job first: what is cut is recorded beside its file.")
        table = self.workshop.folder.there(asked["table"])
        words = ("cut", str(topic.job.file), *of, "--table", str(table), "--display", _number(asked))
        return "Cutting", words, {}

    def _copy(self, topic: JobTopic) -> Path:
        """A file with the job as it is now, saved or not."""
        folder = self.workshop.state / "copies"
        make_folder(folder)
        path = folder / f"{topic.job.name}.yaml"
        write_whole(path, elsewhere(topic.job.document))
        return path

    def _table(self, asked: Mapping[str, str]) -> tuple[str, tuple[str, ...], dict[Path, str]]:
        name = asked["name"].strip()
        path = self.workshop.folder.file(name if name.lower().endswith((".yaml", ".yml")) else f"{name}.yaml")
        unit = asked.get("unit", "in") if asked.get("unit") in UNITS else "in"
        photograph = ("--photograph",) if "photograph" in asked["work"] else ()
        match asked["work"]:
            case "practise" | "practise photographs":
                make_folder(self.workshop.state)
                words = ("calibrate", str(self._practised), "--units", unit, "--simulated", *photograph)
                return "Practice", words, {self._practised: "the practised calibration"}
            case "tape":
                tape = ("--units", unit, "--class", asked.get("class", "II"), "--nearest", NEAREST[unit])
                return "Tape", ("tape", str(path), "--display", _number(asked), *tape), {}
        if path.exists() and path.name not in self.workshop.folder.tables():
            raise CannotStart(f"{path.name} is another file and no calibration: give another name.")
        words = ("calibrate", str(path), "--units", unit, "--display", _number(asked), *photograph)
        return "Calibration", words, {}

    def _idle(self, at: str) -> Any:
        def part() -> str:
            if self.starting.is_on:
                return '<div class="wide"><p class="say">The light is coming on.</p></div>'
            return rendered(
                f"parts/idle_{PLACES[at]}.html", outcome=self.starting.ended, jobs=self._jobs(),
                tables=self.workshop.folder.tables(), screens=self.screens,
                practised=PRACTISED if self._practised.is_file() else "",
                kept=self.photographs.kept if at == "/table" else [],
            )  # fmt: skip

        return part

    def _jobs(self) -> list[tuple[str, str, bool]]:
        """What may be cut, and whether it is saved: the open jobs, the one looked at last first, then the others of
        the folder."""
        open_now = [choice for name, one in reversed(self.workshop.jobs.items()) for choice in _choices(name, one)]
        held = {one.job.file for one in self.workshop.jobs.values()}
        folder = self.workshop.folder
        others = [one for one in folder.jobs() if not one.wrong and folder.path / one.name not in held]
        return [*open_now, *((one.name, one.title, True) for one in others)]


def _choices(name: str, topic: JobTopic) -> list[tuple[str, str, bool]]:
    """A job that can be cut, or each of its cloths: how it is asked for, what it is called, and whether it is saved."""
    title, saved = topic.job.title, not topic.job.document.changed
    if not topic.job.cloths:
        return [(name, title, saved)]
    return [(f"{name}/{number}", f"{title}: {cloth}", saved) for number, cloth in enumerate(topic.job.cloths)]


def _number(asked: Mapping[str, str]) -> str:
    if not asked.get("display", "").isdigit():
        raise CannotStart("Choose which screen is the projector.")
    return asked["display"]
