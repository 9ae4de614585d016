"""All that one server holds: its folder, the jobs that are open, who listens, and when it may end."""

from __future__ import annotations

import asyncio
import secrets
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from jobs.io.log import FileRefused
from jobs.io.source import read_text
from projector.page.form.blank import blank_job, examples
from projector.page.form.document import Document
from projector.page.form.open_job import OpenJob, opened
from projector.page.form.values import values_of
from projector.page.kept import Draft, Drafts, Settings
from projector.page.server.folder import Folder
from projector.page.server.job_topic import JobTopic
from projector.page.server.live import Asked, Listener, Message, Topic

MOST_OPEN = 200
"""Jobs that are open at once; the ones nobody looks at and that are saved make way."""


class JobsTopic:
    """The list of jobs: pages that show it are only known to be open."""

    def __init__(self) -> None:
        self.listeners: list[Listener] = []
        self.asked = Asked()

    def joined(self, listener: Listener) -> None:
        """Nothing is told: the list is loaded as a whole."""

    def gone(self, listener: Listener) -> None:
        """Nothing hangs on it."""

    def take(self, listener: Listener, asked: Mapping[str, Any]) -> Message:
        """Nothing can be asked of the list."""
        return {}


class Workshop:
    """The jobs of one folder, open or not. ``state`` is where unsaved work and small things are remembered."""

    def __init__(self, folder: Path, state: Path) -> None:
        self.folder, self.state = Folder(folder), state
        self.drafts, self.settings = Drafts(state), Settings(state)
        self.jobs: dict[str, JobTopic] = {}
        self.list = JobsTopic()
        self.is_at_the_table: Callable[[], bool] = lambda: False

    @property
    def is_used(self) -> bool:
        """Whether a page is open, a light is on or something is not saved."""
        topics: list[Topic] = [self.list, *self.jobs.values()]
        return (
            self.is_at_the_table()
            or any(topic.listeners for topic in topics)
            or any(one.job.unsaved for one in self.jobs.values())
        )

    def places(self, job: str = "", *, own: bool = True) -> list[tuple[str, str, str]]:
        """The places a page may go to: name, what it is called, address. A phone has the light and the table alone."""
        light = [("table", "Table", "/table"), ("cut", "Cut", "/cut")]
        if not own:
            return light
        open_now = job or next(reversed(self.jobs), "")
        of_job = (("job", "Job", ""), ("print", "Print", "/print"), ("papers", "Papers", "/papers"))
        mine = [(name, label, f"/job/{open_now}{end}") for name, label, end in of_job] if open_now else []
        return [("jobs", "Jobs", "/"), *mine, *light]

    def begin(self, unit: str) -> JobTopic:
        """A new job in this unit. Raises ValueError for a unit that is none."""
        from jobs.model.choices import Unit

        return self._open(Document(blank_job(Unit(unit))))

    def example(self, title: str) -> JobTopic:
        """An example, to be looked at and changed. Raises KeyError."""
        return self._open(Document(examples()[title]))

    def open_file(self, name: str) -> JobTopic:
        """The job of this file, opened if it is not. Raises NoSuchName, and FileRefused where no form can show it."""
        path = self.folder.there(name)
        for topic in self.jobs.values():
            if topic.job.file == path:
                return topic
        text = read_text(path)
        values_of(text)
        return self._open(Document(text, path, text))

    def go_on(self, job: str) -> JobTopic:
        """Unsaved work of last time, gone on with. Raises KeyError."""
        draft = self.drafts.left()[job]
        self.drafts.take(job)
        topic = self._add(opened(job, draft))
        topic.changed()
        return topic

    def unsaved(self) -> list[tuple[str, Draft]]:
        """What was not saved last time."""
        return list(self.drafts.left().items())

    def forget(self, job: str) -> None:
        """Unsaved work of last time that nobody wants any more."""
        self.drafts.take(job)

    def _open(self, document: Document) -> JobTopic:
        return self._add(OpenJob(secrets.token_hex(4), document))

    def _add(self, job: OpenJob) -> JobTopic:
        for name, topic in list(self.jobs.items()):
            if len(self.jobs) >= MOST_OPEN and not topic.listeners and not topic.job.unsaved:
                self.jobs.pop(name).end()
        topic = self.jobs[job.name] = JobTopic(job, self.folder, self.drafts)
        return topic

    def close(self) -> None:
        """The server ends."""
        for topic in self.jobs.values():
            topic.end()
        self.drafts.close()


def title_of(text: str) -> str:
    """What the job of this text is called."""
    try:
        return values_of(text).text(("job",)).strip() or "A job without a name"
    except FileRefused:
        return "A job"


async def until_unused(workshop: Workshop, after_s: float, look_every_s: float = 5.0) -> None:
    """Returns when pages were open and none has been for so long."""
    seen, quiet_s = False, 0.0
    while quiet_s < after_s:
        await asyncio.sleep(look_every_s)
        used = workshop.is_used
        seen = seen or used
        quiet_s = 0.0 if used or not seen else quiet_s + look_every_s
