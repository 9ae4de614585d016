"""Letters, colours and styles of the window: large type, dark ink on pale paper, scaled as a whole."""

from __future__ import annotations

import tkinter as tk
from tkinter import font, ttk

PAPER, SHEET, INK, QUIET, LINE = "#f4f1ea", "#fffdf8", "#1d2430", "#525c68", "#b9b3a6"
WRONG, GOOD, ACTIVE = "#a02c12", "#1f5c3d", "#dfe7ee"
SMALLEST, USUAL, LARGEST = 10, 14, 30
_NAMED = ("TkDefaultFont", "TkTextFont", "TkMenuFont", "TkHeadingFont", "TkCaptionFont", "TkTooltipFont", "TkIconFont")


class Look:
    """The fonts of one window; ``size`` is that of plain text in points."""

    def __init__(self, root: tk.Tk, size: int = USUAL) -> None:
        self._root = root
        family = font.nametofont("TkDefaultFont", root).actual("family")
        self.bold = font.Font(root, family=family, weight="bold")
        self.heading = font.Font(root, family=family, weight="bold")
        self.large = font.Font(root, family=family, weight="bold")
        self.size = 0
        self.scale(size)

    def scale(self, size: int) -> None:
        """Set the size of plain text; everything else follows."""
        self.size = max(SMALLEST, min(LARGEST, size))
        for name in _NAMED:
            font.nametofont(name, self._root).configure(size=self.size)
        font.nametofont("TkFixedFont", self._root).configure(size=self.size)
        self.bold.configure(size=self.size)
        self.heading.configure(size=self.size + 3)
        self.large.configure(size=self.size + 9)
        self._styles()

    def em(self, count: float) -> int:
        """So many letter widths in pixels."""
        return round(font.nametofont("TkDefaultFont", self._root).measure("n") * count)

    def _styles(self) -> None:
        style = ttk.Style(self._root)
        style.theme_use("clam")
        style.configure(
            ".", background=PAPER, foreground=INK, fieldbackground=SHEET, bordercolor=LINE, troughcolor=ACTIVE
        )
        style.configure("TButton", width=0, padding=(self.em(0.7), self.em(0.35)), background=SHEET)
        style.map("TButton", background=[("disabled", PAPER), ("active", ACTIVE)], foreground=[("disabled", QUIET)])
        style.configure("Main.TButton", font=self.bold)
        style.configure("Toolbutton", padding=(self.em(0.7), self.em(0.3)), background=PAPER)
        style.map("Toolbutton", background=[("selected", SHEET), ("active", ACTIVE)])
        style.configure("Chosen.Toolbutton", font=self.bold, padding=(self.em(0.7), self.em(0.3)), background=SHEET)
        style.configure("TEntry", padding=self.em(0.25))
        style.configure("Wrong.TEntry", padding=self.em(0.25), bordercolor=WRONG, lightcolor=WRONG, darkcolor=WRONG)
        style.configure("TCombobox", padding=self.em(0.2), arrowsize=self.em(1.4))
        style.configure("TRadiobutton", indicatorsize=self.em(1.3), padding=self.em(0.2))
        style.map("TRadiobutton", background=[("active", ACTIVE)])
        style.configure("TCheckbutton", indicatorsize=self.em(1.3), padding=self.em(0.2))
        style.map("TCheckbutton", background=[("active", ACTIVE)])
        style.configure("Vertical.TScrollbar", arrowsize=self.em(1.6))
        style.configure("Horizontal.TScrollbar", arrowsize=self.em(1.6))
        style.configure("TNotebook.Tab", padding=(self.em(0.8), self.em(0.35)))
        style.map("TNotebook.Tab", background=[("selected", SHEET)])
        for name, colour in (("Quiet", QUIET), ("Wrong", WRONG), ("Good", GOOD)):
            style.configure(f"{name}.TLabel", foreground=colour)
        style.configure("Bold.TLabel", font=self.bold)
        style.configure("Heading.TLabel", font=self.heading)
        style.configure("Large.TLabel", font=self.large)
        self._root.option_add("*TCombobox*Listbox.font", "TkDefaultFont")
        self._root.configure(background=PAPER)
