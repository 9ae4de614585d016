"""What is left of a roll once its cuts are taken, and small things placed on it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.cutting.columns import columns_across
from jobs.model.choices import End, Motif
from jobs.model.cloth import Cloth
from jobs.model.cuts import Placement
from jobs.model.goods import Wanted
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.plan import PieceUse, PlacedThing, Span, Unplaced
from jobs.model.records import dataclass
from jobs.model.schema import ZERO
from jobs.packing.rolls import merged_flaws

KEPT_IN = Fraction(5)
"""Leftovers from this length on are listed one by one (common practice, no source: 5 to 6 in are kept)."""


def leftovers(piece: Piece, squaring: Fraction, placements: Iterable[Placement]) -> tuple[Span, ...]:
    """The stretches after squaring, selvedge to selvedge, that no cut uses and no flaw spoils, in order along it."""
    taken = [placement.crosscuts for placement in placements]
    taken += [(start, end) for start, end in merged_flaws(piece.flaws)]
    return tuple(Span(start, end) for start, end in _between(taken, squaring, piece.length))


def strips_beside(piece: Piece, cloth: Cloth, placements: Iterable[Placement]) -> tuple[Span, ...]:
    """The strips beside narrow cuts and at their ends, between the selvedges, that no cut uses and no flaw spoils."""
    lengths: dict[tuple[Fraction, Fraction], list[Placement]] = {}
    for placement in placements:
        lengths.setdefault(placement.crosscuts, []).append(placement)
    found = []
    low, high = cloth.near_selvedge, cloth.width - cloth.far_selvedge
    for (start, end), lane in sorted(lengths.items(), key=lambda one: one[0]):
        for strip in _between([one.cut.across for one in lane], low, high):
            found += _sound_spans(piece, strip, start, end)
        for one in lane:
            strip = max(low, one.cut.across[0]), min(high, one.cut.across[1])
            found += [*_sound_spans(piece, strip, start, one.start), *_sound_spans(piece, strip, one.end, end)]
    return tuple(found)


def _sound_spans(piece: Piece, strip: tuple[Fraction, Fraction], start: Fraction, end: Fraction) -> list[Span]:
    near, far = strip
    spoilt = [
        (flaw.start, flaw.end)
        for flaw in piece.flaws
        if flaw.across is None or (flaw.across[0] < far and near < flaw.across[1])
    ]
    return [Span(first, last, strip) for first, last in _between(spoilt, start, end)] if start < end else []


def with_rows(spans: Iterable[Span], piece: Piece, cloth: Cloth) -> tuple[Span, ...]:
    """The spans with the rows of the print that lie inside them."""
    if cloth.repeat is None:
        return tuple(spans)
    return tuple(replace(span, rows=rows_inside(span, piece.first_row, cloth.repeat.along)) for span in spans)


def rows_inside(span: Span, first_row: Fraction, along: Fraction) -> tuple[Fraction, ...]:
    """Positions along the piece, from the span's start to its end, of the rows of the first column."""
    low, high = math.ceil((span.start - first_row) / along), math.floor((span.end - first_row) / along)
    return tuple(first_row + number * along for number in range(low, high + 1))


def _between(
    taken: Iterable[tuple[Fraction, Fraction]], start: Fraction, end: Fraction
) -> list[tuple[Fraction, Fraction]]:
    """What lies between stretches that are taken, from ``start`` to ``end``."""
    free, free_from = [], start
    for low, high in [*sorted(taken), (end, end)]:
        if min(low, end) > free_from:
            free.append((free_from, min(low, end)))
        free_from = max(free_from, high)
    return free


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
    near, far = span.across or (cloth.near_selvedge, cloth.width - cloth.far_selvedge)
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
    """Starts along and across at which a motif, or the point chosen of it, lies in the middle, one for each column.

    The point lies so far down from its row as the print hangs: along where the tops point to the first end.
    """
    if cloth.repeat is None:
        return []
    down, aside = thing.point or (ZERO, ZERO)
    lower = down if cloth.print.top_towards is End.FIRST else -down
    found = []
    for number, column in enumerate(columns_across(cloth)):
        near = column + aside - thing.across / 2
        if not room.near <= near <= room.far - thing.across:
            continue
        row, along = first_row + lower + number * cloth.drop * cloth.repeat.along, cloth.repeat.along
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
