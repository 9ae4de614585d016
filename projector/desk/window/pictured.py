"""A picture in the window, with bars where it is larger than its room; dragging it moves it."""

from __future__ import annotations

import tkinter as tk
from tkinter import ttk

from projector.desk.window.look import QUIET, SHEET


class Pictured:
    """Shows one picture at a time."""

    def __init__(self, parent: tk.Misc) -> None:
        self.frame = ttk.Frame(parent)
        self._canvas = tk.Canvas(self.frame, background=SHEET, highlightthickness=0, width=200, height=160)
        self._across = ttk.Scrollbar(self.frame, orient="horizontal", command=self._canvas.xview)
        self._down = ttk.Scrollbar(self.frame, orient="vertical", command=self._canvas.yview)
        self._canvas.configure(xscrollcommand=self._across.set, yscrollcommand=self._down.set)
        self.frame.bind("<Configure>", lambda _: self._bars(), add=True)
        self._canvas.grid(row=0, column=0, sticky="nsew")
        self.frame.rowconfigure(0, weight=1)
        self.frame.columnconfigure(0, weight=1)
        self._canvas.bind("<ButtonPress-1>", lambda event: self._canvas.scan_mark(event.x, event.y))
        self._canvas.bind("<B1-Motion>", lambda event: self._canvas.scan_dragto(event.x, event.y, gain=1))
        for wheel, step in (("<Button-4>", -1), ("<Button-5>", 1)):
            self._canvas.bind(wheel, lambda _, step=step: self._canvas.yview_scroll(step, "units"))  # type: ignore[misc]
        self._canvas.bind(
            "<MouseWheel>", lambda event: self._canvas.yview_scroll(-1 if event.delta > 0 else 1, "units")
        )
        self._shown: tk.PhotoImage | None = None

    def show(self, png: str) -> None:
        """Show a PNG picture, base64."""
        self._shown = tk.PhotoImage(master=self._canvas, data=png)
        self._canvas.delete("all")
        self._canvas.create_image(0, 0, image=self._shown, anchor="nw")
        self._canvas.configure(scrollregion=(0, 0, self._shown.width(), self._shown.height()))
        self._bars()

    def wipe(self, words: str) -> None:
        """Show no picture, but in words why there is none."""
        self._shown = None
        self._canvas.delete("all")
        room = max(160, self._canvas.winfo_width() - 40)
        self._canvas.create_text(20, 20, text=words, anchor="nw", width=room, fill=QUIET, font="TkDefaultFont")
        self._canvas.configure(scrollregion=(0, 0, room, 1))
        for bar in (self._across, self._down):
            bar.grid_remove()

    def _bars(self) -> None:
        """A bar only where the picture is larger than the whole room: one bar must not be the reason for the other."""
        if self._shown is None:
            return
        for bar, needed, cell in (
            (self._across, self._shown.width() > self.frame.winfo_width(), {"row": 1, "column": 0, "sticky": "we"}),
            (self._down, self._shown.height() > self.frame.winfo_height(), {"row": 0, "column": 1, "sticky": "ns"}),
        ):
            if needed:
                bar.grid(**cell)  # type: ignore[arg-type]
            else:
                bar.grid_remove()
