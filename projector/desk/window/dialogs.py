"""Questions and messages in windows of their own, in the same large letters."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Sequence
from tkinter import ttk

from projector.desk.window.flow import Flow
from projector.desk.window.look import INK, PAPER, Look


class Dialog:
    """A window in front of the main one that has to be answered first."""

    def __init__(self, root: tk.Misc, look: Look, title: str, wide: int = 46) -> None:
        self.top = tk.Toplevel(
            root, background=PAPER, highlightthickness=2, highlightbackground=INK, highlightcolor=INK
        )
        self.top.withdraw()
        self.top.title(title)
        self.root, self._look = root, look
        self.inside = ttk.Frame(self.top, padding=18)
        self.inside.pack(fill="both", expand=True)
        self.inside.columnconfigure(0, weight=1)
        self._width = min(look.em(wide), root.winfo_screenwidth() - 60)
        self.top.bind("<Escape>", lambda _: self.top.destroy())

    def heading(self, words: str) -> None:
        """A line in large letters."""
        ttk.Label(self.inside, text=words, style="Heading.TLabel", wraplength=self._width, justify="left").grid(
            sticky="w"
        )

    def words(self, words: str, style: str = "TLabel") -> ttk.Label:
        """A paragraph."""
        label = ttk.Label(self.inside, text=words, style=style, wraplength=self._width, justify="left")
        label.grid(sticky="w", pady=(8, 0))
        return label

    def run(self, first: tk.Misc | None = None) -> None:
        """Show it over the middle of the main window and wait until it is closed."""
        self.place()
        self.top.transient(self.root.winfo_toplevel())
        self.top.deiconify()
        self.top.wait_visibility()
        self.top.grab_set()
        (first or self.top).focus_force()
        self.top.wait_window()
        if self.root.winfo_exists():
            self.root.focus_force()

    def place(self) -> None:
        """Put it over the middle of the main window, whole on the screen."""
        self.top.update_idletasks()
        over = self.root.winfo_toplevel()
        wide, high = self.top.winfo_reqwidth(), self.top.winfo_reqheight()
        x = over.winfo_rootx() + (over.winfo_width() - wide) // 2
        y = over.winfo_rooty() + (over.winfo_height() - high) // 3
        x = max(0, min(x, self.top.winfo_screenwidth() - wide))
        y = max(0, min(y, self.top.winfo_screenheight() - high))
        self.top.geometry(f"+{x}+{y}")


def choose(root: tk.Misc, look: Look, title: str, words: Sequence[str], answers: Sequence[tuple[str, str]]) -> str:
    """Ask one question; the word of the answer that was clicked, empty when the window was closed.

    ``answers`` are pairs of word and label, the first one the usual.
    """
    dialog = Dialog(root, look, title)
    dialog.heading(title)
    for line in words:
        dialog.words(line)
    chosen: list[str] = []

    def take(word: str) -> None:
        chosen.append(word)
        dialog.top.destroy()

    flow = Flow(dialog.inside, width=look.em(46))
    flow.grid(sticky="we", pady=(18, 0))
    buttons = []
    for number, (word, label) in enumerate(answers):
        style = "Main.TButton" if number == 0 else "TButton"
        button = ttk.Button(flow, text=label, style=style, command=lambda word=word: take(word))  # type: ignore[misc]
        flow.add(button)
        buttons.append(button)
    dialog.top.update_idletasks()
    flow.again()
    dialog.run(buttons[0])
    return chosen[0] if chosen else ""


def tell(root: tk.Misc, look: Look, title: str, lines: Sequence[str]) -> None:
    """Show a message with one button; a long one scrolls."""
    dialog = Dialog(root, look, title, wide=58)
    dialog.heading(title)
    height = min(14, sum(1 + len(line) // 56 for line in lines))
    text = tk.Text(
        dialog.inside, wrap="word", font="TkTextFont", width=56, height=height, relief="flat", background=PAPER,
        foreground=INK, highlightthickness=0,
    )  # fmt: skip
    text.insert("end", "\n".join(lines))
    text.configure(state="disabled")
    text.grid(sticky="we", pady=(12, 0))
    button = ttk.Button(dialog.inside, text="Close", style="Main.TButton", command=dialog.top.destroy)
    button.grid(sticky="e", pady=(16, 0))
    text.bind("<Return>", lambda _: dialog.top.destroy())
    dialog.run(button)
