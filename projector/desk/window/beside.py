"""What comes of the job, asked for a moment after each change and shown beside the form as the answers come."""

from __future__ import annotations

import tkinter as tk

from jobs.model.problems import Path
from projector.desk.reckoning.answers import Asked
from projector.desk.reckoning.reckoner import Reckoner
from projector.desk.window.later import Later
from projector.desk.window.results import Results
from projector.page.form.complaints import Complaints
from projector.page.form.values import Values

RECKON_AFTER_MS, HEAR_EVERY_MS, ROOM_AFTER_MS = 180, 40, 400


class Beside:
    """Keeps order and pictures in step with the form, in the room there is."""

    def __init__(self, root: tk.Misc, results: Results) -> None:
        self._root, self._results = root, results
        self._look, self._cut = Reckoner(), Reckoner()
        self._later = Later(root)
        self._text, self._folder, self._window, self._sound = "", "", 0, False
        self._names: list[str] = []
        self._room = (0, 0)
        results.on_room(lambda: self._later.do("room", ROOM_AFTER_MS, self._for_room))
        self._hear()

    @property
    def busy(self) -> bool:
        """Whether something is still being reckoned."""
        return self._look.busy or self._cut.busy

    def stop(self) -> None:
        """End a long search with the best that was found so far."""
        self._cut.stop()

    def close(self) -> None:
        """End the processes."""
        self._look.close()
        self._cut.close()

    def begin(self) -> None:
        """Another job: its first window is seen."""
        self._window = 0

    def show(self, text: str, folder: str, values: Values, complaints: Complaints) -> None:
        """The form shows this job now; its file is in the folder."""
        changed, self._text, self._folder = (text, folder) != (self._text, self._folder), text, folder
        self._sound = complaints.job is not None
        self._names = [values.text(("windows", number, "name")) for number in range(values.count(("windows",)))]
        self._results.windows(self._names, self._window)
        self._results.mend(complaints, values)
        if changed:
            self.soon()

    def entered(self, path: Path) -> None:
        """A field of this group was entered: of a window, that one is seen as it hangs."""
        if path[:1] == ("windows",) and len(path) > 1 and isinstance(path[1], int):
            self.look_at(path[1])

    def look_at(self, window: int) -> None:
        """See this window, counted from 0, as it hangs."""
        if window != self._window:
            self._window = window
            self._results.windows(self._names, window)
            self._later.do("look", RECKON_AFTER_MS, self._ask_look)

    def soon(self) -> None:
        """Reckon anew in a moment; not while something has to be mended."""
        if self._sound:
            self._results.waiting()
            self._later.do("reckon", RECKON_AFTER_MS, self._ask)
        else:
            for reckoner in (self._look, self._cut):
                reckoner.forget()
            self._later.cancel("reckon")

    def _ask(self) -> None:
        self._ask_look()
        if self._sound:
            self._cut.ask(Asked(0, self._text, *self._room, part="cut", folder=self._folder))

    def _ask_look(self) -> None:
        if self._sound:
            self._room = self._results.room_px
            window = max(0, min(self._window, len(self._names) - 1))
            self._look.ask(Asked(0, self._text, *self._room, window, "look", self._folder))

    def _for_room(self) -> None:
        if self._text and self._results.room_px != self._room:
            self._ask_look()

    def _hear(self) -> None:
        for reckoner in (self._look, self._cut):
            for answer in reckoner.heard():
                self._results.take(answer)
        self._root.after(HEAR_EVERY_MS, self._hear)
