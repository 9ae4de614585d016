"""The application: which address is answered by what; phones that come in, and the connection of each page."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import Mount, Route, WebSocketRoute
from starlette.staticfiles import StaticFiles
from starlette.websockets import WebSocket

from projector.page.places.templates import rendered
from projector.page.server.answers.job_list import JobPages
from projector.page.server.answers.papers import PaperPages
from projector.page.server.answers.prints import PrintPages
from projector.page.server.answers.shared import Answers, sent_json
from projector.page.server.entrance.guard import Doors, Guard
from projector.page.server.entrance.phones import GOOD_FOR_S, Phones
from projector.page.server.light_pages import LightPages
from projector.page.server.live import MOST_PAGES, Topic, talk
from projector.page.server.workshop import Workshop

STATIC = Path(__file__).parents[1] / "static"


class Pages(Answers):
    """Phones that come in and are put out, the connection of each page, and the light."""

    def __init__(self, workshop: Workshop, phones: Phones) -> None:
        super().__init__(workshop)
        self.phones = phones
        self.lights = LightPages(workshop, phones)
        self.pages = 0

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
        asked = await sent_json(request)
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
        topic = self.open_job(name)
        return (topic, topic.asked) if topic is not None else None


def application(workshop: Workshop, doors: Doors, phones: Phones) -> Guard:
    """The whole application behind its guard."""
    pages, jobs, prints, papers = (
        Pages(workshop, phones),
        JobPages(workshop),
        PrintPages(workshop),
        PaperPages(workshop),
    )
    workshop.is_at_the_table = lambda: pages.lights.is_used

    @asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        yield
        jobs.thumbs.close()
        phones.end()
        for topic in pages.lights.topics.values():
            topic.close()
        pages.lights.cloth.close()
        workshop.close()

    routes = [
        Route("/", jobs.jobs),
        Route("/new", jobs.begin, methods=["POST"]),
        Route("/example", jobs.example, methods=["POST"]),
        Route("/draft/{job}", jobs.draft, methods=["POST"]),
        Route("/draft/{job}/look", jobs.look_at_draft),
        Route("/bring", jobs.bring, methods=["POST"]),
        Route("/open/{name}", jobs.open),
        Route("/look/{name}", jobs.look),
        Route("/job/{job}", jobs.job),
        Route("/job/{job}/print", prints.print),
        Route("/job/{job}/photo", prints.photo, methods=["POST"]),
        Route("/job/{job}/photo", prints.shown_photo),
        Route("/photo", prints.from_phone, methods=["POST"]),
        Route("/job/{job}/photo/{name}", prints.seen),
        Route("/job/{job}/measure", prints.measure, methods=["POST"]),
        Route("/job/{job}/take", prints.take, methods=["POST"]),
        Route("/job/{job}/papers", papers.papers),
        Route("/job/{job}/paper/{name}", papers.paper),
        Route("/cut", pages.lights.page),
        Route("/table", pages.lights.page),
        Route("/cut/start", pages.lights.start, methods=["POST"]),
        Route("/table/start", pages.lights.start, methods=["POST"]),
        Route("/table/look/{name}", pages.lights.look),
        Route("/table/photograph", pages.lights.photographs.bring, methods=["POST"]),
        Route("/table/photograph/{file}", pages.lights.photographs.picture),
        Route("/cut/photograph", pages.lights.cloth.bring, methods=["POST"]),
        Route("/cut/photograph/seen.jpg", pages.lights.cloth.picture),
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
