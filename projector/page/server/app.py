"""The application: what each address of the page answers."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import Mount, Route, WebSocketRoute
from starlette.staticfiles import StaticFiles
from starlette.websockets import WebSocket

from jobs.io.log import FileRefused
from jobs.model.records import dataclass
from projector.page.form.blank import examples
from projector.page.places.job import whole_sections
from projector.page.places.templates import rendered
from projector.page.scale_ways import WAYS
from projector.page.server.folder import NoSuchName
from projector.page.server.guard import Doors, Guard
from projector.page.server.job_topic import JobTopic
from projector.page.server.light_pages import LightPages
from projector.page.server.live import MOST_PAGES, Topic, talk
from projector.page.server.papers import PAPERS, TYPES, make
from projector.page.server.phones import GOOD_FOR_S, Phones
from projector.page.server.photographs import MOST_BYTES, Photograph
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

    def __init__(self, workshop: Workshop, phones: Phones) -> None:
        self.workshop, self.phones = workshop, phones
        self.lights = LightPages(workshop, phones)
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

    async def look(self, request: Request) -> Response:
        """What the list shows of a job: its picture, and how far it is cut."""
        try:
            look = await self.thumbs.of_file(request.path_params["name"])
        except NoSuchName:
            return self._lost()
        return JSONResponse({"svg": look.svg, "far": look.far})

    async def look_at_draft(self, request: Request) -> Response:
        """The picture of unsaved work of last time."""
        draft = self.workshop.drafts.left().get(request.path_params["job"])
        if draft is None:
            return self._lost()
        look = await self.thumbs.of_text(request.path_params["job"], draft.text)
        return JSONResponse({"svg": look.svg, "far": ""})

    async def job(self, request: Request) -> Response:
        topic = self._topic(request)
        if topic is None:
            return self._lost()
        parts = topic.parts()
        whole = whole_sections(topic.job, parts)
        return self._page("job.html", "job", f"/job/{topic.job.name}", job=topic.job, parts=parts, sections=whole)

    async def print(self, request: Request) -> Response:
        """The print measured from a photograph."""
        topic = self._topic(request)
        if topic is None:
            return self._lost()
        return self._page("print.html", "print", f"/job/{topic.job.name}", **self._photo(topic))

    def _photo(self, topic: JobTopic) -> dict[str, Any]:
        values = topic.job.values
        width = values.text(("cloth", "width"))
        photograph = topic.photograph
        return {"job": topic.job, "photograph": photograph, "ways": WAYS, "unit": values.unit.value, "width": width}

    async def photo(self, request: Request) -> Response:
        """A photograph brought in."""
        topic = self._topic(request)
        if topic is None:
            return JSONResponse({"wrong": "This job is not open any more."}, 404)
        try:
            data = await body_of(request, MOST_BYTES)
        except TooLarge:
            return JSONResponse({"wrong": f"This file is too large: at most {MOST_BYTES // 1_000_000} MB."}, 413)
        topic.photograph = topic.photograph or Photograph()
        wrong = await topic.photograph.bring(data, request.query_params.get("name", ""))
        return self._photo_answer(topic, wrong)

    async def shown_photo(self, request: Request) -> Response:
        """The photograph that is there now, for a page on which another one was brought in meanwhile."""
        topic = self._topic(request)
        return self._photo_answer(topic, "") if topic is not None else Response(status_code=404)

    async def from_phone(self, request: Request) -> Response:
        """A photograph of the cloth taken by a phone: it is there on the place Print of the job looked at last."""
        job = next(reversed(self.workshop.jobs.values()), None)
        if job is None:
            return JSONResponse({"say": "Open the job on the computer first.", "bad": True}, 404)
        try:
            data = await body_of(request, MOST_BYTES)
        except TooLarge:
            return JSONResponse({"say": f"This is too large: at most {MOST_BYTES // 1_000_000} MB.", "bad": True}, 413)
        job.photograph = job.photograph or Photograph()
        wrong = await job.photograph.bring(data, request.query_params.get("name", ""))
        if wrong:
            return JSONResponse({"say": wrong, "bad": True})
        for listener in job.listeners:
            listener.tell({"v": job.job.version, "photo": job.photograph.number})
        return JSONResponse({"say": f"It is on the place Print of {job.job.title}: mark there how large it is."})

    async def measure(self, request: Request) -> Response:
        """The photograph measured, its scale told."""
        topic, asked = self._topic(request), await _json(request)
        if topic is None or topic.photograph is None:
            return JSONResponse({"wrong": "Bring a photograph in first."}, 404)
        places, typed = asked.get("places"), asked.get("typed")
        if not isinstance(places, list) or not isinstance(typed, list):
            return JSONResponse({"wrong": "Choose what the picture shows."}, 400)
        try:
            marked = [(float(x), float(y)) for x, y in places[:8]]
        except (TypeError, ValueError):
            return JSONResponse({"wrong": "Mark the places in the picture."}, 400)
        wrong = await topic.photograph.measure(topic.job, str(asked.get("way")), marked, [str(one) for one in typed])
        return self._photo_answer(topic, wrong)

    def _photo_answer(self, topic: JobTopic, wrong: str) -> Response:
        if wrong:
            return JSONResponse({"wrong": wrong})
        return JSONResponse({"html": rendered("parts/photo.html", **self._photo(topic))})

    async def take(self, request: Request) -> Response:
        """What was found, put into the job."""
        topic, asked = self._topic(request), await _json(request)
        number = asked.get("answer")
        if topic is None or topic.photograph is None or not isinstance(number, int):
            return JSONResponse({"wrong": "Measure the photograph first."}, 404)
        wrong = topic.photograph.take(topic.job, number, picture=bool(asked.get("picture")))
        topic.changed()
        return JSONResponse({"wrong": wrong} if wrong else {"go": f"/job/{topic.job.name}#s-print"})

    async def seen(self, request: Request) -> Response:
        """A picture of the photograph or of what was found in it."""
        topic = self._topic(request)
        photograph = topic.photograph if topic is not None else None
        path = photograph.picture(request.path_params["name"]) if photograph is not None else None
        return FileResponse(path) if path is not None else Response(status_code=404)

    async def papers(self, request: Request) -> Response:
        """What can be printed or sent of a job."""
        topic = self._topic(request)
        if topic is None:
            return self._lost()
        return self._page(
            "papers.html", "papers", f"/job/{topic.job.name}", job=topic.job, papers=PAPERS,
            tables=self.workshop.folder.tables(), wrong=topic.job.complaints.count,
        )  # fmt: skip

    async def paper(self, request: Request) -> Response:
        """One paper as a file: looked at, or saved."""
        topic, name = self._topic(request), request.path_params["name"]
        key, _, ending = name.partition(".")
        paper = next((one for one in PAPERS if one.key == key and ending in one.endings), None)
        if topic is None or paper is None:
            return self._lost()
        stop = request.query_params.get("stop", "1")
        table, cloths = request.query_params.get("table"), topic.job.cloths
        cloth = request.query_params.get("cloth") or next(iter(cloths), "")
        try:
            path = self.workshop.folder.there(table) if table else None
            made = await make(topic.job, paper, ending, path, int(stop), cloth if cloth in cloths else "")
        except (NoSuchName, ValueError):
            return self._lost()
        if made.wrong:
            at, title = f"/job/{topic.job.name}", paper.title
            return self._page("refused.html", "papers", at, lines=made.wrong, paper=title, status=409)
        how = "attachment" if "save" in request.query_params else "inline"
        headers = {"content-disposition": f'{how}; filename="{made.name}"'}
        if ending == "pdf":
            # A policy would keep the browser's own viewer of PDF from its style.
            headers["content-security-policy"] = "frame-ancestors 'none'"
        return Response(made.data, media_type=TYPES[ending], headers=headers)

    async def enter(self, request: Request) -> Response:
        """A phone that shows the invitation comes in."""
        name = _device(request.headers.get("user-agent", ""))
        secret = self.phones.enter(request.query_params.get("key", ""), name)
        if secret is None:
            await self.phones.slow()
            words = (
                "It is good once and for five minutes. Let the phone in anew on the page, and point the camera again."
            )
            return HTMLResponse(rendered("enter.html", heading="This code is not good any more", words=words), 403)
        answer = RedirectResponse("/cut", 303)
        answer.set_cookie(self.phones.cookie, secret, httponly=True, samesite="strict", path="/")
        self.show_phones()
        return answer

    async def phone(self, request: Request) -> Response:
        """Let a phone in, put one out, put all out."""
        asked = await _json(request)
        match asked.get("do"):
            case "invite":
                await self.phones.invite()
                asyncio.get_running_loop().call_later(GOOD_FOR_S + 1, self.show_phones)
            case "out" if str(asked.get("number")).isdigit():
                self.phones.put_out(int(str(asked["number"])))
                self._let_go()
            case "end":
                self.phones.end()
                self._let_go()
        self.show_phones()
        return JSONResponse({"html": self.phones.part()})

    def _let_go(self) -> None:
        """End the connections of phones that are out."""
        for topic in self.lights.topics.values():
            for listener in topic.listeners:
                if listener.whose == "phone" and listener.secret not in self.phones.inside:
                    listener.let_go()

    def show_phones(self) -> None:
        """Tell the pages of this computer who is in, and light the code of an invitation while it is good."""
        for topic in self.lights.topics.values():
            topic.light_card(self.phones.card)
            for listener in topic.listeners:
                if listener.whose == "page":
                    listener.tell({"v": 0, "parts": {"phones": self.phones.part()}})

    async def live(self, socket: WebSocket) -> None:
        """The connection of one page."""
        at = socket.query_params.get("at", "")
        topic = self._at(at) if socket.scope["whose"] == "page" or at in self.lights.topics else None
        if topic is None or self.pages >= MOST_PAGES:
            await socket.close(1008)
            return
        self.pages += 1
        try:
            await talk(socket, topic[0], topic[1], socket.scope["whose"], socket.scope["secret"])
        finally:
            self.pages -= 1

    def _at(self, at: str) -> tuple[Topic, Any] | None:
        """What a page at this address listens to."""
        if at == "/":
            return self.workshop.list, self.workshop.list.asked
        if at in self.lights.topics:
            return self.lights.topics[at], self.lights.topics[at].asked
        name = at.removeprefix("/job/").split("/")[0]
        topic = self._open_job(name)
        return (topic, topic.asked) if topic is not None else None

    def _topic(self, request: Request) -> JobTopic | None:
        """The open job of the request; unsaved work of a server that is no more is gone on with."""
        return self._open_job(request.path_params["job"])

    def _open_job(self, name: str) -> JobTopic | None:
        if name not in self.workshop.jobs and name in self.workshop.drafts.left():
            return self.workshop.go_on(name)
        if name in self.workshop.jobs:
            # The job that was looked at last is the one that is offered first elsewhere.
            self.workshop.jobs[name] = self.workshop.jobs.pop(name)
        return self.workshop.jobs.get(name)

    def _page(self, template: str, place: str, at: str, status: int = 200, **values: Any) -> Response:
        job = at.removeprefix("/job/").split("/")[0] if at.startswith("/job/") else ""
        places = self.workshop.places(job)
        return HTMLResponse(rendered(template, place=place, at=at, places=places, **values), status)

    def _lost(self) -> Response:
        return self._page("lost.html", "jobs", "", status=404)


def application(workshop: Workshop, doors: Doors, phones: Phones) -> Guard:
    """The whole application behind its guard."""
    pages = Pages(workshop, phones)
    workshop.is_at_the_table = lambda: pages.lights.is_used

    @asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        yield
        pages.thumbs.close()
        phones.end()
        for topic in pages.lights.topics.values():
            topic.close()
        workshop.close()

    routes = [
        Route("/", pages.jobs),
        Route("/new", pages.begin, methods=["POST"]),
        Route("/example", pages.example, methods=["POST"]),
        Route("/draft/{job}", pages.draft, methods=["POST"]),
        Route("/draft/{job}/look", pages.look_at_draft),
        Route("/bring", pages.bring, methods=["POST"]),
        Route("/open/{name}", pages.open),
        Route("/look/{name}", pages.look),
        Route("/job/{job}", pages.job),
        Route("/job/{job}/print", pages.print),
        Route("/job/{job}/photo", pages.photo, methods=["POST"]),
        Route("/job/{job}/photo", pages.shown_photo),
        Route("/photo", pages.from_phone, methods=["POST"]),
        Route("/job/{job}/photo/{name}", pages.seen),
        Route("/job/{job}/measure", pages.measure, methods=["POST"]),
        Route("/job/{job}/take", pages.take, methods=["POST"]),
        Route("/job/{job}/papers", pages.papers),
        Route("/job/{job}/paper/{name}", pages.paper),
        Route("/cut", pages.lights.page),
        Route("/table", pages.lights.page),
        Route("/cut/start", pages.lights.start, methods=["POST"]),
        Route("/table/start", pages.lights.start, methods=["POST"]),
        Route("/table/look/{name}", pages.lights.look),
        Route("/table/photograph", pages.lights.photographs.bring, methods=["POST"]),
        Route("/table/photograph/{file}", pages.lights.photographs.picture),
        Route("/cut/view.jpg", pages.lights.view),
        Route("/table/view.jpg", pages.lights.view),
        Route("/enter", pages.enter),
        Route("/phone", pages.phone, methods=["POST"]),
        WebSocketRoute("/live", pages.live),
        Mount("/static", StaticFiles(directory=STATIC)),
    ]
    return Guard(Starlette(routes=routes, lifespan=lifespan), doors)


def _device(agent: str) -> str:
    """What a phone is called in the list."""
    return "a tablet" if "Tablet" in agent or "iPad" in agent else "a phone"


def _to(topic: JobTopic) -> Response:
    return RedirectResponse(f"/job/{topic.job.name}", 303)


async def _json(request: Request) -> dict[str, Any]:
    """What was sent as JSON; nothing where it is none or too large."""
    try:
        found = json.loads(await body_of(request, 20_000))
    except (TooLarge, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


async def _form(request: Request) -> dict[str, str]:
    """The fields of a form that was sent; none where it is no form or too large."""
    from urllib.parse import parse_qsl

    try:
        return dict(parse_qsl((await body_of(request, 10_000)).decode("utf-8", "replace")))
    except TooLarge:
        return {}
