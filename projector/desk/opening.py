"""Opening the window, or saying in a sentence why there is none."""

from __future__ import annotations

import contextlib
import ctypes
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import tkinter

INSTALL = (
    "the window needs tkinter, which this Python does not have; on Debian or Ubuntu install it with: "
    "sudo apt install python3-tk (all commands work without it)"
)


class NoWindow(Exception):  # noqa: N818 - says what there is not
    """The window cannot be opened; the words say why and what to do."""


def open_desk(job: Path | None, fault_lines: Callable[[BaseException], Sequence[str]]) -> None:
    """Open the window, with this job in it if one is given, until the person leaves.

    ``fault_lines`` gives what is said of a fault of the program. Raises NoWindow, and KeyboardInterrupt for Ctrl-C at
    the terminal, after which unsaved work is offered at the next start.
    """
    try:
        import tkinter
    except ImportError:
        raise NoWindow(INSTALL) from None
    from projector.desk.window.desk import Desk
    from projector.desk.window.faults import Faults

    _sharp_letters()
    try:
        root = tkinter.Tk(className="lightchalk")
    except tkinter.TclError as fault:
        reason = str(fault).strip()
        raise NoWindow(f"no screen was found for the window ({reason}); log in where there is one") from None
    wide, high = root.winfo_screenwidth(), root.winfo_screenheight()
    root.geometry(f"{min(1500, wide)}x{min(1000, high - (60 if high > 700 else 0))}+0+0")
    root.minsize(640, 480)
    root.title("lightchalk")
    _without_hidden_files(root)
    desk = Desk(root)
    faults = Faults(desk, fault_lines)
    root.report_callback_exception = faults.take
    desk.welcome()
    root.after(100, root.focus_force)
    if job is not None:
        root.after(50, lambda: desk.filing.open(job))
    root.mainloop()
    if faults.interrupted:
        raise KeyboardInterrupt


def _sharp_letters() -> None:
    """On Windows a program that does not say it scales itself is shown enlarged and blurred on fine screens."""
    if sys.platform == "win32":
        with contextlib.suppress(AttributeError, OSError):
            ctypes.windll.shcore.SetProcessDpiAwareness(1)


def _without_hidden_files(root: tkinter.Tk) -> None:
    """Leave hidden files out of Tk's own file dialog, which stands in where the system has none."""
    from tkinter import TclError

    with contextlib.suppress(TclError):
        root.tk.call("tk_getOpenFile", "-no-such-option")  # makes Tk read the dialog's file
    with contextlib.suppress(TclError):
        root.tk.call("set", "::tk::dialog::file::showHiddenVar", "0")
        root.tk.call("set", "::tk::dialog::file::showHiddenBtn", "1")
