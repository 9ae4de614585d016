"""Things done a little later, once, however often they are asked for before."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable


class Later:
    """Waits with each thing until it was not asked for during its delay."""

    def __init__(self, root: tk.Misc) -> None:
        self._root = root
        self._waiting: dict[str, str] = {}

    def do(self, name: str, delay_ms: int, what: Callable[[], None]) -> None:
        """Do ``what`` after the delay, unless the same name is asked for again before."""
        self.cancel(name)
        self._waiting[name] = self._root.after(delay_ms, what)

    def cancel(self, name: str) -> None:
        """Do not do it after all."""
        if name in self._waiting:
            self._root.after_cancel(self._waiting.pop(name))
