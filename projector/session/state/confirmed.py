"""Which panels lie turned or face down, and for which of them a person has said that they see it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from jobs.journal.events import Event
from jobs.journal.history import ticks_counted
from jobs.model.cuts import Cut, Way
from projector.session.state.recorded import LAID, UNLAID

CONFIRMED, REOPENED = "way confirmed", "way asked again"
"""How these are called in the journal."""


class Question(StrEnum):
    """What is asked about a panel, one after another, each on a page of its own."""

    FACE = "which face is its back"
    TOP = "where the top is"
    SIDES = "where the leading side is"


@dataclass(frozen=True)
class Confirmed:
    """The way of a panel was confirmed before its cut ``cut``; ``ticks`` and ``layings`` tell how many there were."""

    cut: str
    ticks: int = 0
    layings: int = 0


def panel_of(cut: Cut) -> tuple[str, str, str, str]:
    """What a confirmation holds for: all cuts of one panel that lie the same way."""
    return cut.window, cut.hand.value, cut.panel, cut.way.value


def questions_of(cut: Cut) -> tuple[Question, ...]:
    """What is asked before the first cut of the panel; nothing where it lies upright."""
    match cut.way:
        case Way.TURNED:
            return Question.TOP, Question.SIDES
        case Way.FACE_DOWN:
            return Question.FACE, Question.TOP, Question.SIDES
    return ()


def is_confirmed(cut: Cut, ways: Sequence[Confirmed], cuts: Iterable[Cut]) -> bool:
    """Whether nothing is left to ask about the way of a cut; ``cuts`` are those of the plan."""
    if not questions_of(cut):
        return True
    named = {way.cut for way in ways}
    return any(panel_of(other) == panel_of(cut) for other in cuts if other.id in named)


def confirmed_in(events: Iterable[Event], plan: str) -> tuple[Confirmed, ...]:
    """The confirmations in a journal that hold for the plan with this fingerprint, in their order."""
    found: list[Confirmed] = []
    layings = 0
    for event, ticks in ticks_counted(events):
        if event.plan != plan:
            continue
        layings += {LAID: 1, UNLAID: -1}.get(event.event, 0)
        if event.event == CONFIRMED and event.cut is not None:
            found.append(Confirmed(event.cut, ticks, max(layings, 0)))
        elif event.event == REOPENED and found:
            found.pop()
    return tuple(found)
