"""Where a cut shall lie, put into the text of the job or taken out of it again."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from jobs.io.editing import edited
from jobs.model.cuts import Hand
from jobs.model.job import Job
from jobs.model.window import Place
from projector.page.form.changes import without
from projector.page.form.differences import differences


def with_wish(text: str, job: Job, window: int, place: Place) -> str:
    """The text of the job with this wish for a cut of window ``window`` (from 0), in place of an earlier one.

    Raises CannotEdit; IndexError where there is no such window.
    """
    places = list(job.windows[window].places)
    at = _at(job, window, place.panel, place.cut)
    places[at if at is not None else len(places) :] = [place] + (places[at + 1 :] if at is not None else [])
    windows = list(job.windows)
    windows[window] = replace(windows[window], places=tuple(places))
    return edited(text, differences(job, replace(job, windows=tuple(windows))))


def without_wish(text: str, job: Job, window: int, panel: Hand, cut: int) -> str:
    """The text of the job without the wish for this cut. Raises CannotEdit; IndexError where there is none."""
    at = _at(job, window, panel, cut)
    if at is None:
        raise IndexError(window)
    return without(text, ("windows", window, "places", at))


def _at(job: Job, window: int, panel: Hand, cut: int) -> int | None:
    """Which wish of the window is for this cut."""
    places = job.windows[window].places
    return next((at for at, one in enumerate(places) if (one.panel, one.cut) == (panel, cut)), None)


def wished_place(panel: object, cut: object, piece: object, near: Fraction) -> Place:
    """The wish that a page sent. Raises ValueError."""
    return Place(Hand(str(panel)), near, int(str(cut)), int(str(piece)))
