"""The list of jobs, and a job in its form."""

from __future__ import annotations

from pathlib import Path

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from jobs.io.log import FileRefused
from jobs.model.records import dataclass
from projector.page.form.blank import examples
from projector.page.places.job import whole_sections
from projector.page.server.answers.shared import Answers, sent_form
from projector.page.server.folder import NoSuchName
from projector.page.server.job_topic import JobTopic
from projector.page.server.thumbs import Thumbs
from projector.page.server.uploads import MOST_JOB_BYTES, TooLarge, body_of
from projector.page.server.workshop import Workshop, title_of
from projector.words.wording import file_lines


@dataclass(frozen=True)
class Unsaved:
    """Unsaved work of last time, as the list shows it."""

    job: str
    title: str
    file: str


class JobPages(Answers):
    """Jobs begun, opened, brought in, gone on with and shown."""

    def __init__(self, workshop: Workshop) -> None:
        super().__init__(workshop)
        self.thumbs = Thumbs(workshop.folder)

    async def jobs(self, request: Request) -> Response:
        unsaved = [
            Unsaved(job, title_of(draft.text), Path(draft.path).name if draft.path else "")
            for job, draft in self.workshop.unsaved()
        ]
        folder = self.workshop.folder
        return self.page(
            "jobs.html", "jobs", "/", jobs=folder.jobs(), examples=list(examples()), unsaved=unsaved,
            folder=folder.path.name or str(folder.path),
        )  # fmt: skip

    async def begin(self, request: Request) -> Response:
        form = await sent_form(request)
        try:
            return _to(self.workshop.begin(form.get("unit", "")))
        except ValueError:
            return self.lost()

    async def example(self, request: Request) -> Response:
        try:
            return _to(self.workshop.example((await sent_form(request)).get("title", "")))
        except KeyError:
            return self.lost()

    async def draft(self, request: Request) -> Response:
        """Unsaved work of last time: gone on with, or dropped."""
        job, form = request.path_params["job"], await sent_form(request)
        if form.get("do") == "drop":
            self.workshop.forget(job)
            return RedirectResponse("/", 303)
        try:
            return _to(self.workshop.go_on(job))
        except KeyError:
            return self.lost()

    async def open(self, request: Request) -> Response:
        try:
            return _to(self.workshop.open_file(request.path_params["name"]))
        except NoSuchName:
            return self.lost()
        except FileRefused as refused:
            return self.page("refused.html", "jobs", "", lines=file_lines(refused), status=409)

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
            return self.lost()
        return JSONResponse({"svg": look.svg, "far": look.far})

    async def look_at_draft(self, request: Request) -> Response:
        """The picture of unsaved work of last time."""
        draft = self.workshop.drafts.left().get(request.path_params["job"])
        if draft is None:
            return self.lost()
        look = await self.thumbs.of_text(request.path_params["job"], draft.text)
        return JSONResponse({"svg": look.svg, "far": ""})

    async def job(self, request: Request) -> Response:
        topic = self.topic(request)
        if topic is None:
            return self.lost()
        parts = topic.parts()
        whole = whole_sections(topic.job, parts)
        return self.page("job.html", "job", f"/job/{topic.job.name}", job=topic.job, parts=parts, sections=whole)


def _to(topic: JobTopic) -> Response:
    return RedirectResponse(f"/job/{topic.job.name}", 303)
