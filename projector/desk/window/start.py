"""The first page: begin a job, open one, look at an example, or go on with what was left unsaved."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from dataclasses import dataclass, field
from tkinter import ttk

from jobs.model.choices import Unit
from projector.desk.window.flow import Flow
from projector.desk.window.look import Look
from projector.desk.window.scrolled import Scrolled

UNITS = ((Unit.INCH, "inches"), (Unit.CENTIMETRE, "centimetres"), (Unit.MILLIMETRE, "millimetres"))


@dataclass(frozen=True)
class Offers:
    """What the first page offers, as labels and what is done on a click."""

    new: Callable[[Unit], None]
    browse: Callable[[], None]
    examples: list[tuple[str, Callable[[], None]]] = field(default_factory=list)
    recent: list[tuple[str, Callable[[], None]]] = field(default_factory=list)
    unsaved: list[tuple[str, Callable[[], None], Callable[[], None]]] = field(default_factory=list)
    """Title, go on with it, drop it."""


class Start:
    """The first page."""

    def __init__(self, parent: tk.Misc, look: Look) -> None:
        self.scrolled = Scrolled(parent)
        self._look = look

    def show(self, offers: Offers) -> None:
        """Build it for what there is now."""
        inside = self.scrolled.inside
        for child in inside.winfo_children():
            child.destroy()
        inside.columnconfigure(0, weight=1)
        ttk.Label(inside, text="Curtains cut by light", style="Large.TLabel").grid(sticky="w", pady=(8, 0))
        words = (
            "A job says what hangs at the windows and what the cloth is. From it come the order, the cuts, and the "
            "light on the table. Without a projector all of it can be tried on a simulated table."
        )
        intro = ttk.Label(inside, text=words, justify="left")
        intro.grid(sticky="we", pady=(6, 0))
        intro.bind("<Configure>", lambda event: intro.configure(wraplength=event.width))
        for title, go_on, drop in offers.unsaved:
            self._heading(inside, f"Left unsaved: {title}")
            self._buttons(inside, [("Go on with it", go_on), ("Drop it", drop)], main=True)
        self._heading(inside, "A new job. I measure in")
        self._buttons(inside, [(label, lambda unit=unit: offers.new(unit)) for unit, label in UNITS], main=True)  # type: ignore[misc]
        self._heading(inside, "A job I have")
        self._buttons(inside, [("Open a file...", offers.browse), *offers.recent])
        self._heading(inside, "An example to look at and change")
        self._buttons(inside, list(offers.examples))
        self.scrolled.follow()

    def _heading(self, inside: tk.Misc, words: str) -> None:
        label = ttk.Label(inside, text=words, style="Heading.TLabel", justify="left")
        label.grid(sticky="we", pady=(22, 6))
        label.bind("<Configure>", lambda event: label.configure(wraplength=event.width))

    @staticmethod
    def _buttons(inside: tk.Misc, offered: list[tuple[str, Callable[[], None]]], main: bool = False) -> None:
        flow = Flow(inside)
        flow.grid(sticky="we")
        for number, (label, command) in enumerate(offered):
            style = "Main.TButton" if main and number == 0 else "TButton"
            flow.add(ttk.Button(flow, text=label, command=command, style=style))
