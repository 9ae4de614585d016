"""The print measured from a photograph."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, Response

from projector.page.places.templates import rendered
from projector.page.scale_ways import WAYS
from projector.page.server.answers.shared import Answers, sent_json
from projector.page.server.job_topic import JobTopic
from projector.page.server.photographs import MOST_BYTES, Photograph
from projector.page.server.uploads import TooLarge, body_of


class PrintPages(Answers):
    """A photograph brought in, measured, and what was found put into the job."""

    async def print(self, request: Request) -> Response:
        """The print measured from a photograph."""
        topic = self.topic(request)
        if topic is None:
            return self.lost()
        return self.page("print.html", "print", f"/job/{topic.job.name}", **self._photo(topic))

    def _photo(self, topic: JobTopic) -> dict[str, Any]:
        values = topic.job.values
        width = values.text(("cloth", "width"))
        photograph = topic.photograph
        return {"job": topic.job, "photograph": photograph, "ways": WAYS, "unit": values.unit.value, "width": width}

    async def photo(self, request: Request) -> Response:
        """A photograph brought in."""
        topic = self.topic(request)
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
        topic = self.topic(request)
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
        topic, asked = self.topic(request), await sent_json(request)
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
        topic, asked = self.topic(request), await sent_json(request)
        number = asked.get("answer")
        if topic is None or topic.photograph is None or not isinstance(number, int):
            return JSONResponse({"wrong": "Measure the photograph first."}, 404)
        wrong = topic.photograph.take(topic.job, number, picture=bool(asked.get("picture")))
        topic.changed()
        return JSONResponse({"wrong": wrong} if wrong else {"go": f"/job/{topic.job.name}#s-print"})

    async def seen(self, request: Request) -> Response:
        """A picture of the photograph or of what was found in it."""
        topic = self.topic(request)
        photograph = topic.photograph if topic is not None else None
        path = photograph.picture(request.path_params["name"]) if photograph is not None else None
        return FileResponse(path) if path is not None else Response(status_code=404)
