"""The application: what each address of the page answers."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import Mount, Route, WebSocketRoute
from starlette.staticfiles import StaticFiles
from starlette.websockets import WebSocket

from jobs.io.log import FileRefused
from projector.page.form.blank import examples
from projector.page.places.form import sections
from projector.page.places.job import whole_section
from projector.page.places.templates import rendered
from projector.page.server.folder import NoSuchName
from projector.page.server.guard import Doors, Guard
from projector.page.server.job_topic import JobTopic
from projector.page.server.live import MOST_PAGES, Topic, talk
from projector.page.server.thumbs import Thumbs
from projector.page.server.uploads import MOST_JOB_BYTES, TooLarge, body_of
from projector.page.server.workshop import Workshop, title_of
from projector.words.wording import file_lines

STATIC = Path(__file__).parents[1] / "static"


@dataclass(frozen=True)
class Unsaved:
    """Unsaved work of last time, as the list shows it."""

    job: str
    title: str
    file: str


class Pages:
    """The answers, each a function of the request and of what the server holds."""

    def __init__(self, workshop: Workshop) -> None:
        self.workshop = workshop
        self.thumbs = Thumbs(workshop.folder)
        self.pages = 0

    async def jobs(self, request: Request) -> Response:
        unsaved = [
            Unsaved(job, title_of(draft.text), Path(draft.path).name if draft.path else "")
            for job, draft in self.workshop.unsaved()
        ]
        folder = self.workshop.folder
        return self._page(
            "jobs.html", "jobs", "/", jobs=folder.jobs(), examples=list(examples()), unsaved=unsaved,
            folder=folder.path.name or str(folder.path),
        )  # fmt: skip

    async def begin(self, request: Request) -> Response:
        form = await _form(request)
        try:
            return _to(self.workshop.begin(form.get("unit", "")))
        except ValueError:
            return self._lost()

    async def example(self, request: Request) -> Response:
        try:
            return _to(self.workshop.example((await _form(request)).get("title", "")))
        except KeyError:
            return self._lost()

    async def draft(self, request: Request) -> Response:
        """Unsaved work of last time: gone on with, or dropped."""
        job, form = request.path_params["job"], await _form(request)
        if form.get("do") == "drop":
            self.workshop.forget(job)
            return RedirectResponse("/", 303)
        try:
            return _to(self.workshop.go_on(job))
        except KeyError:
            return self._lost()

    async def open(self, request: Request) -> Response:
        try:
            return _to(self.workshop.open_file(request.path_params["name"]))
        except NoSuchName:
            return self._lost()
        except FileRefused as refused:
            return self._page("refused.html", "jobs", "", lines=file_lines(refused), status=409)

    async def bring(self, request: Request) -> Response:
        """A job file from elsewhere, put into the folder under a name that is free."""
        try:
            text = (await body_of(request, MOST_JOB_BYTES)).decode("utf-8")
        except (TooLarge, UnicodeDecodeError):
            return JSONResponse({"say": "This is no job file: it is too large, or no text.", "bad": True}, 400)
        stem = Path(request.query_params.get("name", "job")).stem
        name = self.workshop.folder.free_name(stem)
        self.workshop.folder.write(name, text)
        return JSONResponse({"go": f"/open/{name}"})

    async def thumb(self, request: Request) -> Response:
        try:
            svg = await self.thumbs.of(request.path_params["name"])
        except NoSuchName:
            return self._lost()
        return Response(svg, media_type="image/svg+xml") if svg else Response(status_code=404)

    async def job(self, request: Request) -> Response:
        topic = self._topic(request)
        if topic is None:
            return self._lost()
        parts = topic.parts()
        form = sections(topic.job)
        whole = {section.key: whole_section(section, parts) for section in form}
        name = topic.job.name
        return self._page("job.html", "job", f"/job/{name}", job=topic.job, parts=parts, sections=form, whole=whole)

    async def live(self, socket: WebSocket) -> None:
        """The connection of one page."""
        topic = self._at(socket.query_params.get("at", ""))
        if topic is None or self.pages >= MOST_PAGES:
            await socket.close(1008)
            return
        self.pages += 1
        try:
            await talk(socket, topic[0], topic[1], socket.scope["whose"])
        finally:
            self.pages -= 1

    def _at(self, at: str) -> tuple[Topic, Any] | None:
        """What a page at this address listens to."""
        if at == "/":
            return self.workshop.list, self.workshop.list.asked
        name = at.removeprefix("/job/").split("/")[0]
        topic = self.workshop.jobs.get(name)
        return (topic, topic.asked) if topic is not None else None

    def _topic(self, request: Request) -> JobTopic | None:
        """The open job of the request; unsaved work of a server that is no more is gone on with."""
        name = request.path_params["job"]
        if name not in self.workshop.jobs and name in self.workshop.drafts.left():
            return self.workshop.go_on(name)
        return self.workshop.jobs.get(name)

    def _page(self, template: str, place: str, at: str, status: int = 200, **values: Any) -> Response:
        job = at.removeprefix("/job/").split("/")[0] if at.startswith("/job/") else ""
        places = [("jobs", "Jobs", "/")]
        if job:
            places.append(("job", "Job", f"/job/{job}"))
        return HTMLResponse(rendered(template, place=place, at=at, places=places, **values), status)

    def _lost(self) -> Response:
        return self._page("lost.html", "jobs", "", status=404)


def application(workshop: Workshop, doors: Doors) -> Guard:
    """The whole application behind its guard."""
    pages = Pages(workshop)

    @asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        yield
        pages.thumbs.close()
        workshop.close()

    routes = [
        Route("/", pages.jobs),
        Route("/new", pages.begin, methods=["POST"]),
        Route("/example", pages.example, methods=["POST"]),
        Route("/draft/{job}", pages.draft, methods=["POST"]),
        Route("/bring", pages.bring, methods=["POST"]),
        Route("/open/{name}", pages.open),
        Route("/picture/{name}", pages.thumb),
        Route("/job/{job}", pages.job),
        WebSocketRoute("/live", pages.live),
        Mount("/static", StaticFiles(directory=STATIC)),
    ]
    return Guard(Starlette(routes=routes, lifespan=lifespan), doors)


def _to(topic: JobTopic) -> Response:
    return RedirectResponse(f"/job/{topic.job.name}", 303)


async def _form(request: Request) -> dict[str, str]:
    """The fields of a form that was sent; none where it is no form or too large."""
    from urllib.parse import parse_qsl

    try:
        return dict(parse_qsl((await body_of(request, 10_000)).decode("utf-8", "replace")))
    except TooLarge:
        return {}
