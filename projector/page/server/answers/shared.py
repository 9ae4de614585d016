"""What every answer needs: the job that is asked for, a page around what is shown, what was sent."""

from __future__ import annotations

import json
from typing import Any

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from projector.page.places.templates import rendered
from projector.page.server.job_topic import JobTopic
from projector.page.server.uploads import TooLarge, body_of
from projector.page.server.workshop import Workshop


class Answers:
    """Answers, each a function of the request and of what the workshop holds."""

    def __init__(self, workshop: Workshop) -> None:
        self.workshop = workshop

    def topic(self, request: Request) -> JobTopic | None:
        """The open job of the request; unsaved work of a server that is no more is gone on with."""
        return self.open_job(request.path_params["job"])

    def open_job(self, name: str) -> JobTopic | None:
        if name not in self.workshop.jobs and name in self.workshop.drafts.left():
            return self.workshop.go_on(name)
        if name in self.workshop.jobs:
            # The job that was looked at last is the one that is offered first elsewhere.
            self.workshop.jobs[name] = self.workshop.jobs.pop(name)
        return self.workshop.jobs.get(name)

    def page(self, template: str, place: str, at: str, status: int = 200, **values: Any) -> Response:
        job = at.removeprefix("/job/").split("/")[0] if at.startswith("/job/") else ""
        places = self.workshop.places(job)
        return HTMLResponse(rendered(template, place=place, at=at, places=places, **values), status)

    def lost(self) -> Response:
        return self.page("lost.html", "jobs", "", status=404)


async def sent_json(request: Request) -> dict[str, Any]:
    """What was sent as JSON; nothing where it is none or too large."""
    try:
        found = json.loads(await body_of(request, 20_000))
    except (TooLarge, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


async def sent_form(request: Request) -> dict[str, str]:
    """The fields of a form that was sent; none where it is no form or too large."""
    from urllib.parse import parse_qsl

    try:
        return dict(parse_qsl((await body_of(request, 10_000)).decode("utf-8", "replace")))
    except TooLarge:
        return {}
