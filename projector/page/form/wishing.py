"""Where a cut shall lie, put into the text of the job or taken out of it again."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from jobs.io.editing import edited
from jobs.model.cuts import Hand
from jobs.model.job import Job
from jobs.model.piece import Place
from jobs.model.problems import Path
from jobs.model.trimmings import Lining
from jobs.model.window import Window
from projector.page.form.changes import without
from projector.page.form.differences import differences


def with_wish(text: str, job: Job, path: Path, place: Place) -> str:
    """The text of the job with this wish for a cut of what stands at ``path``, in place of an earlier one: the face of
    a window (``windows``, its number), or a lining of it (and which).

    Raises CannotEdit; IndexError where there is no such window, ValueError where it has no such lining.
    """
    of = _owner(job, path)
    places, at = list(of.places), _at(of, place.panel, place.cut)
    places[at if at is not None else len(places) :] = [place] + (places[at + 1 :] if at is not None else [])
    changed: Any = replace(of, places=tuple(places))
    number, windows = int(path[1]), list(job.windows)
    windows[number] = changed if isinstance(changed, Window) else replace(windows[number], **{str(path[2]): changed})
    return edited(text, differences(job, replace(job, windows=tuple(windows))))


def without_wish(text: str, job: Job, path: Path, panel: Hand, cut: int) -> str:
    """The text of the job without the wish for this cut. Raises CannotEdit; IndexError where there is none."""
    at = _at(_owner(job, path), panel, cut)
    if at is None:
        raise IndexError(path)
    return without(text, (*path, "places", at))


def _owner(job: Job, path: Path) -> Window | Lining:
    """Whose cuts are wished somewhere. Raises IndexError, and ValueError for all else that may stand there."""
    window = job.windows[int(path[1])]
    if path[2:] not in ((), ("lining",), ("interlining",)):
        raise ValueError(path)
    of: Window | Lining | None = getattr(window, str(path[2])) if path[2:] else window
    if of is None:
        raise ValueError(path)
    return of


def _at(of: Window | Lining, panel: Hand, cut: int) -> int | None:
    """Which of its wishes is for this cut."""
    return next((at for at, one in enumerate(of.places) if (one.panel, one.cut) == (panel, cut)), None)


def wished_place(panel: object, cut: object, piece: object, near: Fraction) -> Place:
    """The wish that a page sent. Raises ValueError."""
    return Place(Hand(str(panel)), near, int(str(cut)), int(str(piece)))
