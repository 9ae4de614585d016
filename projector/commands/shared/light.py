"""Where a session runs and who else sees it: every light is shared with the page and the phone."""

from __future__ import annotations

from pathlib import Path

from projector.page.light.shared import SharedLight
from projector.session.mode import Rim


def shared_rim(
    work: str,
    title: str,
    *,
    display: int | None = None,
    sound: bool = False,
    simulated: bool = False,
    table: Path | None = None,
    as_it_lies: bool = False,
) -> Rim:
    """The rim of a session that others may see and ask: its ``work``, and a ``title`` for the person.

    The picture in the window is shared too of a ``simulated`` table, and wherever the light is moved by pointing: all
    but cutting, of which the page has drawings, so that no frame of it waits to be copied. ``table`` is the file that a
    calibration is for, ``as_it_lies`` that a simulated cloth lies otherwise than planned.
    """
    told = {
        "work": work,
        "title": title,
        "simulated": simulated,
        "table": str(table.resolve()) if table else "",
        "as_it_lies": as_it_lies,
    }
    link = SharedLight(told)
    on_frame = link.frame if simulated or work != "cutting" else None
    return Rim(display, sound, link, on_frame, link.thrown if simulated else None)
