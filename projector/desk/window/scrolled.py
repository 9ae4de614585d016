"""A page longer than its room: it scrolls by wheel, by its bar, and to whichever field is entered."""

from __future__ import annotations

import tkinter as tk
from tkinter import ttk
from typing import Any

from projector.desk.window.look import PAPER


class Scrolled(ttk.Frame):
    """``inside`` is the frame to fill; it is as wide as the page."""

    def __init__(self, parent: tk.Misc) -> None:
        super().__init__(parent)
        self._canvas = tk.Canvas(self, background=PAPER, highlightthickness=0, borderwidth=0, takefocus=False)
        self._bar = ttk.Scrollbar(self, orient="vertical", command=self._canvas.yview)
        self._canvas.configure(yscrollcommand=self._ends)
        self._canvas.grid(row=0, column=0, sticky="nsew")
        self._bar.grid(row=0, column=1, sticky="ns")
        self.rowconfigure(0, weight=1)
        self.columnconfigure(0, weight=1)
        self.inside = ttk.Frame(self._canvas, padding=(12, 8, 12, 16))
        self._item = self._canvas.create_window(0, 0, window=self.inside, anchor="nw")
        self.inside.bind("<Configure>", self._measured)
        self._canvas.bind("<Configure>", lambda event: self._canvas.itemconfigure(self._item, width=event.width))
        for event in ("<MouseWheel>", "<Button-4>", "<Button-5>"):
            self._canvas.bind(event, self._wheel)

    def follow(self) -> None:
        """Let the wheel scroll over everything inside, and fields that are entered come into view."""
        self._bind(self.inside)

    def to_top(self) -> None:
        """Back to the beginning of the page."""
        self._canvas.yview_moveto(0)

    def show(self, thing: tk.Misc) -> None:
        """Scroll so far that this part is seen."""
        self.update_idletasks()
        tall = max(1, self.inside.winfo_height())
        upper = thing.winfo_rooty() - self.inside.winfo_rooty()
        lower = upper + thing.winfo_height()
        seen = self._canvas.canvasy(0), self._canvas.canvasy(self._canvas.winfo_height())
        if upper < seen[0] or lower > seen[1]:
            room = self._canvas.winfo_height()
            self._canvas.yview_moveto(max(0, upper - max(0, (room - (lower - upper)) // 2)) / tall)

    def _bind(self, thing: tk.Misc) -> None:
        for event in ("<MouseWheel>", "<Button-4>", "<Button-5>"):
            thing.bind(event, self._wheel, add=True)
        if thing.winfo_class() in ("TEntry", "TCombobox", "TRadiobutton", "TButton"):
            thing.bind("<FocusIn>", lambda _: self.show(thing), add=True)
        for child in thing.winfo_children():
            self._bind(child)

    def _ends(self, first: float, last: float) -> None:
        """The bar is there only where there is something to scroll."""
        self._bar.set(float(first), float(last))
        if float(first) <= 0 and float(last) >= 1:
            self._bar.grid_remove()
        else:
            self._bar.grid()

    def _measured(self, event: Any) -> None:
        self._canvas.configure(scrollregion=(0, 0, event.width, event.height))

    def _wheel(self, event: Any) -> str:
        if self.inside.winfo_height() > self._canvas.winfo_height():
            up = event.num == 4 or getattr(event, "delta", 0) > 0
            self._canvas.yview_scroll(-2 if up else 2, "units")
        return "break"
