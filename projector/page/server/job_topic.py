"""A job as pages see it: parts of the page that have changed are told to all of them, with what is worked out."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import Any

from jobs.io.editing import Edit
from projector.files.write import CannotWrite
from projector.page.form.open_job import OpenJob, Refused, Way
from projector.page.kept import Drafts
from projector.page.places.job import Results, job_parts
from projector.page.server.folder import Folder, NoSuchName
from projector.page.server.live import Asked, Listener, Message
from projector.page.server.photographs import Photograph
from projector.page.work.asked import HOUSE
from projector.page.work.asked import Asked as Wanted
from projector.page.work.reckoner import Reckoner

REST_AFTER_S = 20.0
"""The process that works a job out is ended when no page has looked at the job for so long."""


class JobTopic:
    """One open job with the pages that look at it."""

    def __init__(self, job: OpenJob, folder: Folder, drafts: Drafts) -> None:
        self.job, self.folder, self.drafts = job, folder, drafts
        self.listeners: list[Listener] = []
        self.asked = Asked()
        self.results = Results()
        self.trouble = ""
        self.photograph: Photograph | None = None
        self._reckoner: Reckoner | None = None
        self._worked_out: tuple[str, str] | None = None
        self._parts: dict[str, str] = {}
        self._rest: asyncio.TimerHandle | None = None
        self._memo: dict[str, tuple[object, str]] = {}

    def parts(self, window: int = 0) -> dict[str, str]:
        """Every part of the page as it is now, for a page that looks at this window."""
        return job_parts(self.job, self.results, window, self.trouble, self._memo)

    def joined(self, listener: Listener) -> None:
        if self._rest is not None:
            self._rest.cancel()
            self._rest = None
        listener.tell_parts(self.job.version, self.parts(listener.window))
        self._work_out()

    def gone(self, listener: Listener) -> None:
        if not self.listeners:
            self._rest = asyncio.get_running_loop().call_later(REST_AFTER_S, self.close)

    def close(self) -> None:
        """Nobody looks at it: the process that works it out is ended."""
        if self._reckoner is not None:
            self._reckoner.close()
            self._reckoner = None
            self._worked_out = None

    def end(self) -> None:
        """The job is closed."""
        self.close()
        if self.photograph is not None:
            self.photograph.close()

    def take(self, listener: Listener, asked: Mapping[str, Any]) -> Message:
        try:
            match asked.get("do"):
                case "look":
                    return self._look(listener, asked)
                case "stop":
                    if self._reckoner is not None:
                        self._reckoner.stop()
                    return {}
                case "save":
                    return self._save(asked)
            answer = self.job.take(listener.page, asked)
        except Refused as refused:
            answer = {"say": str(refused), "bad": True}
        self.changed(listener.page, force=bool(answer.get("force")))
        return answer

    def changed(self, page: str = "", *, force: bool = False) -> None:
        """Keep the job, tell all pages what is different now and work it out anew. ``force``: the page that asked
        takes the new text even into the field its cursor is in."""
        # It is worked out in another process while the disk is waited for; nothing is answered before it is kept.
        self._work_out()
        self._keep()
        self.show(page, force=force)

    def show(self, page: str = "", *, force: bool = False) -> None:
        """Tell all pages which parts are different from what was told last."""
        for listener in self.listeners:
            forced = {"force": True} if force and listener.page == page else {}
            listener.tell_parts(self.job.version, self.parts(listener.window), **forced)

    def _look(self, listener: Listener, asked: Mapping[str, Any]) -> Message:
        """The page wants to see another window as it hangs."""
        count = self.job.values.count(("windows",))
        listener.window = max(HOUSE, min(int(asked["value"]), count - 1))
        if listener.window not in self.results.hung:
            self._work_out(look_only=True)
        self.show()
        return {}

    def _save(self, asked: Mapping[str, Any]) -> Message:
        """Write the job into its file, or into a new one in the folder."""
        job, name = self.job, str(asked.get("name") or "")
        here = job.file is not None and not job.document.rewritten
        if not here and not name:
            return {"name": self.folder.free_name(job.title)}
        try:
            path = self.folder.file(_named(name)) if name else job.file
            assert path is not None
            if not asked.get("over") and self._would_overwrite(name, path):
                return {"over": path.name}
            self.folder.write(path.name, job.document.text)
        except NoSuchName:
            return {"say": "A file cannot have this name. Use letters, digits, blanks and dashes.", "bad": True}
        except CannotWrite as fault:
            return {"say": f"It was not saved: {fault.what}; {fault.advice}.", "bad": True}
        job.saved_as(path)
        self.changed()
        return {"say": f"Saved in {path.name}."}

    def _would_overwrite(self, name: str, path: Any) -> bool:
        if name and path != self.job.file:
            return bool(path.exists())
        from jobs.io.log import FileRefused
        from jobs.io.source import read_text

        try:
            return path.exists() and read_text(path) != self.job.document.saved
        except FileRefused:
            return True

    def _keep(self) -> None:
        """Bring what is unsaved to the disk."""
        try:
            if self.job.unsaved:
                self.drafts.keep(self.job.name, self.job.draft)
            else:
                self.drafts.drop(self.job.name)
            self.trouble = ""
        except CannotWrite as fault:
            self.trouble = f"Unsaved work cannot be kept: {fault.what}; {fault.advice}."

    def _work_out(self, *, look_only: bool = False) -> None:
        if self.job.complaints.job is None:
            if self._reckoner is not None:
                self._reckoner.forget()
            self._worked_out = None
            self.results.stale()
            return
        if not self.listeners:
            return
        folder = str(self.job.file.parent if self.job.file else self.folder.path)
        wanted = (self.job.document.text, folder)
        if self._worked_out == wanted and not look_only:
            return
        whole = self._worked_out != wanted or (self._reckoner is not None and self._reckoner.busy)
        if self._worked_out != wanted:
            self.results.stale()
        self._worked_out = wanted
        if self._reckoner is None:
            self._reckoner = Reckoner(self._hear)
        windows = tuple(sorted({one.window for one in self.listeners}))
        file = self.job.file.name if self.job.file is not None and whole else ""
        self._reckoner.ask(Wanted(0, wanted[0], windows, "all" if whole else "look", folder, file))

    def _hear(self, answer: Message) -> None:
        self.results.take(answer)
        if answer["stage"] == "order":
            # Those of windows that nobody looks at would be of the job as it was.
            looked_at = {one.window for one in self.listeners}
            self.job.looks = {number: looks for number, looks in self.job.looks.items() if number in looked_at}
        if answer["stage"] == "looks":
            self.job.looks = {**self.job.looks, answer["window"]: answer["svgs"]}
        if answer["stage"] == "savings":
            self.job.ways = tuple(
                Way(one["saves"], one["sentence"], tuple(_edit(*edit) for edit in one["edits"]))
                for one in answer["ways"]
            )
            self.job.ways_of = self._worked_out[0] if self._worked_out else ""
        self.show()


def _edit(path: list[str | int], value: str | None, after: list[str]) -> Edit:
    return Edit(tuple(path), value, tuple(after))


def _named(name: str) -> str:
    name = name.strip()
    return name if name.lower().endswith((".yaml", ".yml")) else f"{name}.yaml"
