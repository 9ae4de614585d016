"""The main window: the form at the left, what comes of it at the right, and what can be done above."""

from __future__ import annotations

import time
import tkinter as tk
from collections.abc import Callable
from tkinter import ttk

from jobs.io.editing import CannotEdit
from jobs.model.problems import Path
from projector.desk.window.bars import Bars
from projector.desk.window.beside import Beside
from projector.desk.window.filing import Filing
from projector.desk.window.flow import Flow
from projector.desk.window.later import Later
from projector.desk.window.look import USUAL, Look
from projector.desk.window.page import Page
from projector.desk.window.photo import PhotoDialog
from projector.desk.window.results import Results
from projector.desk.window.start import Start
from projector.desk.window.tablework import Tablework
from projector.desk.window.units import ask_about_units
from projector.page.form import changes, plainness
from projector.page.form.complaints import Complaints, complaints
from projector.page.form.document import Document
from projector.page.form.field import Field, Group, Kind, Section, Switch
from projector.page.form.pages import PAGES, fields_shown
from projector.page.form.values import Values, values_of
from projector.page.kept import Drafts, Settings, state_folder

PAUSE_S = 2.0
"""After so long without a key, what is typed next is a step of its own."""
KEEP_AFTER_MS = 700


class Desk:
    """One job in one window. The text of the job is the only state; all that is shown follows from it."""

    def __init__(self, root: tk.Tk) -> None:
        self.root = root
        self.settings, self.drafts = Settings(state_folder()), Drafts(state_folder())
        self.look = Look(root, self.settings.number("letters", USUAL))
        self.document: Document | None = None
        self.values, self.complaints = Values(), Complaints()
        self.section: Section = PAGES[0]
        self._typed_at = 0.0
        self._later = Later(root)
        self.filing, self.tablework = Filing(self), Tablework(self)
        self.bars = Bars(self)
        self._middle = ttk.Frame(root)
        self._start = Start(self._middle, self.look)
        self._panes = ttk.PanedWindow(self._middle, orient="horizontal")
        self._page = Page(self._panes, self.look, self, self._extras)
        self.results = Results(self._panes, self.look, self.go_to, self.removed)
        self._panes.add(self._page.scrolled, weight=1)
        self._panes.add(self.results.frame, weight=1)
        self.bars.grid()
        self._middle.grid(row=2, column=0, sticky="nsew")
        self._middle.rowconfigure(0, weight=1)
        self._middle.columnconfigure(0, weight=1)
        root.rowconfigure(2, weight=1)
        root.columnconfigure(0, weight=1)
        self.beside = Beside(root, self.results)
        self.results.on(self.beside.look_at, self.beside.stop)

    # What the pages ask for.

    def typed(self, path: Path, field: Field, value: str) -> None:
        """A value was typed or chosen."""
        if path == ("units",):
            self._units(value)
            return
        self.beside.entered(path)
        now = time.monotonic()
        paused, self._typed_at = now - self._typed_at > PAUSE_S, now
        if field.kind is Kind.FILE:
            value = self.filing.from_the_job(value)
        self.change(
            lambda document: document.typed(path, value, needed=field.needed, paused=paused, listed=field.listed)
        )

    def entered(self, path: Path) -> None:
        """A field of this group was entered."""
        self.beside.entered(path)

    def left(self) -> None:
        """A field was left: what comes next is another step."""
        if self.document is not None:
            self.document = self.document.left_field()

    def switched(self, group: Path, switch: Switch, answer: str) -> None:
        """A switch was thrown."""
        self.beside.entered(group)
        if switch.name == "patterned":
            step = plainness.made_patterned if answer == "yes" else plainness.made_plain
            if (answer == "yes") != self.values.patterned:
                self.change(lambda document: document.done(step))
        else:
            self.change(
                lambda document: document.done(lambda t, aside: changes.switched(t, group, switch, answer, aside))
            )

    def added(self, group: Group, path: Path) -> None:
        """An item was added to a list."""
        name = changes.other_name(self.values, "Window") if group.thing == "window" else ""
        self.change(lambda document: document.done(lambda text, _: changes.with_item(text, group, path, name)))
        number = self.values.count(path) - 1
        key = next(item.key for item in group.items if isinstance(item, Field))
        self._page.enter((*path, number, *key))

    def copied(self, path: Path) -> None:
        """A list item was copied to the end of its list."""
        name = changes.other_name(self.values, self.values.text((*path, "name")) or "Window")
        self.change(lambda document: document.done(lambda text, _: changes.with_copy(text, path, name)))
        self._page.enter((*path[:-1], self.values.count(path[:-1]) - 1, "name"))

    def removed(self, path: Path) -> None:
        """A list item or a key was taken out; undo brings it back."""
        self.change(lambda document: document.done(lambda text, _: changes.without(text, path)))

    # What happens to the document.

    def change(self, how: Callable[[Document], Document]) -> None:
        """Make a change of the document and show what follows from it."""
        if self.document is None:
            return
        try:
            self.show(how(self.document))
        except CannotEdit as refused:
            self.bars.say(f"\u2716 {refused}.")

    def begin(self, document: Document) -> None:
        """Show another job, from its first page."""
        self.section = PAGES[0]
        self.beside.begin()
        self._page.begin()
        self._page.anew()
        self._start.scrolled.grid_forget()
        self._panes.grid(row=0, column=0, sticky="nsew")
        self.root.update_idletasks()
        self._panes.sashpos(0, round(self._panes.winfo_width() * 0.52))
        self.show(document)
        self._page.enter(("job",))

    def welcome(self) -> None:
        """Show the first page."""
        self._panes.grid_forget()
        self._start.show(self.filing.offers())
        self._start.scrolled.grid(row=0, column=0, sticky="nsew")
        self.bars.refresh()

    def show(self, document: Document) -> None:
        """Show the document as it is now, and reckon it soon."""
        changed = self.document is None or document.text != self.document.text
        self.document = document
        self.values, self.complaints = values_of(document.text), complaints(document.text)
        self._page.show(self.section, self.values, self.complaints)
        folder = str(document.path.parent) if document.path else ""
        self.beside.show(document.text, folder, self.values, self.complaints)
        self.bars.refresh()
        if changed:
            self._later.do("keep", KEEP_AFTER_MS, self.filing.keep_draft)

    def go_to(self, path: Path) -> None:
        """Lead to a field, on whichever page it is."""
        found = fields_shown(self.values).get(path)
        if found is not None:
            self.turn_to(found[0])
            self._page.enter(path)

    def turn_to(self, section: Section) -> None:
        """Show another page of the form."""
        self.left()
        self.section = section
        if self.document is not None:
            self.show(self.document)

    def turn(self, by: int) -> None:
        """The next page of the form, or the one before."""
        self.turn_to(PAGES[(PAGES.index(self.section) + by) % len(PAGES)])

    def scale(self, by: int) -> None:
        """Larger or smaller letters."""
        self.look.scale(self.look.size + by)
        self.settings.remember("letters", self.look.size)
        self._page.anew()
        if self.document is not None:
            self.show(self.document)
        else:
            self.welcome()

    def close(self) -> None:
        """Leave; unsaved work is asked about."""
        if self.filing.may_leave():
            self.drafts.drop()
            self.beside.close()
            self.root.destroy()

    def _units(self, word: str) -> None:
        step = ask_about_units(self.root, self.look, self.values, word)
        if step is not None:
            self.change(lambda document: document.done(step))
        elif self.document is not None:
            self.show(self.document)

    def _extras(self, section: Section, inside: tk.Misc, above: bool) -> None:
        """What a page has above and below its fields."""
        flow = Flow(inside)
        if above and section.key == "print" and self.values.patterned:
            flow.add(ttk.Button(flow, text="Measure a photo of the cloth...", command=lambda: PhotoDialog(self).run()))
        elif not above and section is not PAGES[-1]:
            following = PAGES[PAGES.index(section) + 1]
            flow.add(ttk.Button(flow, text=f"Next: {following.title}", command=lambda: self.turn(1)))
        else:
            flow.destroy()
            return
        flow.grid(sticky="we", pady=(10, 0) if above else (18, 0))
