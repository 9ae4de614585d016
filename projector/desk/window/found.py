"""What was found in a photograph, shown with its picture before anything of it goes into the form."""

from __future__ import annotations

import shutil
import tkinter as tk
from pathlib import Path
from tkinter import ttk
from typing import TYPE_CHECKING

from projector.desk.errands import SEEN, TILE
from projector.desk.window.dialogs import Dialog, tell
from projector.desk.window.look import INK, PAPER
from projector.desk.window.photo_shown import lattice_shown, shown
from projector.page.measured import Answer, Measured, taken

if TYPE_CHECKING:
    from projector.desk.window.desk import Desk

WORDS_EM = 40
KEY = "In the picture: thin lines, the repeats; cross, the place rows are counted from; thick lines, mirrors."


class FoundDialog:
    """The photograph with its lattice, the mean repeat, words, and what of it to take."""

    def __init__(self, desk: Desk, found: Measured, folder: Path) -> None:
        self._desk, self._found, self._tile = desk, found, folder / TILE
        screen = desk.root.winfo_screenwidth(), desk.root.winfo_screenheight()
        self._words_px = desk.look.em(WORDS_EM)
        self._dialog = Dialog(desk.root, desk.look, "What the picture says", wide=90)
        top = self._dialog.top
        seen = lattice_shown(folder / SEEN, screen[0] - self._words_px - 140, screen[1] - 190)
        self._images = [tk.PhotoImage(master=top, data=seen)]
        tile, _ = shown(self._tile, self._words_px // 3, max(80, screen[1] // 6))
        self._images.append(tk.PhotoImage(master=top, data=tile))
        self._number = tk.IntVar(top, 0)
        self._picture = tk.BooleanVar(top, False)
        self._said = ""

    def run(self) -> None:
        """Show it, and put into the form what the person takes."""
        self._dialog.heading("What the picture says")
        both = ttk.Frame(self._dialog.inside)
        both.grid(sticky="w", pady=(10, 0))
        ttk.Label(both, image=self._images[0]).grid(row=0, column=0, sticky="n")
        beside = ttk.Frame(both, padding=(16, 0, 0, 0))
        beside.grid(row=0, column=1, sticky="n")
        self._words(beside)
        self._choices(beside)
        buttons = ttk.Frame(beside)
        buttons.grid(sticky="w", pady=(10, 0))
        take = ttk.Button(buttons, text="Put it into the form", style="Main.TButton", command=self._take)
        take.pack(side="left")
        ttk.Button(buttons, text="Leave the form", command=self._dialog.top.destroy).pack(side="left", padx=8)
        self._dialog.run(take)
        if self._said:
            self._put(self._found.answers[self._number.get()])

    def _words(self, beside: ttk.Frame) -> None:
        lines = [*self._found.lines, KEY]
        needed = sum(1 + len(line) // (WORDS_EM - 2) for line in lines)
        height = min(needed, 12 if len(self._found.answers) == 1 else 10)
        text = tk.Text(
            beside, wrap="word", font="TkTextFont", width=WORDS_EM, height=height, relief="flat", background=PAPER,
            foreground=INK, highlightthickness=0, spacing3=4,
        )  # fmt: skip
        bar = ttk.Scrollbar(beside, command=text.yview)
        text.configure(yscrollcommand=bar.set)
        text.insert("end", "\n".join(lines))
        text.configure(state="disabled")
        text.grid(row=0, column=0, sticky="we")
        bar.grid(row=0, column=1, sticky="ns")

    def _choices(self, beside: ttk.Frame) -> None:
        if len(self._found.answers) > 1:
            for number, answer in enumerate(self._found.answers):
                ttk.Radiobutton(
                    beside, text=answer.label, value=number, variable=self._number, command=self._chosen
                ).grid(sticky="w", pady=(6 if number == 0 else 0, 0))
        mean = ttk.Frame(beside)
        mean.grid(sticky="w", pady=(8, 0))
        ttk.Label(mean, image=self._images[1]).grid(row=0, column=0, rowspan=2, padx=(0, 12))
        ttk.Label(mean, text="The mean of all repeats").grid(row=0, column=1, sticky="sw")
        self._box = ttk.Checkbutton(mean, text="Show it in pictures of the cloth", variable=self._picture)
        self._box.grid(row=1, column=1, sticky="nw")

    def _chosen(self) -> None:
        """The mean repeat belongs to the surest answer only."""
        pictured = self._found.answers[self._number.get()].pictured
        self._box.state(["!disabled"] if pictured else ["disabled"])
        if not pictured:
            self._picture.set(False)

    def _take(self) -> None:
        self._said = "take"
        self._dialog.top.destroy()

    def _put(self, answer: Answer) -> None:
        picture = self._kept() if self._picture.get() else ""
        self._desk.change(lambda document: document.done(lambda text, _: taken(text, answer, picture)))

    def _kept(self) -> str:
        """Keep the mean repeat beside the job, under a name of its own; a job without a file is saved first."""
        desk = self._desk
        document = desk.document
        if document is None or (document.path is None and not desk.filing.save()):
            tell(desk.root, desk.look, "The picture was left out", ["It lies beside the job, so save the job first."])
            return ""
        assert desk.document is not None
        path = desk.document.path
        assert path is not None
        number = 1
        while (out := path.with_name(f"{path.stem}-repeat{'' if number == 1 else f'-{number}'}.png")).exists():
            number += 1
        try:
            shutil.copyfile(self._tile, out)
        except OSError as fault:
            tell(desk.root, desk.look, "The picture cannot be kept", [f"{out.name}: {fault.strerror}."])
            return ""
        return out.name
