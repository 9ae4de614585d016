"""Cuts that shall lie where the person wishes them: each as near to its wish as rows, flaws and other cuts allow."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from jobs.model.choices import Unit
from jobs.model.cuts import MOST_CUTS, Cut, Placement
from jobs.model.job import Job
from jobs.model.piece import Piece, Place
from jobs.model.problems import Code, Path, Problem, problem
from jobs.model.records import dataclass
from jobs.model.window import Made
from jobs.packing.begun import Begun
from jobs.packing.items import Lane, is_spoilt, lane_phase, lanes_of, lots_of, sound_part

_STEP = {Unit.INCH: Fraction(1), Unit.CENTIMETRE: Fraction(50, 127), Unit.MILLIMETRE: Fraction(50, 127)}
"""How far apart places on plain cloth are offered: an inch, or a centimetre."""


@dataclass(frozen=True)
class Wish:
    """A wish of the job: what of it is meant, where it stands in the job, the window it is of, which of its cuts."""

    place: Place
    path: Path
    window: str
    cut: int


@dataclass(frozen=True)
class Met:
    """A wish that is met, with where its cut, and what lies beside it, then lies."""

    wish: Wish
    placements: tuple[Placement, ...]


def wishes_of(job: Job) -> tuple[Wish, ...]:
    """Every wish of a job, in its order; of several things alike each has those for itself, and the first also those
    for more than there are."""
    return tuple(
        Wish(place, ("windows", number, "places", at), window.name, cut)
        for number, window in enumerate(job.windows)
        for at, place in enumerate(window.places)
        if (cut := _cut_meant(place, window.made)) is not None
    )


def _cut_meant(place: Place, made: Made | None) -> int | None:
    """Which cut of the window is meant; None for that of another thing alike."""
    if made is None or not made.copy:
        return place.cut
    if place.cut == made.copy:
        return 1
    return place.cut if made.copy == 1 and place.cut > made.copies else None


def place_of_cut(cut: Cut, made: Made | None) -> int | None:
    """The number under which a wish names the cut; None where none can: of a thing that is joined there is one for its
    first cut alone, and not for more than can be counted."""
    if made is None or not made.copy:
        return cut.number
    return made.copy if cut.number == 1 and made.copy <= MOST_CUTS else None


def wished(begun: Begun, job: Job, pieces: Sequence[Piece]) -> tuple[tuple[Met, ...], tuple[Problem, ...]]:
    """The wishes that can be met, one after another, and why others cannot; a cut that is made has its place."""
    met: list[Met] = []
    unmet: list[Problem] = []
    for wish in wishes_of(job):
        found = _met(wish, begun.with_fixed([one for other in met for one in other.placements]), job, pieces)
        if isinstance(found, Problem):
            unmet.append(found)
        elif found is not None:
            met.append(found)
    return tuple(met), tuple(unmet)


def _met(wish: Wish, begun: Begun, job: Job, pieces: Sequence[Piece]) -> Met | Problem | None:
    """The wish met, or why not; None for a cut that is made, or lies beside another that was wished somewhere."""
    place = wish.place
    lane = next((lane for lane in lanes_of(begun.cuts) if any(_is_of(wish, cut) for cut in lane)), None)
    if lane is None:
        placed = any(_is_of(wish, one.cut) for one in begun.fixed)
        return None if placed else problem(wish.path, Code.WISH_FOR_NO_CUT)
    if place.piece > len(pieces):
        return problem(wish.path, Code.WISH_FOR_NO_PIECE, piece=place.piece, pieces=len(pieces))
    lots = {piece: number for number, lot in enumerate(lots_of(pieces)) for piece in lot}
    homes = {begun.homes[cut.window] for cut in lane if cut.window in begun.homes}
    if any(lots[home - 1] != lots[place.piece - 1] for home in homes):
        return problem(wish.path, Code.WISH_FROM_ANOTHER_LOT, piece=place.piece)
    near = place.near - next(cut.before for cut in lane if _is_of(wish, cut))
    starts = places_for(lane, place.piece, begun.fixed, job, pieces[place.piece - 1], near)
    if not starts:
        return problem(wish.path, Code.WISH_FOUND_NO_PLACE, piece=place.piece)
    start = min(starts, key=lambda at: (abs(at - near), at))
    return Met(wish, tuple(Placement(cut, place.piece, start + cut.before) for cut in lane))


def _is_of(wish: Wish, cut: Cut) -> bool:
    return (cut.window, cut.hand, cut.number) == (wish.window, wish.place.panel, wish.cut)


def places_for(
    lane: Lane, number: int, others: Iterable[Placement], job: Job, piece: Piece, near: Fraction | None = None
) -> tuple[Fraction, ...]:
    """Where the length of a lane may begin on piece ``number``, in order: its cuts on their rows, past the squaring,
    clear of flaws and of the stretches of ``others``.

    On plain cloth, where they may begin anywhere, those at full inches (centimetres), at every edge of what is in the
    way, and at ``near``.
    """
    length = lane[0].shared_length
    first, last = job.allowances.squaring, piece.length - length
    taken = [one.crosscuts for one in others if one.piece == number]
    return tuple(
        start
        for start in _candidates(lane, first, last, taken, job, piece, near)
        if not any(start < end and low < start + length for low, end in taken)
        and not any(is_spoilt(Placement(cut, number, start + cut.before), piece, job) for cut in lane)
    )


def _candidates(
    lane: Lane,
    first: Fraction,
    last: Fraction,
    taken: Sequence[tuple[Fraction, Fraction]],
    job: Job,
    piece: Piece,
    near: Fraction | None,
) -> Iterator[Fraction]:
    repeat = job.cloth.repeat
    if repeat is not None:
        begin = first + (piece.first_row + lane_phase(lane, job.cloth) - first) % repeat.along
        yield from (begin + number * repeat.along for number in range(math.floor((last - begin) / repeat.along) + 1))
        return
    step, length = _STEP[job.unit], lane[0].shared_length
    found = {first, last, *(step * number for number in range(math.ceil(first / step), math.floor(last / step) + 1))}
    found |= {at for low, high in taken for at in (low - length, high)}
    for cut in lane:
        sound = sound_part(cut, job)
        found |= {
            at
            for flaw in piece.flaws
            for at in (flaw.start - sound.end - cut.before, flaw.end - sound.start - cut.before)
        }
    if near is not None:
        found.add(min(max(near, first), last))
    yield from sorted(at for at in found if first <= at <= last)
