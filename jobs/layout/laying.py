"""Cuts laid on pieces, in inches."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from jobs.job import ZERO, Flaw, Job, Piece
from jobs.layout.assigning import assigned
from jobs.layout.begun import Begun, begun_with
from jobs.layout.bundling import Bundling, bundled
from jobs.layout.lanes import Lane, lane_lengths, lane_shape, lanes_of
from jobs.layout.many.solving import Solved, solved
from jobs.layout.many.watch import Progress, Watch
from jobs.layout.placing import Grains, Shape, Spot, Strip, merged_flaws
from jobs.layout.rooms import lots_of, mixed_rooms, rooms_matter, rooms_of
from jobs.layout.tidying import tidied
from jobs.plan import Cut, Placement


@dataclass(frozen=True)
class Laid:
    """Placements piece after piece in order along each, what they come to, and what no layout can beat.

    ``used`` counts each piece from its first end to the end of its last cut. ``short`` is how much cloth is missing:
    then the placements go on past the ends of the pieces. ``stopped`` tells that the person stopped the search,
    ``spread`` names windows that are cut from more than one piece of a dye lot, ``mixed_rooms`` rooms whose windows
    come from more than one dye lot.
    """

    placements: tuple[Placement, ...]
    used: Fraction
    bound: Fraction
    proved_shortest: bool
    short: Fraction
    stopped: bool
    spread: tuple[str, ...]
    mixed_rooms: tuple[str, ...] = ()


def lay(
    cuts: Sequence[Cut],
    job: Job,
    pieces: Sequence[Piece],
    tell: Callable[[Progress], None] | None = None,
    fixed: Sequence[Placement] = (),
) -> Laid:
    """The layout found to use least cloth; the order of the windows in the job changes no length of it.

    Every window comes from one piece, and only where that cannot be, from pieces of one dye lot. The windows of a room
    come from one dye lot wherever one holds them. What is ``fixed`` stays where it is, and what is left of its windows
    comes from its piece wherever that holds them.
    """
    begun = begun_with(fixed, cuts, job, pieces)
    if len(pieces) > 1 and begun.homes:
        begun = _finished(begun, job, pieces, tell)
    return _laid_around(begun, job, pieces, tell)


def _finished(begun: Begun, job: Job, pieces: Sequence[Piece], tell: Callable[[Progress], None] | None) -> Begun:
    """Windows that are begun laid on their pieces, where these hold them."""
    for number in sorted(set(begun.homes.values())):
        mine = tuple(cut for cut in begun.cuts if begun.homes.get(cut.window) == number)
        there = [replace(one, piece=1) for one in begun.fixed if one.piece == number]
        if not mine:
            continue
        laid = _laid_around(Begun(tuple(there), mine, {}), job, [pieces[number - 1]], tell)
        if not laid.short:
            left = tuple(cut for cut in begun.cuts if begun.homes.get(cut.window) != number)
            others = [one for one in begun.fixed if one.piece != number]
            begun = replace(begun, fixed=(*others, *(replace(one, piece=number) for one in laid.placements)), cuts=left)
    return begun


def _laid_around(begun: Begun, job: Job, pieces: Sequence[Piece], tell: Callable[[Progress], None] | None) -> Laid:
    """What is still to be laid, around what is fixed."""
    if not begun.cuts:
        used = sum((max(end for _, end in taken) for n in range(1, len(pieces) + 1) if (taken := begun.taken(n))), ZERO)
        laid = Laid((), used, used, True, ZERO, False, ())
    else:
        laid = _laid_anew(begun, job, pieces, tell)
    together = tuple(sorted((*begun.fixed, *laid.placements), key=lambda one: (one.piece, one.start)))
    return replace(laid, placements=together, spread=_spread(together), mixed_rooms=mixed_rooms(together, job, pieces))


def _laid_anew(begun: Begun, job: Job, pieces: Sequence[Piece], tell: Callable[[Progress], None] | None) -> Laid:
    lanes = lanes_of(begun.cuts)
    taken = [begun.taken(number) for number in range(1, len(pieces) + 1)]
    parted = any(flaw.across is not None for piece in pieces for flaw in piece.flaws)
    edges = [edge for piece in pieces for edge in (piece.length, piece.first_row, *_edges(piece.flaws))]
    edges += [edge for stretches in taken for stretch in stretches for edge in stretch]
    grains = Grains.fitting([*edges, job.allowances.squaring, *lane_lengths(lanes, job, parted=parted)])
    shapes = [lane_shape(lane, job, grains, parted=parted) for lane in lanes]
    strips = tuple(
        replace(
            _strip(piece, job, grains, parted=parted),
            taken=tuple((grains.count(start), grains.count(end)) for start, end in stretches),
        )
        for piece, stretches in zip(pieces, taken, strict=True)
    )
    watch = Watch(float(grains.grain), tell)
    if rooms_matter(job, pieces):
        by_rooms = _laid_by_rooms(lanes, shapes, strips, job, pieces, watch, grains)
        if by_rooms is not None:
            return by_rooms
    bundling, found = _solved(lanes, shapes, strips, pieces, watch)
    placements = _placements(bundling, found, lanes, shapes, grains)
    return _laid(placements, found.layout.used, found.layout.over, found.bound, grains, stopped=found.stopped)


def _laid(
    placements: tuple[Placement, ...], used: int, over: int, bound: int, grains: Grains, *, stopped: bool
) -> Laid:
    return Laid(
        placements=placements,
        used=grains.inches(used),
        bound=grains.inches(bound),
        proved_shortest=used == bound,
        short=grains.inches(over),
        stopped=stopped,
        spread=_spread(placements),
    )


def _laid_by_rooms(
    lanes: Sequence[Lane],
    shapes: Sequence[Shape],
    strips: tuple[Strip, ...],
    job: Job,
    pieces: Sequence[Piece],
    watch: Watch,
    grains: Grains,
) -> Laid | None:
    """Rooms shared out among the dye lots, then each lot laid by itself; None when they do not fit so."""
    lots = lots_of(pieces)
    together = bundled(lanes, shapes, strips, lots, rooms_of(job))
    shared = solved(together.house, watch.again())
    if shared.layout.over:
        return None
    if shared.stopped:
        laid = _placements(together, shared, lanes, shapes, grains)
        return _laid(laid, shared.layout.used, 0, shared.bound, grains, stopped=True)
    placements: list[Placement] = []
    used, stopped = 0, False
    for lot in lots:
        items = [item for strip in lot for item in shared.layout.orders[strip]]
        if not items:
            continue
        mine = together.lanes_for(items, shared.layout.orders)
        ours, theirs = [lanes[number] for number in mine], [shapes[number] for number in mine]
        mine_strips, mine_pieces = tuple(strips[s] for s in lot), [pieces[s] for s in lot]
        bundling, found = _solved(ours, theirs, mine_strips, mine_pieces, watch.again())
        if found.layout.over:
            return None
        used, stopped = used + found.layout.used, stopped or found.stopped
        laid = _placements(bundling, found, ours, theirs, grains)
        placements += (replace(placement, piece=lot[placement.piece - 1] + 1) for placement in laid)
    ordered = tuple(sorted(placements, key=lambda placement: (placement.piece, placement.start)))
    return _laid(ordered, used, 0, min(used, shared.bound), grains, stopped=stopped)


def _solved(
    lanes: Sequence[Lane], shapes: Sequence[Shape], strips: tuple[Strip, ...], pieces: Sequence[Piece], watch: Watch
) -> tuple[Bundling, Solved]:
    """Each window from one piece; where that does not fit, from one dye lot, if that needs less."""
    alone = bundled(lanes, shapes, strips, [(number,) for number in range(len(pieces))])
    found = solved(alone.house, watch)
    lots = lots_of(pieces)
    if not found.layout.over or found.stopped or len(lots) == len(pieces):
        return alone, found
    together = bundled(lanes, shapes, strips, lots)
    more = solved(together.house, watch.again())
    return (together, more) if more.layout.over < found.layout.over else (alone, found)


def _strip(piece: Piece, job: Job, grains: Grains, *, parted: bool) -> Strip:
    whole = [flaw for flaw in piece.flaws if flaw.across is None]
    repeat = job.cloth.repeat
    flaws = tuple((grains.count(start), grains.count(end)) for start, end in merged_flaws(whole))
    spots = [
        Spot(*(grains.count(edge) for edge in (flaw.start, flaw.end, *flaw.across)))
        for flaw in piece.flaws
        if parted and flaw.across is not None
    ]
    return Strip(
        repeat=grains.count(repeat.along) if repeat else 0,
        first_row=grains.count(piece.first_row),
        begin=grains.count(job.allowances.squaring),
        flaws=flaws,
        spots=tuple(sorted(spots)),
        end=grains.count(piece.length),
    )


def _edges(flaws: Sequence[Flaw]) -> list[Fraction]:
    return [edge for flaw in flaws for edge in (flaw.start, flaw.end, *(flaw.across or ()))]


def _placements(
    bundling: Bundling, found: Solved, lanes: Sequence[Lane], shapes: Sequence[Shape], grains: Grains
) -> tuple[Placement, ...]:
    """Real cuts for the items of a layout, tidied where it costs no cloth."""
    house = bundling.house
    chosen: list[list[int]] = [[] for _ in house.strips]
    for lot in house.lots:
        order = [(strip, item) for strip in lot for item in found.layout.orders[strip]]
        mine = bundling.lanes_for([item for _, item in order], found.layout.orders)
        named = assigned(
            [house.shapes[house.item_shapes[item]] for _, item in order],
            [lanes[number] for number in mine],
            [shapes[number] for number in mine],
        )
        numbers = {lanes[number][0].id: number for number in mine}
        for (strip, _), lane in zip(order, named, strict=True):
            chosen[strip].append(numbers[lane[0].id])
    shape_numbers = {shape: number for number, shape in enumerate(house.shapes)}
    placements: list[Placement] = []
    for strip, (track, order_) in enumerate(zip(house.tracks, chosen, strict=True)):
        kinds = [(shape_numbers[shapes[n]], lanes[n][0].way, bundling.windows[n]) for n in order_]
        tidy = [order_[number] for number in tidied(track, kinds)] if order_ else []
        starts = track.starts([shape_numbers[shapes[number]] for number in tidy])
        placements += (
            Placement(cut, strip + 1, grains.inches(start))
            for number, start in zip(tidy, starts, strict=True)
            for cut in lanes[number]
        )
    return tuple(placements)


def _spread(placements: Sequence[Placement]) -> tuple[str, ...]:
    pieces: dict[str, set[int]] = {}
    for placement in placements:
        pieces.setdefault(placement.cut.window, set()).add(placement.piece)
    return tuple(window for window, numbers in pieces.items() if len(numbers) > 1)
