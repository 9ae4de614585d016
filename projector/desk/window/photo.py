"""A print measured from a photograph: two points on a ruler in it give the scale, then the form takes the numbers."""

from __future__ import annotations

import base64
import io
import math
import tkinter as tk
from pathlib import Path
from tkinter import filedialog, ttk
from typing import TYPE_CHECKING, Any

from jobs.lengths import LengthError, parse_length
from jobs.writing.node_places import Path as KeyPath
from projector.desk import errands
from projector.desk.errands import Measured, Outcome, measured
from projector.desk.form.changes import with_value
from projector.desk.window.dialogs import Dialog, choose, tell
from projector.desk.window.look import INK

if TYPE_CHECKING:
    from projector.desk.window.desk import Desk

KINDS = (("Pictures", "*.jpg *.jpeg *.png *.tif *.tiff *.webp *.bmp *.JPG *.JPEG *.PNG"), ("All files", "*"))


class PhotoDialog:
    """Choose a picture, click two points, type how far apart they are."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._points: list[tuple[float, float]] = []

    def run(self) -> None:
        """Ask, measure and offer the numbers."""
        desk = self._desk
        name = filedialog.askopenfilename(parent=desk.root, title="A photo of the cloth", filetypes=KINDS)
        if not name:
            return
        try:
            png, self._shrunk = _shown(
                Path(name), desk.root.winfo_screenwidth() - 120, desk.root.winfo_screenheight() - 360
            )
        except (OSError, ValueError) as fault:
            tell(desk.root, desk.look, "This picture cannot be opened", [str(fault), "Choose a JPEG or PNG file."])
            return
        self._path = Path(name)
        self._ask(png)

    def _ask(self, png: str) -> None:
        desk = self._desk
        dialog = self._dialog = Dialog(desk.root, desk.look, "How large is it?", wide=60)
        dialog.heading("Click two points on a ruler in the picture")
        dialog.words(
            "Photograph the cloth flat, from straight above, selvedge upright, with three or more repeats each way."
        )
        self._image = tk.PhotoImage(master=dialog.top, data=png)
        self._canvas = tk.Canvas(
            dialog.inside, width=self._image.width(), height=self._image.height(), cursor="crosshair"
        )
        self._canvas.create_image(0, 0, image=self._image, anchor="nw")
        self._canvas.bind("<Button-1>", self._clicked)
        self._canvas.grid(pady=(10, 8), sticky="w")
        line = ttk.Frame(dialog.inside)
        line.grid(sticky="w")
        ttk.Label(line, text=f"They are apart by ({desk.values.unit.value}):").pack(side="left")
        self._distance = tk.StringVar(dialog.top)
        entry = ttk.Entry(line, textvariable=self._distance, width=10, font="TkTextFont")
        entry.pack(side="left", padx=8)
        entry.bind("<Return>", lambda _: self._measure())
        ttk.Button(line, text="Measure", style="Main.TButton", command=self._measure).pack(side="left")
        ttk.Button(line, text="Cancel", command=dialog.top.destroy).pack(side="left", padx=8)
        self._wrong = dialog.words("", "Wrong.TLabel")
        dialog.run(entry)

    def _clicked(self, event: Any) -> None:
        if len(self._points) == 2:
            self._points = []
        self._points.append((event.x, event.y))
        self._canvas.delete("mark")
        for number, (x, y) in enumerate(self._points, 1):
            for reach, colour in ((3, "#ffffff"), (1, INK)):
                self._canvas.create_line(x - 14, y, x + 14, y, fill=colour, width=reach, tags="mark")
                self._canvas.create_line(x, y - 14, x, y + 14, fill=colour, width=reach, tags="mark")
            self._canvas.create_text(x + 16, y - 14, text=str(number), fill=INK, font="TkDefaultFont", tags="mark")

    def _measure(self) -> None:
        unit = self._desk.values.unit
        try:
            distance = parse_length(self._distance.get(), unit)
        except LengthError as refused:
            self._wrong.configure(text=f"\u2716 {refused.what}; {refused.advice}.")
            return
        if len(self._points) < 2 or not distance or self._points[0] == self._points[1]:
            self._wrong.configure(text="\u2716 Click two points first, and type how far apart they are on the cloth.")
            return
        # Each click is good to half a shown pixel each way, so that both together are out by about one.
        self._scale_doubt = 1 / math.dist(*self._points)
        in_file = [((x + 0.5) * self._shrunk, (y + 0.5) * self._shrunk) for x, y in self._points]
        self._dialog.top.destroy()
        errand = errands.photo(self._path, in_file, f"{float(distance)} in")
        self._desk.bars.say(errand.runs)
        self._desk.tablework.runner.run(errand, self._found)

    def _found(self, outcome: Outcome) -> None:
        desk = self._desk
        desk.bars.refresh()
        if not outcome.well:
            tell(desk.root, desk.look, outcome.heading, outcome.lines)
            return
        found = measured(outcome.out, desk.values.unit, self._scale_doubt)
        answers = [("take", "Put these into the form"), ("", "Leave the form as it is")]
        if choose(desk.root, desk.look, "What the picture says", found.lines, answers):
            desk.change(lambda document: document.done(lambda text, _: _taken(text, found)))


def _taken(text: str, found: Measured) -> str:
    for key, value in found.values:
        path: KeyPath = key
        text = with_value(text, path, value)
    return text


def _shown(path: Path, widest: int, highest: int) -> tuple[str, float]:
    """The picture, upright and small enough, as PNG in base64, and how many of its pixels one shown one stands for."""
    from PIL import Image, ImageOps

    with Image.open(path) as opened:
        image = ImageOps.exif_transpose(opened).convert("RGB")
    shrunk = max(1.0, image.width / widest, image.height / highest)
    small = image.resize((round(image.width / shrunk), round(image.height / shrunk)))
    held = io.BytesIO()
    small.save(held, "PNG")
    return base64.b64encode(held.getvalue()).decode(), shrunk
