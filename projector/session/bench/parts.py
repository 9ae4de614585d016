"""Parts of the bench screen: the list of cuts."""

from __future__ import annotations

from jobs.model.cuts import Placement
from jobs.model.lengths import show_cut
from jobs.model.plan import Plan
from projector.papers.drawing import Shape, Words
from projector.scene.labels import name_of
from projector.session.cutting.pictures import DONE, INK, LIT, QUIET, SMALL_IN, Box, fitted
from projector.session.cutting.state import Session

LIST_IN = 0.44
"""Cuts are listed as large as there is room for, up to this."""
_PITCH = 1.85


def list_shapes(session: Session, plan: Plan, box: Box) -> list[Shape]:
    """The cuts in the order they are cut: done, now, next, later. Where they are too many, those around the lit one."""
    left, upper, right, lower = box
    placed = list(session.placements)
    here = next(i for i, one in enumerate(placed) if one.cut.id == session.placement.cut.id)
    upcoming = next((one.cut.id for one in session.left_to_cut if one.cut.id != session.placement.cut.id), None)
    most = max(1, int((lower - upper) / (SMALL_IN * _PITCH)))
    tall = min(LIST_IN, max(SMALL_IN, (lower - upper) / (min(most, len(placed)) * _PITCH)))
    first = max(0, min(here - most // 3, len(placed) - most))
    shapes: list[Shape] = []
    for number, one in enumerate(placed[first : first + most]):
        state, colour = _state(session, one, upcoming)
        y = upper + (number + 0.5) * tall * _PITCH
        shapes.append(Words(state, (left, y), tall, colour))
        text = f"{name_of(one.cut)}: {show_cut(one.cut.length, plan.job.unit)}"
        shapes.append(fitted(Words(text, (left + 4 * tall, y), tall, colour), right - left - 4 * tall))
    return shapes


def _state(session: Session, placed: Placement, upcoming: str | None) -> tuple[str, str]:
    if placed.cut.id == session.placement.cut.id:
        return ("done" if session.cut_is_done else "NOW"), LIT
    if placed.cut.id in session.done:
        return "done", DONE
    return ("next", INK) if placed.cut.id == upcoming else ("later", QUIET)
