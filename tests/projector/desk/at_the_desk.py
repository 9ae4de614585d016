"""The real window, started as a person starts it, that also tells where its parts are on the screen.

A line on standard input is a question: ``text Practise``, ``field cloth/width``, ``page`` or ``job``. The answer is a
line of JSON: places as x, y of the middle in pixels, None where the part is not to be seen.
"""

from __future__ import annotations

import json
import queue
import sys
import threading
import tkinter as tk
from pathlib import Path
from tkinter import ttk
from typing import Any

from projector.commands.shared.errors import fault_lines
from projector.desk import opening
from projector.desk.window import desk as module
from projector.desk.window.desk import Desk


def main() -> None:
    made: list[Desk] = []
    lines: queue.Queue[str] = queue.Queue()

    class Told(Desk):
        def __init__(self, root: tk.Tk) -> None:
            super().__init__(root)
            made.append(self)
            self._listen()

        def _listen(self) -> None:
            while not lines.empty():
                print(json.dumps(answer(made[0], lines.get())), flush=True)
            self.root.after(20, self._listen)

    module.Desk = Told  # type: ignore[misc]
    threading.Thread(target=lambda: [lines.put(line.rstrip("\n")) for line in sys.stdin], daemon=True).start()
    opening.open_desk(Path(sys.argv[1]) if len(sys.argv) > 1 else None, fault_lines)


def answer(desk: Desk, question: str) -> Any:
    what, _, words = question.partition(" ")
    if what == "text":
        return next((middle(one) for one in seen(desk.root) if text_of(one) == words), None)
    if what == "field":
        path = tuple(int(part) if part.isdigit() else part for part in words.split("/"))
        row = desk._page._rows.get(path)
        if row is None:
            return None
        desk._page.scrolled.show(row.frame)
        desk.root.update()
        return middle(row.entry)
    if what == "buy":
        return [str(desk.results._buy.cget("text")), desk.beside.busy]
    if what == "tab":
        return tab(desk.results._tabs, words)
    if what == "hung":
        canvas = desk.results._hung._canvas
        return "".join(canvas.itemcget(one, "text") for one in canvas.find_all() if canvas.type(one) == "text")
    if what == "canvas":
        return next((corner_of(one) for one in seen(desk.root) if isinstance(one, tk.Canvas)), None)
    if what == "busy":
        return desk.tablework.runner.busy
    if what == "break":
        desk.root.after(1, lambda: 1 // 0)
        return True
    if what == "said":
        return [text_of(one) for one in seen(desk.root)]
    document = desk.document
    return None if document is None else document.text


def seen(top: tk.Misc) -> list[tk.Misc]:
    """All parts that are on the screen; those of a window in front only, when there is one."""
    front = [child for child in top.winfo_children() if isinstance(child, tk.Toplevel) and child.winfo_viewable()]
    waiting, found = list(front) or list(top.winfo_children()), []
    while waiting:
        one = waiting.pop(0)
        waiting += one.winfo_children()
        if one.winfo_viewable():
            found.append(one)
    return found


def text_of(one: tk.Misc) -> str:
    if isinstance(one, tk.Text):
        return one.get("1.0", "end").strip()
    try:
        return str(one.cget("text"))
    except tk.TclError:
        return ""


def tab(book: ttk.Notebook, words: str) -> tuple[int, int] | None:
    """The label of a page of a notebook: looked for pixel by pixel, for Tk does not tell where it is."""
    number = [book.tab(one, "text") for one in book.tabs()].index(words)
    inside = [x for x in range(0, book.winfo_width(), 4) if str(book.tk.call(book, "index", f"@{x},12")) == str(number)]
    return (book.winfo_rootx() + sum(inside) // len(inside), book.winfo_rooty() + 14) if inside else None


def corner_of(one: tk.Misc) -> tuple[int, int, int, int]:
    """Left, upper, width and height."""
    return one.winfo_rootx(), one.winfo_rooty(), one.winfo_width(), one.winfo_height()


def middle(one: tk.Misc) -> tuple[int, int]:
    return one.winfo_rootx() + one.winfo_width() // 2, one.winfo_rooty() + one.winfo_height() // 2


if __name__ == "__main__":
    main()
