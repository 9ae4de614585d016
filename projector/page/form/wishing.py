"""Where a cut shall lie, put into the text of the job or taken out of it again."""

from __future__ import annotations

from dataclasses import is_dataclass, replace
from fractions import Fraction
from typing import Any

from jobs.io.editing import edited
from jobs.model.cuts import Hand
from jobs.model.job import Job
from jobs.model.piece import Place
from jobs.model.problems import Path
from projector.page.form.changes import without
from projector.page.form.differences import differences


def with_wish(text: str, job: Job, path: Path, place: Place) -> str:
    """The text of the job with this wish for a cut of what stands at ``path``, in place of an earlier one: the face of
    a window (``windows``, its number), or what is made beside it (``lining``; ``bands``, its number), a shade, a small
    thing.

    Raises CannotEdit; IndexError where nothing stands there, ValueError where it is nothing that has places.
    """
    of = _owner(job, path)
    places, at = list(of.places), _at(of, place.panel, place.cut)
    places[at if at is not None else len(places) :] = [place] + (places[at + 1 :] if at is not None else [])
    return edited(text, differences(job, _with(job, path, replace(of, places=tuple(places)))))


def without_wish(text: str, job: Job, path: Path, panel: Hand, cut: int) -> str:
    """The text of the job without the wish for this cut. Raises CannotEdit; IndexError where there is none."""
    at = _at(_owner(job, path), panel, cut)
    if at is None:
        raise IndexError(path)
    return without(text, (*path, "places", at))


def _owner(job: Job, path: Path) -> Any:
    """Whose cuts are wished somewhere. Raises IndexError, and ValueError for all that has no places."""
    found: Any = job
    for part in path:
        found = found[part] if isinstance(part, int) else getattr(found, part, None)
        if found is None or not (isinstance(found, tuple) or is_dataclass(found)):
            raise ValueError(path)
    if not is_dataclass(found) or not hasattr(found, "places"):
        raise ValueError(path)
    return found


def _with(whole: Any, path: Path, changed: Any) -> Any:
    """A record, or a list of them, with what stands at this path in it changed."""
    if not path:
        return changed
    first, *rest = path
    if isinstance(first, int):
        return (*whole[:first], _with(whole[first], tuple(rest), changed), *whole[first + 1 :])
    return replace(whole, **{first: _with(getattr(whole, first), tuple(rest), changed)})


def _at(of: Any, panel: Hand, cut: int) -> int | None:
    """Which of its wishes is for this cut."""
    return next((at for at, one in enumerate(of.places) if (one.panel, one.cut) == (panel, cut)), None)


def wished_place(panel: object, cut: object, piece: object, near: Fraction) -> Place:
    """The wish that a page sent. Raises ValueError."""
    return Place(Hand(str(panel)), near, int(str(cut)), int(str(piece)))
