"""What a record tells of the cloth: which cuts are made and where, and the plan that was last cut by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from fractions import Fraction
from typing import Any

from jobs.journal.events import DONE, UNDONE, Event
from jobs.journal.exact import exact
from jobs.journal.placed import Recorded, piece_in, piece_values, placed_in, placed_values, recorded
from jobs.model.cuts import Placement
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.plan import Plan
from jobs.model.records import dataclass

PLANNED = "planned"
"""Another plan is cut by from here on: where each of its cuts lies, what made cuts are called in it."""
GIVEN_UP = "given up"
"""A made cut serves nobody any more: its cloth is a spare, and the cut is made anew."""
MOST_PLACES = 100_000


@dataclass(frozen=True)
class Made:
    """A cut that was ticked under the plan with this fingerprint, by the name it has in the last plan.

    ``placed`` and ``piece`` are None where an older version of the program ticked it, which kept no places.
    """

    cut: str
    plan: str
    placed: Recorded | None = None
    piece: Piece | None = None


@dataclass(frozen=True)
class Planned:
    """A plan as a record keeps it: piece and start of each cut by name, the pieces, the windows there were.

    ``wishes`` are the places that the job wished for, as ``wish_values`` writes them.
    """

    plan: str
    places: Mapping[str, tuple[int, Fraction]]
    pieces: tuple[Piece, ...]
    windows: frozenset[str]
    wishes: tuple[str, ...] = ()


@dataclass(frozen=True)
class History:
    """Cuts made, in the order they were cut; those that no longer serve; the last plan, if a record kept it."""

    made: tuple[Made, ...] = ()
    spares: tuple[Made, ...] = ()
    planned: Planned | None = None

    @property
    def is_begun(self) -> bool:
        """Whether any cloth is cut."""
        return bool(self.made or self.spares)


@dataclass
class _Reading:
    made: dict[str, Made] = field(default_factory=dict)
    spares: list[Made] = field(default_factory=list)
    planned: Planned | None = None

    def take(self, event: Event) -> None:
        if event.event == PLANNED:
            self._planned(event)
        elif event.cut is None:
            return
        elif event.event == DONE:
            self.made.setdefault(event.cut, _made(event.cut, event.plan, event.more.get("placed")))
        elif event.event == UNDONE:
            self.made.pop(event.cut, None)
        elif event.event == GIVEN_UP and event.cut in self.made:
            self.spares.append(self.made.pop(event.cut))

    def _planned(self, event: Event) -> None:
        self.planned = _planned_in(event) or self.planned
        names, places = _names(event.more.get("called")), event.more.get("made")
        spare = event.more.get("spares")
        for cut in spare if isinstance(spare, list) else ():
            if isinstance(cut, str) and cut in self.made:
                self.spares.append(self.made.pop(cut))
        made: dict[str, Made] = {}
        for cut, one in self.made.items():
            name = names.get(cut, cut)
            if isinstance(places, dict) and name in places:
                told = _made(name, event.plan, places[name])
                one = told if told.placed is not None else one
            made[name] = replace(one, cut=name)
        self.made = made


def history_of(events: Iterable[Event]) -> History:
    """What the events tell; one that cannot be read tells only that its cut is made."""
    reading = _Reading()
    for event in events:
        reading.take(event)
    return History(tuple(reading.made.values()), tuple(reading.spares), reading.planned)


def ticks_counted(events: Iterable[Event]) -> Iterator[tuple[Event, int]]:
    """Each event, and how many cuts were done when it had happened."""
    reading = _Reading()
    for event in events:
        reading.take(event)
        yield event, len(reading.made)


def progress(events: Iterable[Event]) -> tuple[str, ...]:
    """Names of the cuts that are done, as the last plan calls them, in the order they were cut."""
    return tuple(one.cut for one in history_of(events).made)


def planned_values(
    plan: Plan, called: Mapping[str, str], spares: Sequence[str], without: Iterable[str]
) -> dict[str, Any]:
    """What a record keeps of a plan that is cut by from now on.

    ``called`` gives made cuts their new names, ``spares`` are made cuts that serve nobody any more, and of the cuts in
    ``without`` (new names) the record has no places yet.
    """
    lacking = set(without)
    return {
        "places": [[one.cut.id, one.piece, str(one.start)] for one in plan.placements],
        "pieces": [piece_values(use.piece) for use in plan.pieces],
        "windows": [window.name for window in plan.job.windows],
        "wishes": list(wish_values(plan.job)),
        "called": {old: new for old, new in called.items() if old != new},
        "spares": list(spares),
        "made": {one.cut.id: _values(plan, one) for one in plan.placements if one.cut.id in lacking},
    }


def wish_values(job: Job) -> tuple[str, ...]:
    """The places that a job wishes for its cuts, a line each."""
    return tuple(
        f"{window.name}: {one.panel} {one.cut}, piece {one.piece}, near {one.near}"
        for window in job.windows
        for one in window.places
    )


def tick_values(plan: Plan, cut: str) -> dict[str, Any]:
    """What a record keeps of a tick besides the name of the cut."""
    placed = next((one for one in plan.placements if one.cut.id == cut), None)
    return {"placed": _values(plan, placed)} if placed else {}


def _values(plan: Plan, placed: Placement) -> dict[str, Any]:
    return placed_values(recorded(placed, plan.job.cloth), plan.pieces[placed.piece - 1].piece)


def _made(cut: str, plan: str, values: object) -> Made:
    try:
        return Made(cut, plan, *placed_in(values, cut))
    except ValueError:
        return Made(cut, plan)


def _planned_in(event: Event) -> Planned | None:
    more = event.more
    try:
        places = {name: (int(piece), exact(start)) for name, piece, start in more["places"]}
        pieces = tuple(piece_in(one) for one in more["pieces"])
        wishes = more.get("wishes", [])
        texts = [*places, *more["windows"], *wishes]
    except (KeyError, TypeError, ValueError):
        return None
    sound = len(places) <= MOST_PLACES and all(isinstance(text, str) for text in texts)
    on_pieces = all(1 <= piece <= len(pieces) for piece, _ in places.values())
    if not sound or not on_pieces:
        return None
    return Planned(event.plan, places, pieces, frozenset(more["windows"]), tuple(wishes))


def _names(values: object) -> dict[str, str]:
    if not isinstance(values, dict):
        return {}
    return {old: new for old, new in values.items() if isinstance(new, str)}
