"""What comes between while a session is at work, in plain words, and the check that follows. Pure."""

from __future__ import annotations

from dataclasses import replace

from calibration.table import Table
from projector.session.pressing.press import in_trouble
from projector.session.state.meeting import meeting_of
from projector.session.state.pages import Page
from projector.session.state.state import Session

CHECK = "Measure a lit length with a tape before you cut on."


def slept(seconds: float) -> str:
    """The computer slept for so long."""
    minutes = round(seconds / 60)
    lasted = f"{round(seconds)} seconds" if minutes < 2 else f"{minutes} minutes"
    if minutes >= 120:
        lasted = f"{round(minutes / 60)} hours"
    return f"The computer stood still for {lasted}. Somebody may have touched projector or table meanwhile."


def gone(name: str) -> str:
    """The projector is no longer there; said on the bench screen."""
    return f"The projector ({name}) is gone. See to its cable and switch it on. What is ticked is kept."


def other_size(name: str, size_px: tuple[int, int], has_px: tuple[int, int]) -> str:
    """The projector shows another number of pixels; said on the bench screen."""
    set_to, has = ("{} x {}".format(*size) for size in (size_px, has_px))
    return f"The projector ({name}) was set to {has} pixels. Set it back to {set_to}. What is ticked is kept."


def back(name: str) -> str:
    """The projector is there again."""
    return f"The projector ({name}) was away and is back. It may have been touched."


def interrupted(session: Session, why: str, bare: Table, *, checks: bool) -> Session:
    """The session with the quick check by two marks ahead of it, told why; words alone where nothing can be checked.

    ``bare`` is the bare table as it is lit now; ``checks`` whether its marks are there to be met. Motif points in hand
    are let go, for they may lie elsewhere now; where the cloth was laid, one point is asked for again.
    """
    if session.page is Page.LEFT:
        return session
    meeting = meeting_of(bare, (why,)) if checks else None
    laid = session.fit is not None and bool(session.left_to_cut)
    still = replace(session, marking=None, ask_again=session.ask_again or laid)
    if meeting is None:
        # Somebody may be leaning under the lens: what was dark stays dark.
        return replace(in_trouble(replace(still, page=Page.STOP), f"{why}\n{CHECK}"), dark=session.dark)
    if not session.cautions_read:
        return replace(still, meeting=meeting)
    return replace(still, meeting=meeting, page=Page.MEETING, on_bench=False)
