"""A page of the form: its groups from top to bottom, built anew only when other fields are to be shown."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from tkinter import ttk
from typing import Protocol

from jobs.model.problems import Path
from projector.desk.window.flow import Flow
from projector.desk.window.listed import Listed
from projector.desk.window.look import Look
from projector.desk.window.rows import AnyRow, ChosenRow, row_of
from projector.desk.window.scrolled import Scrolled
from projector.page.form.choosing import Choosing, Part, one_at_a_time
from projector.page.form.complaints import Complaints
from projector.page.form.field import Field, Group, Item, Section, Switch
from projector.page.form.implied import told_or_implied
from projector.page.form.pages import Adding, Block, shown
from projector.page.form.values import Values


class Changes(Protocol):
    """What a page asks of the window when the person does something."""

    def typed(self, path: Path, field: Field, value: str) -> None: ...

    def left(self) -> None: ...

    def entered(self, path: Path) -> None: ...

    def switched(self, group: Path, switch: Switch, answer: str) -> None: ...

    def added(self, group: Group, path: Path) -> None: ...

    def copied(self, path: Path) -> None: ...

    def removed(self, path: Path) -> None: ...


Extras = Callable[[Section, tk.Misc, bool], None]
"""What a page has besides its fields: section, where to put it, whether above them."""


class Page:
    """One section on a scrolled page."""

    def __init__(self, parent: tk.Misc, look: Look, changes: Changes, extras: Extras) -> None:
        self.scrolled = Scrolled(parent)
        self._look, self._changes, self._extras = look, changes, extras
        self._rows: dict[Path, AnyRow] = {}
        self._switches: list[tuple[Switch, Path, ChosenRow]] = []
        self._built: object = None
        self._choices: tuple[str, ...] = ()
        self._chosen: dict[Path, int] = {}
        self._lists: list[tuple[Choosing, Listed]] = []
        self._last: tuple[Section, Values, Complaints] | None = None

    def show(self, section: Section, values: Values, complaints: Complaints) -> None:
        """Show the section for what the file says now."""
        parts = one_at_a_time(shown(section, values), values, self._chosen)
        self._last = section, values, complaints
        signature = (section.key, values.unit, self._names(values), [_identity(part) for part in parts])
        if signature != self._built:
            self._build(section, parts, values)
            self._built = signature
        for path, row in self._rows.items():
            row.show(told_or_implied(values, path))
            row.complain(complaints.beside.get(path, ""))
        for switch, group, row in self._switches:
            row.show(switch.now(values, group))
        for choosing, listed in self._lists:
            listed.show(choosing.labels(values, complaints), choosing.chosen)

    def _names(self, values: Values) -> tuple[str, ...]:
        """Names of windows to choose from; while one is being typed the page is not built anew at every key."""
        focused = self.focused()
        if focused is None or focused[-1] != "name":
            self._choices = tuple(values.names_of_windows())
        return self._choices

    def begin(self) -> None:
        """Another job: the first items of long lists are shown."""
        self._chosen = {}

    def choose(self, path: Path) -> None:
        """Show the items of long lists that this path goes through."""
        for depth in range(1, len(path)):
            number = path[depth]
            if isinstance(number, int):
                self._chosen[path[:depth]] = number
        if self._last is not None:
            self.show(*self._last)

    def anew(self) -> None:
        """Build the page again at the next showing."""
        self._built = None

    def enter(self, path: Path) -> bool:
        """Put the cursor into this field; whether it is on the page."""
        if path not in self._rows:
            self.choose(path)
        row = self._rows.get(path)
        if row is None:
            return False
        row.entry.focus_set()
        self.scrolled.show(row.frame)
        return True

    def focused(self) -> Path | None:
        """The field the cursor is in."""
        try:
            at = self.scrolled.focus_get()
        except KeyError:  # a list that dropped down has the focus
            return None
        return next((path for path, row in self._rows.items() if at is row.entry), None)

    def _build(self, section: Section, parts: list[Part], values: Values) -> None:
        focused, same_page = self.focused(), isinstance(self._built, tuple) and self._built[0] == section.key
        inside = self.scrolled.inside
        for child in inside.winfo_children():
            child.destroy()
        self._rows, self._switches, self._lists = {}, [], []
        inside.columnconfigure(0, weight=1)
        intro = ttk.Label(inside, text=section.intro, justify="left")
        intro.grid(sticky="we")
        intro.bind("<Configure>", lambda event: intro.configure(wraplength=event.width - 4))
        self._extras(section, inside, True)
        for part in parts:
            if isinstance(part, Block):
                self._block(inside, part, values)
            elif isinstance(part, Choosing):
                self._choosing(inside, part)
            else:
                self._adding(inside, part)
        self._extras(section, inside, False)
        self.scrolled.follow()
        if not same_page:
            self.scrolled.to_top()
        elif focused is not None:
            self.enter(focused)

    def _block(self, inside: tk.Misc, block: Block, values: Values) -> None:
        head = ttk.Frame(inside)
        head.grid(sticky="we", pady=(14, 2), padx=(24 * block.depth, 0))
        head.columnconfigure(0, weight=1)
        ttk.Label(head, text=block.heading, style="Heading.TLabel").grid(sticky="w")
        if block.number is not None:
            self._item_buttons(head, block, values)
        ttk.Separator(inside).grid(sticky="we", padx=(24 * block.depth, 0))
        for item in block.items:
            row = self._row(inside, block, item, values)
            row.frame.grid(sticky="we", padx=(24 * block.depth, 0))

    def _row(self, inside: tk.Misc, block: Block, item: Item, values: Values) -> AnyRow:
        others = [name for name in values.names_of_windows() if name != values.text((*block.path, "name"))]

        def on(value: str) -> None:
            if isinstance(item, Switch):
                self._changes.switched(block.path, item, value)
            else:
                self._changes.typed(block.path_of(item), item, value)

        row = row_of(inside, self._look, item, values.unit.value, others, on, self._changes.left)
        if isinstance(item, Switch):
            assert isinstance(row, ChosenRow)
            self._switches.append((item, block.path, row))
        else:
            self._rows[block.path_of(item)] = row
        row.entry.bind("<FocusIn>", lambda _: self._changes.entered(block.path), add=True)
        return row

    def _item_buttons(self, head: ttk.Frame, block: Block, values: Values) -> None:
        path, thing = block.path, block.group.thing
        flow = Flow(head)
        flow.grid(sticky="we", pady=(2, 4))
        if thing == "window":
            flow.add(ttk.Button(flow, text="Copy it", command=lambda: self._changes.copied(path)))
        remove = ttk.Button(flow, text=f"Take {thing} out", command=lambda: self._changes.removed(path))
        flow.add(remove)
        if values.count(path[:-1]) <= block.group.least:
            remove.state(["disabled"])

    def _choosing(self, inside: tk.Misc, part: Choosing) -> None:
        def choose(number: int) -> None:
            self.choose((*part.path, number, ""))
            self._changes.entered((*part.path, number))
            for choosing, anew in self._lists:
                if choosing.path == part.path:
                    anew.focus()

        listed = Listed(inside, part.count, choose)
        listed.frame.grid(sticky="we", pady=(12, 0), padx=(24 * part.depth, 0))
        self._lists.append((part, listed))

    def _adding(self, inside: tk.Misc, part: Adding) -> None:
        flow = Flow(inside)
        flow.grid(sticky="we", pady=(12, 4), padx=(24 * part.depth, 0))
        words = f"Add a {part.group.thing}"
        flow.add(ttk.Button(flow, text=words, command=lambda: self._changes.added(part.group, part.path)))


def _identity(part: Part) -> object:
    if isinstance(part, Adding):
        return part.path
    if isinstance(part, Choosing):
        return part.path, part.count, part.chosen
    return (part.path, part.heading, tuple(item.label for item in part.items))
