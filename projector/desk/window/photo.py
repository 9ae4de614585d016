"""A photograph of the cloth: how large it is, told by clicks, then what was found in it, seen before it is taken."""

from __future__ import annotations

import tempfile
import tkinter as tk
from functools import partial
from pathlib import Path
from tkinter import filedialog, ttk
from typing import TYPE_CHECKING, Any

from jobs.prints.photographs.refusals import PhotoRefused
from projector.desk import errands
from projector.desk.errands import Outcome
from projector.desk.window.dialogs import Dialog, tell
from projector.desk.window.found import FoundDialog
from projector.desk.window.look import INK
from projector.desk.window.photo_shown import shown
from projector.page.measured import measured
from projector.page.scale_ways import RULER, WAYS, WIDTH, Amiss, Place, Way, doubt_of_clicks, words_for

if TYPE_CHECKING:
    from projector.desk.window.desk import Desk

KINDS = (("Pictures", "*.jpg *.jpeg *.png *.tif *.tiff *.webp *.JPG *.JPEG *.PNG"), ("All files", "*"))
BESIDE_EM = 34
"""Letter widths that the words beside the picture need."""


class PhotoDialog:
    """Choose a picture, choose how its size is told, click and type."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._points: list[Place] = []
        self._way = RULER

    def run(self) -> None:
        """Ask, measure and offer the numbers."""
        desk = self._desk
        name = filedialog.askopenfilename(parent=desk.root, title="A photo of the cloth", filetypes=KINDS)
        if name:
            self.ask(Path(name))

    def ask(self, path: Path) -> None:
        """Ask how large this picture is, then measure it."""
        desk = self._desk
        screen = desk.root.winfo_screenwidth(), desk.root.winfo_screenheight()
        try:
            png, self._shrunk = shown(path, screen[0] - desk.look.em(BESIDE_EM) - 140, screen[1] - 210)
        except PhotoRefused as refused:
            said = [f"{part[:1].upper()}{part[1:]}." for part in (refused.what, refused.advice)]
            tell(desk.root, desk.look, "This picture cannot be opened", said)
            return
        self._path = path
        self._lay(png)

    def _lay(self, png: str) -> None:
        desk = self._desk
        dialog = self._dialog = Dialog(desk.root, desk.look, "A photo of the cloth", wide=90)
        dialog.heading("How large is it? Choose what the picture shows")
        both = ttk.Frame(dialog.inside)
        both.grid(sticky="w", pady=(10, 0))
        self._image = tk.PhotoImage(master=dialog.top, data=png)
        self._canvas = tk.Canvas(both, width=self._image.width(), height=self._image.height(), cursor="crosshair")
        self._canvas.create_image(0, 0, image=self._image, anchor="nw")
        self._canvas.bind("<Button-1>", self._clicked)
        self._canvas.grid(row=0, column=0, sticky="n")
        beside = ttk.Frame(both, padding=(16, 0, 0, 0))
        beside.grid(row=0, column=1, sticky="n")
        self._ways(beside)
        self._asked = ttk.Frame(beside)
        self._asked.grid(sticky="we", pady=(10, 0))
        wide = desk.look.em(BESIDE_EM)
        self._wrong = ttk.Label(beside, style="Wrong.TLabel", wraplength=wide, justify="left")
        self._wrong.grid(sticky="w", pady=(8, 0))
        buttons = ttk.Frame(beside)
        buttons.grid(sticky="w", pady=(8, 0))
        ttk.Button(buttons, text="Measure", style="Main.TButton", command=self._measure).pack(side="left")
        ttk.Button(buttons, text="Cancel", command=dialog.top.destroy).pack(side="left", padx=8)
        self._choose(RULER)
        dialog.run()

    def _ways(self, beside: ttk.Frame) -> None:
        chosen = tk.StringVar(beside, RULER.word)
        self._chosen = chosen  # held, or Tk forgets it
        for way in WAYS:
            button = ttk.Radiobutton(beside, text=way.label, value=way.word, variable=chosen)
            button.configure(command=partial(self._choose, way))
            button.grid(sticky="w")

    def _choose(self, way: Way) -> None:
        """Another way of telling the size: its advice, and a field for each length it asks for."""
        self._way, self._points = way, []
        self._mark()
        self._wrong.configure(text="")
        for child in self._asked.winfo_children():
            child.destroy()
        desk = self._desk
        words = ttk.Label(self._asked, text=way.advice, wraplength=desk.look.em(BESIDE_EM), justify="left")
        words.grid(columnspan=3, sticky="w", pady=(0, 8))
        self._typed = []
        for row, ask in enumerate(way.asks, 1):
            known = desk.values.text(("cloth", "width")) if way is WIDTH else ""
            said = tk.StringVar(self._asked, known)
            ttk.Label(self._asked, text=ask).grid(row=row, column=0, sticky="w", padx=(0, 8))
            entry = ttk.Entry(self._asked, textvariable=said, width=9, font="TkTextFont")
            entry.grid(row=row, column=1, sticky="w", pady=2)
            ttk.Label(self._asked, text=desk.values.unit.value, style="Quiet.TLabel").grid(row=row, column=2, padx=6)
            entry.bind("<Return>", lambda _: self._measure())
            self._typed.append(said)
            if row == 1:
                entry.focus_set()

    def _clicked(self, event: Any) -> None:
        """One more place; a click after the last begins anew."""
        if len(self._points) == self._way.clicks:
            self._points = []
        self._points.append((event.x, event.y))
        self._wrong.configure(text="")
        self._mark()

    def _mark(self) -> None:
        self._canvas.delete("mark")
        for number, (x, y) in enumerate(self._points, 1):
            for reach, colour in ((3, "#ffffff"), (1, INK)):
                self._canvas.create_line(x - 14, y, x + 14, y, fill=colour, width=reach, tags="mark")
                self._canvas.create_line(x, y - 14, x, y + 14, fill=colour, width=reach, tags="mark")
            # The number stands on that side of its place where there is picture.
            at_x = x + 18 if x < self._image.width() - 32 else x - 18
            at_y = y - 16 if y > 30 else y + 18
            around = (at_x - 10, at_y - 10, at_x + 10, at_y + 10)
            self._canvas.create_oval(*around, fill="#ffffff", outline=INK, tags="mark")
            self._canvas.create_text(at_x, at_y, text=str(number), fill=INK, font="TkDefaultFont", tags="mark")

    def _measure(self) -> None:
        in_file = [((x + 0.5) * self._shrunk, (y + 0.5) * self._shrunk) for x, y in self._points]
        try:
            words = words_for(self._way, in_file, [said.get() for said in self._typed], self._desk.values.unit)
        except Amiss as amiss:
            self._wrong.configure(text=f"\u2716 {amiss}")
            return
        self._doubt = doubt_of_clicks(self._way, self._points)
        self._dialog.top.destroy()
        self._pictures = tempfile.TemporaryDirectory(prefix="lightchalk-", ignore_cleanup_errors=True)
        errand = errands.photo(self._path, words, Path(self._pictures.name))
        self._desk.bars.say(errand.runs)
        self._desk.tablework.runner.run(errand, self._found)

    def _found(self, outcome: Outcome) -> None:
        desk = self._desk
        desk.bars.refresh()
        with self._pictures as folder:
            if outcome.well:
                found = measured(outcome.out, desk.values.unit, self._doubt)
                FoundDialog(desk, found, Path(folder)).run()
            else:
                tell(desk.root, desk.look, outcome.heading, outcome.lines)
