"""Buttons in a row that goes on in the next line where the window is too narrow, so that none is ever cut off."""

from __future__ import annotations

import tkinter as tk
from tkinter import ttk
from typing import Any


class Flow(ttk.Frame):
    """A frame that lays its children from left to right and wraps them."""

    GAP = 6

    def __init__(self, parent: tk.Misc, **options: Any) -> None:
        super().__init__(parent, **options)
        self._things: list[tk.Widget] = []
        self.bind("<Configure>", lambda event: self._lay(event.width))

    def add(self, thing: tk.Widget) -> None:
        """Put a child at the end."""
        self._things.append(thing)
        thing.bind("<Configure>", lambda _: self.after_idle(self.again), add=True)

    def again(self) -> None:
        """Lay anew, after a child changed its size."""
        if self.winfo_exists():
            self._lay(self.winfo_width())

    def _lay(self, width: int) -> None:
        x = y = tall = 0
        for thing in self._things:
            wide, high = thing.winfo_reqwidth(), thing.winfo_reqheight()
            if x and x + wide > width:
                x, y, tall = 0, y + tall + self.GAP, 0
            thing.place(x=x, y=y, width=wide, height=high)
            x, tall = x + wide + self.GAP, max(tall, high)
        if self.winfo_reqheight() != y + tall:
            self.configure(height=max(1, y + tall))
