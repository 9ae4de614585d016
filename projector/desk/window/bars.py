"""What can be done, as buttons above the form, and the line below that says how things stand; keys for both."""

from __future__ import annotations

import tkinter as tk
from tkinter import ttk
from typing import TYPE_CHECKING

from projector.desk.window.dialogs import tell
from projector.desk.window.flow import Flow
from projector.page.form.pages import PAGES, fields_shown

if TYPE_CHECKING:
    from projector.desk.window.desk import Desk

KEYS = (
    ("Ctrl N, Ctrl O, Ctrl S", "new job, open a job, save"),
    ("Ctrl Z, Ctrl Y", "take the last change back, make it again"),
    ("Ctrl R", "the job as it was when it was opened or saved; Ctrl Z takes that back"),
    ("Ctrl Page Down, Ctrl Page Up", "next page of the form, the one before"),
    ("Ctrl +, Ctrl -, Ctrl 0", "larger letters, smaller ones, as at first"),
    ("Tab, Shift Tab", "next field, the one before"),
    ("Ctrl Q", "leave; unsaved work is asked about"),
    ("F5", "practise cutting on the simulated table"),
    ("F1", "this list"),
)


class Bars:
    """The bars of the window."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        root = desk.root
        self._top = Flow(root, padding=0)
        self._pages = Flow(root)
        self._said = tk.StringVar(root)
        self._bottom = ttk.Label(root, textvariable=self._said, padding=(12, 5), anchor="w")
        filing, work = desk.filing, desk.tablework
        self._of_job: list[ttk.Button] = []
        self._button("New", filing.new, always=True)
        self._button("Open", filing.browse, always=True)
        self._button("Save", filing.save)
        self._undo = self._button("Undo", lambda: desk.change(lambda document: document.undone()))
        self._button("Calibrate", work.calibrate, always=True)
        self._button("Practise", work.practise)
        self._button("Cut", work.cut, style="Main.TButton")
        self._button("Cut sheet", work.sheet)
        self._button("Picture", work.picture)
        self._button("Copy order", work.copy_order)
        self._button("?", self.help, always=True)
        self._tabs = [ttk.Button(self._pages, style="Toolbutton") for _ in PAGES]
        for section, tab in zip(PAGES, self._tabs, strict=True):
            tab.configure(command=lambda section=section: desk.turn_to(section))  # type: ignore[misc]
            self._pages.add(tab)
        self._bind()

    def grid(self) -> None:
        """Put the bars into the window."""
        self._top.grid(row=0, column=0, sticky="we", padx=10, pady=(8, 4))
        self._bottom.grid(row=3, column=0, sticky="we")

    def say(self, words: str) -> None:
        """Say something in the line below."""
        self._said.set(words)

    def refresh(self) -> None:
        """Show which page is open, where something is to be mended, and whether the job is saved."""
        desk, document = self._desk, self._desk.document
        for button in self._of_job:
            button.state(["!disabled" if document is not None else "disabled"])
        self._undo.state(["!disabled" if document is not None and document.before else "disabled"])
        if document is None:
            self._pages.grid_forget()
            self.say("No job is open.")
            return
        self._pages.grid(row=1, column=0, sticky="we", padx=10)
        shown = fields_shown(desk.values)
        for number, (section, tab) in enumerate(zip(PAGES, self._tabs, strict=True), 1):
            wrong = sum(shown[path][0] is section for path in desk.complaints.beside)
            mark = f" \u2716{wrong}" if wrong else ""
            style = "Chosen.Toolbutton" if section is desk.section else "Toolbutton"
            tab.configure(text=f"{number} {section.title}{mark}", style=style)
        self._pages.again()
        name = document.path.name if document.path else "not in a file yet"
        state = "changed, not saved" if document.changed else "saved"
        rewritten = "; its layout could not be kept, so save it under another name" if document.rewritten else ""
        self.say(f"{desk.values.text(('job',)) or 'A job without a name'}: {name}, {state}{rewritten}")
        desk.root.title(f"{'* ' if document.changed else ''}{desk.values.text(('job',))} - lightchalk")

    def help(self) -> None:
        """The keys of the window."""
        tell(self._desk.root, self._desk.look, "Keys", [f"{keys}: {what}" for keys, what in KEYS])

    def _button(self, text: str, command: object, *, always: bool = False, style: str = "TButton") -> ttk.Button:
        button = ttk.Button(self._top, text=text, command=command, style=style)  # type: ignore[arg-type]
        self._top.add(button)
        if not always:
            self._of_job.append(button)
        return button

    def _bind(self) -> None:
        desk, root = self._desk, self._desk.root
        mac = root.tk.call("tk", "windowingsystem") == "aqua"
        for keys, what in (
            ("<Control-n>", desk.filing.new),
            ("<Control-o>", desk.filing.browse),
            ("<Control-s>", desk.filing.save),
            ("<Control-z>", lambda: desk.change(lambda document: document.undone())),
            ("<Control-y>", lambda: desk.change(lambda document: document.redone())),
            ("<Control-Z>", lambda: desk.change(lambda document: document.redone())),
            ("<Control-r>", lambda: desk.change(lambda document: document.reverted())),
            ("<Control-Next>", lambda: desk.turn(1)),
            ("<Control-Prior>", lambda: desk.turn(-1)),
            ("<Control-plus>", lambda: desk.scale(1)),
            ("<Control-equal>", lambda: desk.scale(1)),
            ("<Control-KP_Add>", lambda: desk.scale(1)),
            ("<Control-minus>", lambda: desk.scale(-1)),
            ("<Control-KP_Subtract>", lambda: desk.scale(-1)),
            ("<Control-0>", lambda: desk.scale(14 - desk.look.size)),
            ("<Control-q>", desk.close),
            ("<F5>", desk.tablework.practise),
            ("<F1>", self.help),
        ):
            root.bind(keys, lambda _, what=what: _done(what))  # type: ignore[misc]
            if mac and "Control" in keys:
                root.bind(keys.replace("Control", "Command"), lambda _, what=what: _done(what))  # type: ignore[misc]
        root.bind_class("TButton", "<Return>", lambda event: event.widget.invoke())  # type: ignore[attr-defined]
        root.protocol("WM_DELETE_WINDOW", desk.close)


def _done(what: object) -> str:
    what()  # type: ignore[operator]
    return "break"
