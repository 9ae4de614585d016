"""Small things placed on what is left, the largest first, each where it leaves most for the others."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting import columns_across
from jobs.job import Cloth, Job, Motif, Wanted
from jobs.plan import PieceUse, PlacedThing, Span, Unplaced


@dataclass(frozen=True)
class Free:
    """A free rectangle of a piece, in inches in the piece frame."""

    piece: int
    start: Fraction
    end: Fraction
    near: Fraction
    far: Fraction

    @property
    def area(self) -> Fraction:
        return (self.end - self.start) * (self.far - self.near)

    def holds(self, other: Free) -> bool:
        """Whether the other rectangle lies inside this one."""
        along = self.start <= other.start and other.end <= self.end
        return self.piece == other.piece and along and self.near <= other.near and other.far <= self.far

    def meets(self, other: Free) -> bool:
        """Whether the two have more in common than an edge."""
        along = self.start < other.end and other.start < self.end
        return self.piece == other.piece and along and self.near < other.far and other.near < self.far


def placed_things(job: Job, uses: Sequence[PieceUse]) -> tuple[tuple[PlacedThing, ...], tuple[Unplaced, ...]]:
    """Where each thing wanted lies, in the order of the job, and what found no room.

    A thing lies between the selvedges, on one leftover; a centred one with a motif in its middle.
    """
    free = [_free(use.number, span, job.cloth) for use in uses for span in (*use.leftovers, *use.beside)]
    first_rows = {use.number: use.piece.first_row for use in uses}
    found: dict[int, list[PlacedThing]] = {}
    missing: dict[int, int] = {}
    for number in sorted(range(len(job.wanted)), key=lambda n: (-job.wanted[n].along * job.wanted[n].across, n)):
        thing = job.wanted[number]
        for copy in range(1, thing.count + 1):
            place = _place(thing, free, job.cloth, first_rows)
            if place is None:
                missing[number] = thing.count - copy + 1
                break
            found.setdefault(number, []).append(_placed(thing, copy, place))
            free = _without(free, place)
    things = tuple(thing for number in sorted(found) for thing in found[number])
    return things, tuple(Unplaced(job.wanted[number].name, missing[number]) for number in sorted(missing))


def _free(piece: int, span: Span, cloth: Cloth) -> Free:
    near, far = span.across or (cloth.selvedge, cloth.width - cloth.selvedge)
    return Free(piece, span.start, span.end, near, far)


def _place(thing: Wanted, free: Iterable[Free], cloth: Cloth, first_rows: dict[int, Fraction]) -> Free | None:
    """The place in the smallest rectangle that has one, nearest the first end, then the near selvedge."""
    for room in sorted(free, key=lambda one: (one.area, one.piece, one.start, one.near)):
        if room.end - room.start < thing.along or room.far - room.near < thing.across:
            continue
        if thing.motif is Motif.ANYWHERE:
            return _at(room.piece, room.start, room.near, thing)
        corners = _centred(thing, room, cloth, first_rows[room.piece])
        if corners:
            return _at(room.piece, *min(corners), thing)
    return None


def _centred(thing: Wanted, room: Free, cloth: Cloth, first_row: Fraction) -> list[tuple[Fraction, Fraction]]:
    """Starts along and across at which a motif lies in the middle, the first one of each column."""
    if cloth.repeat is None:
        return []
    found = []
    for number, column in enumerate(columns_across(cloth)):
        near = column - thing.across / 2
        if not room.near <= near <= room.far - thing.across:
            continue
        row, along = first_row + number * cloth.drop * cloth.repeat.along, cloth.repeat.along
        start = row + math.ceil((room.start + thing.along / 2 - row) / along) * along - thing.along / 2
        if start + thing.along <= room.end:
            found.append((start, near))
    return found


def _at(piece: int, start: Fraction, near: Fraction, thing: Wanted) -> Free:
    return Free(piece, start, start + thing.along, near, near + thing.across)


def _placed(thing: Wanted, number: int, place: Free) -> PlacedThing:
    return PlacedThing(
        thing.name, number, thing.count, place.piece, place.start, place.end, place.near, place.far, thing.motif
    )


def _without(free: Iterable[Free], taken: Free) -> list[Free]:
    """The largest free rectangles once one is taken."""
    parts: list[Free] = []
    for room in free:
        if not room.meets(taken):
            parts.append(room)
            continue
        parts += (
            part
            for part in (
                Free(room.piece, room.start, taken.start, room.near, room.far),
                Free(room.piece, taken.end, room.end, room.near, room.far),
                Free(room.piece, room.start, room.end, room.near, taken.near),
                Free(room.piece, room.start, room.end, taken.far, room.far),
            )
            if part.start < part.end and part.near < part.far
        )
    distinct = list(dict.fromkeys(parts))
    return [one for one in distinct if not any(other is not one and other.holds(one) for other in distinct)]
