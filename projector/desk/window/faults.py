"""What goes wrong while the window is open, said in words; the window and all that was typed stay."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from types import TracebackType
from typing import TYPE_CHECKING

from projector.desk.window.dialogs import tell
from projector.files.write import CannotWrite

if TYPE_CHECKING:
    from projector.desk.window.desk import Desk


class Faults:
    """Takes the exceptions that reach the window's loop; ``interrupted`` after Ctrl-C at the terminal."""

    def __init__(self, desk: Desk, lines: Callable[[BaseException], Sequence[str]]) -> None:
        self._desk, self._lines = desk, lines
        self._telling = False
        self.interrupted = False

    def take(self, kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        """Say what happened; one message at a time, however often it happens."""
        if isinstance(fault, KeyboardInterrupt):
            self.interrupted = True
            self._desk.filing.keep_draft()
            self._desk.beside.close()
            self._desk.root.destroy()
            return
        if self._telling:
            return
        self._telling = True
        try:
            if isinstance(fault, CannotWrite):
                tell(self._desk.root, self._desk.look, "A file cannot be written", [str(fault)])
            else:
                tell(self._desk.root, self._desk.look, "Something went wrong", self._lines(fault))
        finally:
            self._telling = False
