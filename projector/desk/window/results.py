"""The right-hand side: what to buy, how it will hang, where the cuts lie, and what still has to be mended."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from tkinter import ttk
from typing import Any

from jobs.model.numbers import counted
from jobs.model.problems import Path
from projector.desk.window.look import INK, PAPER, SHEET, Look
from projector.desk.window.pictured import Pictured
from projector.page.form.complaints import Complaints
from projector.page.form.pages import fields_shown
from projector.page.form.values import Values

NO_PICTURE = "It is drawn as soon as the job can be cut."
MOST_LISTED = 6


class Results:
    """Shows the answers as they come; what is older than the form says so until the new ones are there."""

    def __init__(
        self, parent: tk.Misc, look: Look, go_to: Callable[[Path], None], take_out: Callable[[Path], None]
    ) -> None:
        self.frame = ttk.Frame(parent, padding=(10, 8, 8, 8))
        self._look, self._go_to, self._take_out = look, go_to, take_out
        self.frame.columnconfigure(0, weight=1)
        self.frame.rowconfigure(4, weight=1)
        self._buy = ttk.Label(self.frame, style="Large.TLabel", justify="left")
        self._of = ttk.Label(self.frame, style="Quiet.TLabel", justify="left")
        self._plan = ttk.Label(self.frame, justify="left")
        for row, label in enumerate((self._buy, self._of, self._plan)):
            label.grid(row=row, column=0, sticky="w")
        self._mend = ttk.Frame(self.frame)
        self._stop = ttk.Button(self.frame, text="Take the best so far")
        self._tabs = ttk.Notebook(self.frame)
        self._tabs.grid(row=4, column=0, sticky="nsew", pady=(8, 0))
        self.frame.bind("<Configure>", lambda event: self._wrap(event.width - 24))
        self._hung_page = ttk.Frame(self._tabs)
        self._which = ttk.Combobox(self._hung_page, state="readonly", font="TkDefaultFont")
        self._hung, self._cloth = Pictured(self._hung_page), Pictured(self._tabs)
        self._hung_page.rowconfigure(1, weight=1)
        self._hung_page.columnconfigure(0, weight=1)
        self._hung.frame.grid(row=1, column=0, sticky="nsew")
        self._words = self._worded()
        self._tabs.add(self._hung_page, text="Hung")
        self._tabs.add(self._cloth.frame, text="On cloth")
        self._tabs.add(self._worded_frame, text="Order")
        self._notices: list[str] = []
        self._order: dict[str, Any] = {}

    def on(self, window: Callable[[int], None], stop: Callable[[], None]) -> None:
        """What is done when another window is to be seen, and when a long search shall end."""
        self._which.bind("<<ComboboxSelected>>", lambda _: window(self._which.current()))
        self._stop.configure(command=stop)

    def on_room(self, changed: Callable[[], None]) -> None:
        """What is done when the room for a picture changes."""
        self._hung.frame.bind("<Configure>", lambda _: changed(), add=True)

    @property
    def room_px(self) -> tuple[int, int]:
        """How wide and how high a picture can be."""
        frame = self._hung.frame
        return max(240, frame.winfo_width() - 4), max(200, frame.winfo_height() - 4)

    def waiting(self) -> None:
        """The form has changed; what is shown is of a moment ago."""
        if not self._buy.cget("text").startswith("Buy"):
            self._buy.configure(text="Reckoning...")
        self._plan.configure(text="", style="TLabel")
        self._notices, self._order = [], {}
        self._of.configure(text="Being reckoned anew...")

    def mend(self, complaints: Complaints, values: Values) -> None:
        """What has to be mended before there is an order, each a button that leads to its field."""
        for child in self._mend.winfo_children():
            child.destroy()
        if not complaints.count:
            self._mend.grid_forget()
            return
        things = counted(complaints.count, "thing")
        self._buy.configure(text=f"\u2716 {things} to mend")
        self._of.configure(text="The pictures show the job as it was before.")
        self._plan.configure(text="")
        self._stop.grid_forget()
        fields = fields_shown(values)
        for path, words in list(complaints.beside.items())[:MOST_LISTED]:
            label = f"{_place(path, values)}{fields[path][1].label}: {words}"
            self._link(label, lambda path=path: self._go_to(path))  # type: ignore[misc]
        for one in complaints.elsewhere[:MOST_LISTED]:
            ttk.Label(self._mend, text=one.words, style="Wrong.TLabel", wraplength=self._room()).grid(
                sticky="w", pady=2
            )
            if one.path is not None:
                words, out = f"Take {one.path[-1]} out", one.path
                button = ttk.Button(self._mend, text=words, command=lambda path=out: self._take_out(path))  # type: ignore[misc]
                button.grid(sticky="w")
        self._mend.grid(row=3, column=0, sticky="we", pady=(6, 0))

    def take(self, answer: dict[str, Any]) -> None:
        """Show an answer of the reckoner."""
        stage = answer["stage"]
        if stage == "order":
            self._order = answer
            self._buy.configure(text=f"Buy {answer['buy']}")
            self._of.configure(text=f"of {answer['of']}")
            self._write()
        elif stage == "progress":
            self._plan.configure(text=answer["words"])
            self._stop.grid(row=3, column=0, sticky="w", pady=(6, 0))
        elif stage == "plan":
            self._stop.grid_forget()
            sign = "\u2716 " if answer["short"] else ""
            self._plan.configure(text=sign + answer["words"], style="Wrong.TLabel" if sign else "TLabel")
        elif stage == "picture":
            (self._hung if answer["of"] == "hung" else self._cloth).show(answer["png"])
        elif stage in ("savings", "short"):
            self._notices = answer["lines"]
            self._write()
            if stage == "short" and answer["lines"]:
                self._plan.configure(text="\n".join([self._plan.cget("text"), *answer["lines"]]))
        elif stage in ("refused", "fault"):
            self._stop.grid_forget()
            lines = answer.get("lines") or [f"The reckoning went wrong ({answer.get('words')}). Please report it."]
            self._buy.configure(text="\u2716 This cannot be cut")
            self._of.configure(text="")
            self._plan.configure(text="\n".join(lines), style="Wrong.TLabel")
            self._cloth.wipe(NO_PICTURE)
            if not self._order:  # what hangs and the order are reckoned apart from the cuts, and may be sound
                self._hung.wipe(NO_PICTURE)
                self._write()

    def order_text(self) -> str:
        """The order as text to be sent, empty while there is none."""
        if not self._order:
            return ""
        head = f"To order: {self._order['buy']} of {self._order['of']}"
        return "\n".join([head, "", *self._order["lines"]]) + "\n"

    def windows(self, names: list[str], chosen: int) -> None:
        """The windows of which one is seen as it hangs."""
        shown = [name or "(no name yet)" for name in names]
        if len(shown) > 1:
            self._which.configure(values=shown)
            self._which.current(min(chosen, len(shown) - 1))
            self._which.grid(row=0, column=0, sticky="we", pady=(6, 6), padx=4)
        else:
            self._which.grid_forget()

    def _write(self) -> None:
        steps = [f"{number}. {step}" for number, step in enumerate(self._order.get("lines", ()), 1)]
        notes = [f"Note: {notice}" for notice in self._order.get("notices", ())]
        self._words.configure(state="normal")
        self._words.delete("1.0", "end")
        self._words.insert("end", "\n\n".join([*steps, *self._notices, *notes]))
        self._words.configure(state="disabled")

    def _worded(self) -> tk.Text:
        self._worded_frame = frame = ttk.Frame(self._tabs)
        text = tk.Text(
            frame, wrap="word", font="TkTextFont", background=SHEET, foreground=INK, relief="flat", padx=10, pady=8,
            width=20, height=6, state="disabled", highlightthickness=1, highlightbackground=PAPER,
        )  # fmt: skip
        bar = ttk.Scrollbar(frame, orient="vertical", command=text.yview)
        text.configure(yscrollcommand=bar.set)
        frame.rowconfigure(0, weight=1)
        frame.columnconfigure(0, weight=1)
        text.grid(row=0, column=0, sticky="nsew")
        bar.grid(row=0, column=1, sticky="ns")
        return text

    def _link(self, words: str, command: Callable[[], None]) -> None:
        label = ttk.Label(
            self._mend,
            text=f"\u25b8 {words}",
            style="Wrong.TLabel",
            cursor="hand2",
            wraplength=self._room(),
            takefocus=True,
        )
        label.bind("<Button-1>", lambda _: command())
        label.bind("<Return>", lambda _: command())
        label.grid(sticky="w", pady=2)

    def _room(self) -> int:
        return max(200, self.frame.winfo_width() - 30)

    def _wrap(self, width: int) -> None:
        for label in (self._buy, self._of, self._plan):
            label.configure(wraplength=max(200, width))


def _place(path: Path, values: Values) -> str:
    """Which window or piece a field is of."""
    if path[0] == "windows" and isinstance(path[1], int):
        return f"{values.text((*path[:2], 'name')) or f'Window {path[1] + 1}'}, "
    if path[:2] == ("cloth", "pieces") and isinstance(path[2], int):
        return f"Piece {path[2] + 1}, "
    return ""
