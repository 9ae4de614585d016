"""Cuts packed on pieces, in inches."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.model.cuts import Cut, Placement
from jobs.model.cuts import Interval as Stretch
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece
from jobs.model.problems import Code, JobRefused, Problem, problem
from jobs.model.records import dataclass
from jobs.model.schema import ZERO
from jobs.packing.begun import Begun, begun_with
from jobs.packing.items import (
    Bundling,
    Lane,
    Together,
    bundled,
    lane_lengths,
    lane_shape,
    lanes_of,
    lots_of,
    mixed_rooms,
    rooms_matter,
    rooms_of,
)
from jobs.packing.order import Lying, assigned, tidied
from jobs.packing.rolls import Interval, Roll, Shape, Spot, Units, merged_flaws
from jobs.packing.solve import AT_ONCE, LITTLE, MOST, Effort, Solved, solve
from jobs.packing.watch import Progress, Watch
from jobs.packing.wished import Met, wished

MOST_FROM_SEVERAL = 4_000
"""Lengths of cloth taken from several pieces in one plan: as many as are packed in some ten seconds."""


@dataclass(frozen=True)
class Packed:
    """Placements piece after piece in order along each, what they come to, and what no other can beat.

    ``used`` counts each piece from its first end to the end of its last cut. ``short`` is how much cloth is missing:
    then the placements go on past the ends of the pieces. ``stopped`` tells that the person stopped the search,
    ``spread`` names windows that are cut from more than one piece of a dye lot, ``mixed_rooms`` rooms whose windows
    come from more than one dye lot, ``unmet`` tells which wishes for places could not be met, and why. No other can
    open fewer pieces than ``least_opened``, none that opens as few as these do can use less than ``bound``.
    """

    placements: tuple[Placement, ...]
    used: Fraction
    bound: Fraction
    short: Fraction
    stopped: bool
    spread: tuple[str, ...] = ()
    mixed_rooms: tuple[str, ...] = ()
    unmet: tuple[Problem, ...] = ()
    least_opened: int = 0


def pack(
    cuts: Sequence[Cut],
    job: Job,
    pieces: Sequence[Piece],
    *,
    fixed: Sequence[Placement] = (),
    tell: Callable[[Progress], None] | None = None,
    until_it_fits: bool = False,
) -> Packed:
    """The placements found to use least cloth; the order of the windows in the job changes no length of them.

    Every window comes from one piece, and only where that cannot be, from pieces of one dye lot. The windows of a room
    come from one dye lot wherever one holds them. What is ``fixed`` stays where it is, and what is left of its windows
    comes from its piece wherever that holds them. Cuts that the job wishes somewhere lie there where the others find
    room beside them, else the wish is left aside. ``until_it_fits`` asks only whether it fits: little is searched, and
    the first placements that fit are the answer. Raises JobRefused where there is more to pack than can be.
    """
    begun = begun_with(fixed, cuts, job, pieces)
    watch = Watch(tell=tell, until_it_fits=until_it_fits)
    if until_it_fits:
        return _packed(begun, job, pieces, watch)
    met, unmet = wished(begun, job, pieces)
    found = _packed(begun.with_fixed(_placed(met)), job, pieces, watch)
    if met and not found.stopped and not _fits(found, met, pieces):
        met, crowding = _with_room(met, begun, job, pieces)
        found, unmet = _packed(begun.with_fixed(_placed(met)), job, pieces, watch), (*unmet, *crowding)
    return replace(found, unmet=unmet)


def _packed(begun: Begun, job: Job, pieces: Sequence[Piece], watch: Watch) -> Packed:
    if begun.cuts:
        packer = _packer(begun, job, pieces, watch)
        packed = packer.packed(rooms_of(job) if rooms_matter(job, pieces) else {})
    else:
        ends = [begun.taken(number + 1)[-1][1] for number in range(len(pieces)) if begun.taken(number + 1)]
        packed = Packed((), sum(ends, ZERO), sum(ends, ZERO), ZERO, stopped=False, least_opened=len(ends))
    placed = tuple(sorted((*begun.fixed, *packed.placements), key=lambda one: (one.piece, one.start)))
    return replace(packed, placements=placed, spread=_spread(placed), mixed_rooms=mixed_rooms(placed, job, pieces))


def _placed(met: Sequence[Met]) -> list[Placement]:
    return [one for each in met for one in each.placements]


def _fits(packed: Packed, met: Sequence[Met], pieces: Sequence[Piece]) -> bool:
    """Whether all lies on the pieces, and no window is torn between dye lots by a wish for it or for what lies beside
    it in one length."""
    lots = {piece + 1: number for number, lot in enumerate(lots_of(pieces)) for piece in lot}
    windows: dict[str, set[int]] = {one.cut.window: set() for one in _placed(met)}
    for one in packed.placements if not packed.short else ():
        if one.cut.window in windows:
            windows[one.cut.window].add(lots[one.piece])
    return not packed.short and all(len(found) == 1 for found in windows.values())


def _with_room(
    met: Sequence[Met], begun: Begun, job: Job, pieces: Sequence[Piece]
) -> tuple[tuple[Met, ...], tuple[Problem, ...]]:
    """The wishes that leave room for all other cuts, earlier ones first, and the others; none is at fault where the
    cloth is too short without them."""
    quick = Watch(until_it_fits=True)
    if _packed(begun, job, pieces, quick).short:
        return (), ()
    kept: tuple[Met, ...] = ()
    crowding: list[Problem] = []
    for one in met:
        more = (*kept, one)
        if _fits(_packed(begun.with_fixed(_placed(more)), job, pieces, quick), more, pieces):
            kept = more
        else:
            crowding.append(problem(one.wish.path, Code.WISH_LEAVES_NO_ROOM, piece=one.wish.place.piece))
    return kept, tuple(crowding)


def _packer(begun: Begun, job: Job, pieces: Sequence[Piece], watch: Watch) -> _Packer:
    taken = [begun.taken(number) for number in range(1, len(pieces) + 1)]
    lanes, shapes, rolls, units = as_lanes(begun.cuts, job, pieces, taken)
    if len(pieces) > 1 and len(lanes) > MOST_FROM_SEVERAL:
        counts = {"cuts": len(lanes), "pieces": len(pieces), "most": MOST_FROM_SEVERAL}
        raise JobRefused([problem(("windows",), Code.TOO_MANY_FROM_SEVERAL, **counts)])
    return _Packer(
        lanes=lanes,
        shapes=shapes,
        rolls=rolls,
        lots=lots_of(pieces),
        homes={window: piece - 1 for window, piece in begun.homes.items()},
        units=units,
        watch=watch.again(float(units.unit)),
    )


def as_lanes(
    cuts: Sequence[Cut], job: Job, pieces: Sequence[Piece], taken: Sequence[Sequence[Stretch]] = ()
) -> tuple[tuple[Lane, ...], list[Shape], tuple[Roll, ...], Units]:
    """Cuts as lanes with their shapes, and pieces as rolls, in units that measure them; ``taken`` of each piece."""
    lanes, taken = lanes_of(cuts), taken or [()] * len(pieces)
    parted = any(flaw.across is not None for piece in pieces for flaw in piece.flaws)
    edges = [edge for piece in pieces for edge in (piece.length, piece.first_row, *_edges(piece.flaws))]
    edges += [edge for stretches in taken for stretch in stretches for edge in stretch]
    units = Units.fitting([*edges, job.allowances.squaring, *lane_lengths(lanes, job, parted=parted)])
    shapes = [lane_shape(lane, job, units, parted=parted) for lane in lanes]
    rolls = tuple(
        _roll(piece, job, units, tuple((units.count(start), units.count(end)) for start, end in stretches))
        for piece, stretches in zip(pieces, taken, strict=True)
    )
    return lanes, shapes, rolls, units


def _roll(piece: Piece, job: Job, units: Units, taken: tuple[Interval, ...]) -> Roll:
    whole = [flaw for flaw in piece.flaws if flaw.across is None]
    repeat = job.cloth.repeat
    spots = [
        Spot(*(units.count(edge) for edge in (flaw.start, flaw.end, *flaw.across)))
        for flaw in piece.flaws
        if flaw.across is not None
    ]
    return Roll(
        repeat=units.count(repeat.along) if repeat else 0,
        first_row=units.count(piece.first_row),
        begin=units.count(job.allowances.squaring),
        flaws=tuple((units.count(start), units.count(end)) for start, end in merged_flaws(whole)),
        spots=tuple(sorted(spots)),
        end=units.count(piece.length),
        taken=taken,
    )


def _edges(flaws: Sequence[Flaw]) -> list[Fraction]:
    return [edge for flaw in flaws for edge in (flaw.start, flaw.end, *(flaw.across or ()))]


def _spread(placements: Sequence[Placement]) -> tuple[str, ...]:
    pieces: dict[str, set[int]] = {}
    for placement in placements:
        pieces.setdefault(placement.cut.window, set()).add(placement.piece)
    return tuple(window for window, numbers in pieces.items() if len(numbers) > 1)


@dataclass(frozen=True)
class _Packer:
    """Lanes with their shapes, and the rolls to pack them on; rolls, lots and homes are counted from 0."""

    lanes: Sequence[Lane]
    shapes: Sequence[Shape]
    rolls: tuple[Roll, ...]
    lots: Sequence[tuple[int, ...]]
    homes: dict[str, int]
    units: Units
    watch: Watch
    effort: Effort = MOST

    def packed(self, rooms: dict[str, str]) -> Packed:
        """The lanes on the rolls, rooms kept together where that can be."""
        packer = self if not self.watch.until_it_fits else replace(self, effort=LITTLE)
        by_rooms = packer._by_rooms(rooms) if rooms else None
        if by_rooms is not None and (by_rooms.stopped or not by_rooms.short):
            return by_rooms
        return packer._by_windows()

    def _by_rooms(self, rooms: dict[str, str]) -> Packed | None:
        """Rooms shared out among the dye lots, then each lot packed by itself; None when they do not fit so."""
        together = bundled(self.lanes, self.shapes, self.rolls, Together(self.lots, rooms, self._begun_lots()))
        shared = solve(together.instance, self.watch.again(), self.effort.some())
        if shared.layout.over:
            return self._result(together, shared) if shared.stopped else None
        placements: list[Placement] = []
        used, stopped = ZERO, shared.stopped
        for lot in self.lots:
            items = [item for roll in lot for item in shared.layout.orders[roll]]
            if items:
                mine = together.lanes_for(items, shared.layout.orders)
                packed = replace(self._part(mine, lot), effort=AT_ONCE if stopped else self.effort)._by_windows()
                if packed.short:
                    return self._result(together, shared)
                placements += (replace(one, piece=lot[one.piece - 1] + 1) for one in packed.placements)
                used, stopped = used + packed.used, stopped or packed.stopped
            else:
                used += self.units.inches(sum(self.rolls[roll].used for roll in lot))
        bound = min(used, self.units.inches(shared.bound))
        return Packed(tuple(placements), used, bound, ZERO, stopped, least_opened=shared.least_opened)

    def _part(self, lanes: Iterable[int], rolls: Sequence[int]) -> _Packer:
        """Some of the lanes on the rolls of one lot."""
        numbers = list(lanes)
        return replace(
            self,
            lanes=[self.lanes[number] for number in numbers],
            shapes=[self.shapes[number] for number in numbers],
            rolls=tuple(self.rolls[roll] for roll in rolls),
            lots=[tuple(range(len(rolls)))],
            homes={window: rolls.index(roll) for window, roll in self.homes.items() if roll in rolls},
        )

    def _by_windows(self) -> Packed:
        """Each window from one roll; where that does not fit, from one lot, if that needs less."""
        found = self._kept_together(self._begun_rolls())
        if found[1].layout.over and self.homes and not found[1].stopped:
            anywhere = self._kept_together({})
            found = min(found, anywhere, key=lambda each: each[1].layout.over)
        return self._result(*found)

    def _kept_together(self, begun: dict[str, tuple[int, ...]]) -> tuple[Bundling, Solved]:
        single = [(number,) for number in range(len(self.rolls))]
        alone = bundled(self.lanes, self.shapes, self.rolls, Together(single, pieces=begun))
        found = solve(alone.instance, self.watch.again(), self.effort)
        if not found.layout.over or found.stopped or len(self.lots) == len(self.rolls):
            return alone, found
        together = bundled(self.lanes, self.shapes, self.rolls, Together(self.lots, pieces=begun))
        more = solve(together.instance, self.watch.again(), self.effort)
        return (together, more) if more.layout.over < found.layout.over else (alone, found)

    def _begun_lots(self) -> dict[str, tuple[int, ...]]:
        lots = {roll: lot for lot in self.lots for roll in lot}
        return {window: lots[roll] for window, roll in self.homes.items()}

    def _begun_rolls(self) -> dict[str, tuple[int, ...]]:
        """The rolls that what is left of a begun window may come from: its own where that holds it, else of its lot."""
        begun = self._begun_lots() if len(self.rolls) > 1 else {}
        for roll in sorted(set(self.homes.values())) if begun else ():
            mine = sorted(window for window, home in self.homes.items() if home == roll)
            kept = mine if self._holds(roll, mine) else []
            for window in mine if not kept else ():
                kept += [window] if self._holds(roll, [*kept, window]) else []
            begun.update((window, (roll,)) for window in kept)
        return begun

    def _holds(self, roll: int, windows: Sequence[str]) -> bool:
        """Whether a roll has room for what is left of windows, nothing else on it."""
        mine = [number for number, lane in enumerate(self.lanes) if any(cut.window in windows for cut in lane)]
        if not mine:
            return True
        part = self._part(mine, (roll,))
        instance = bundled(part.lanes, part.shapes, part.rolls, Together(part.lots)).instance
        return not solve(instance, self.watch.again(until_it_fits=True), LITTLE).layout.over

    def _result(self, bundling: Bundling, found: Solved) -> Packed:
        used, over, bound = (self.units.inches(n) for n in (found.layout.used, found.layout.over, found.bound))
        placements = self._placements(bundling, found)
        return Packed(placements, used, bound, over, found.stopped, least_opened=found.least_opened)

    def _placements(self, bundling: Bundling, found: Solved) -> tuple[Placement, ...]:
        """Real cuts for the items of a layout, tidied where it costs no cloth."""
        instance = bundling.instance
        chosen: list[list[int]] = [[] for _ in instance.rolls]
        for lot in instance.lots:
            order = [(roll, item) for roll in lot for item in found.layout.orders[roll]]
            mine = bundling.lanes_for([item for _, item in order], found.layout.orders)
            named = assigned(
                [instance.shapes[instance.item_shapes[item]] for _, item in order],
                [self.lanes[number] for number in mine],
                [self.shapes[number] for number in mine],
            )
            numbers = {self.lanes[number][0].id: number for number in mine}
            for (roll, _), lane in zip(order, named, strict=True):
                chosen[roll].append(numbers[lane[0].id])
        shape_numbers = {shape: number for number, shape in enumerate(instance.shapes)}
        placements: list[Placement] = []
        for roll, (track, laid) in enumerate(zip(instance.tracks, chosen, strict=True)):
            lying = [Lying(shape_numbers[self.shapes[n]], self.lanes[n][0].way, bundling.windows[n]) for n in laid]
            tidy = [laid[number] for number in tidied(track, lying)] if laid else []
            starts = track.starts([shape_numbers[self.shapes[number]] for number in tidy])
            placements += (
                Placement(cut, roll + 1, self.units.inches(start) + cut.before)
                for number, start in zip(tidy, starts, strict=True)
                for cut in self.lanes[number]
            )
        return tuple(placements)
