"""A list of which one line is chosen by a click or the arrow keys."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from tkinter import ttk

from projector.desk.window.look import ACTIVE, INK, LINE, SHEET

MOST_LINES = 6


class Listed:
    """Shows the lines and which one is chosen."""

    def __init__(self, parent: tk.Misc, count: int, on: Callable[[int], None]) -> None:
        self.frame = ttk.Frame(parent)
        self._list = tk.Listbox(
            self.frame,
            height=min(MOST_LINES, count),
            exportselection=False,
            activestyle="dotbox",
            font="TkDefaultFont",
            background=SHEET,
            foreground=INK,
            selectbackground=ACTIVE,
            selectforeground=INK,
            highlightthickness=1,
            highlightbackground=LINE,
            relief="flat",
        )
        bar = ttk.Scrollbar(self.frame, orient="vertical", command=self._list.yview)
        self._list.configure(yscrollcommand=bar.set)
        self._list.grid(row=0, column=0, sticky="we")
        self.frame.columnconfigure(0, weight=1)
        if count > MOST_LINES:
            bar.grid(row=0, column=1, sticky="ns")
        self._shown: list[str] = []
        self._list.bind("<<ListboxSelect>>", lambda _: self._selected(on))

    def show(self, lines: list[str], chosen: int) -> None:
        """Show these lines."""
        if lines != self._shown:
            self._list.delete(0, "end")
            self._list.insert("end", *lines)
            self._shown = lines
            self._list.see(chosen)
        if self._list.curselection() != (chosen,):
            self._list.selection_clear(0, "end")
            self._list.selection_set(chosen)
            self._list.activate(chosen)

    def focus(self) -> None:
        """Let the arrow keys go through the list."""
        self._list.focus_set()

    def _selected(self, on: Callable[[int], None]) -> None:
        chosen = self._list.curselection()
        if chosen:
            on(chosen[0])
