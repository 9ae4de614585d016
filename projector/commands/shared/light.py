"""Where a session runs and who else sees it: every light is shared with the page and the phone."""

from __future__ import annotations

from projector.page.light.shared import SharedLight
from projector.session.mode import Rim


def shared_rim(
    work: str, title: str, *, display: int | None = None, sound: bool = False, simulated: bool = False
) -> Rim:
    """The rim of a session that others may see and ask: its ``work``, and a ``title`` for the person.

    Of a ``simulated`` table the picture in the window is shared too.
    """
    link = SharedLight({"work": work, "title": title, "simulated": simulated})
    return Rim(display, sound, link, link.frame if simulated else None)
