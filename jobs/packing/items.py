"""Cuts as items: what lies side by side, what comes from one dye lot, and what a search needs to know of both."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from fractions import Fraction

from jobs.model.choices import TurnedOver
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Placement
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.records import dataclass
from jobs.packing.instance import Instance, Kind, Orders
from jobs.packing.rolls import Core, Roll, Shape, Units

Lane = tuple[Cut, ...]
"""One cut, or several side by side in one length that is cut off from selvedge to selvedge."""


@dataclass(frozen=True)
class Sound:
    """The part of a cut that no flaw may meet: along from its first edge, across from the near selvedge, in inches."""

    start: Fraction
    end: Fraction
    near: Fraction
    far: Fraction


def lanes_of(cuts: Iterable[Cut]) -> tuple[Lane, ...]:
    """The cuts, in their order, those that lie side by side together."""
    lanes: dict[tuple[bool, str], list[Cut]] = {}
    for cut in cuts:
        lanes.setdefault((bool(cut.beside), cut.beside or cut.id), []).append(cut)
    return tuple(tuple(lane) for lane in lanes.values())


def sound_part(cut: Cut, job: Job) -> Sound:
    """The part of a cut where a flaw would be seen, as the job says where flaws may lie.

    What is trimmed away at a side is no part of the cut.
    """
    start, end, near, far = (_hidden(cut, edge, job) for edge in Edge)
    low, high = cut.across[0] + near, cut.across[1] - far
    return Sound(start, max(start, cut.length - end), low, max(low, high))


def _hidden(cut: Cut, edge: Edge, job: Job) -> Fraction:
    """How much inside an edge of a cut a flaw may lie."""
    allowed, side = job.flaws_may_lie_in, cut.side_at(edge)
    if side is not None:
        return side.line if TurnedOver.SIDE_HEM in allowed and not side.joined else side.trim
    turned = TurnedOver.HEADING if edge is cut.top_edge else TurnedOver.HEM
    return cut.fold(edge) if turned in allowed else Fraction(0)


def is_spoilt(placement: Placement, piece: Piece, job: Job) -> bool:
    """Whether a flaw of its piece would be seen in a cut."""
    sound, start = sound_part(placement.cut, job), placement.start
    return any(
        flaw.start < start + sound.end
        and start + sound.start < flaw.end
        and (flaw.across is None or (flaw.across[0] < sound.far and sound.near < flaw.across[1]))
        for flaw in piece.flaws
    )


def lane_lengths(lanes: Sequence[Lane], job: Job, *, parted: bool) -> list[Fraction]:
    """Every length that a unit must measure to lay the lanes; ``parted`` when flaws lie over part of the width."""
    cloth = job.cloth
    found = {cloth.repeat.along} if cloth.repeat else set()
    for lane in lanes:
        found |= {lane[0].shared_length, lane_phase(lane, cloth)}
        if parted or job.flaws_may_lie_in:
            for cut in lane:
                sound = sound_part(cut, job)
                found |= {cut.before, sound.start, sound.end, sound.near, sound.far}
    return list(found)


def lane_shape(lane: Lane, job: Job, units: Units, *, parted: bool) -> Shape:
    """The shape that is laid for a lane."""
    length, phase = units.count(lane[0].shared_length), units.count(lane_phase(lane, job.cloth))
    if not parted and not job.flaws_may_lie_in:
        return Shape(length, phase)
    sounds = ((cut.before, sound_part(cut, job)) for cut in lane)
    cores = {
        Core(units.count(at + s.start), units.count(at + s.end), units.count(s.near), units.count(s.far))
        for at, s in sounds
    }
    return Shape(length, phase, tuple(sorted(cores)))


def lane_phase(lane: Lane, cloth: Cloth) -> Fraction:
    """From a row to where the length of a lane is cut off towards the first end, in [0, repeat); 0 on plain cloth."""
    return (lane[0].phase - lane[0].before) % cloth.repeat.along if cloth.repeat else Fraction(0)


def plain_shapes(cuts: Iterable[Cut], cloth: Cloth, units: Units) -> list[Shape]:
    """A shape for each length of cloth the cuts take, flaws left out of account."""
    return [Shape(units.count(lane[0].shared_length), units.count(lane_phase(lane, cloth))) for lane in lanes_of(cuts)]


def plain_units(cuts: Iterable[Cut], cloth: Cloth) -> Units:
    """Units that measure the repeat, every cut and every place in the repeat."""
    lanes = lanes_of(cuts)
    repeat = [cloth.repeat.along] if cloth.repeat else []
    lengths = (length for lane in lanes for length in (lane[0].shared_length, lane_phase(lane, cloth)))
    return Units.fitting([*repeat, *lengths])


def lots_of(pieces: Sequence[Piece]) -> list[tuple[int, ...]]:
    """Numbers of pieces, those of one dye lot together; a piece without a lot is one of its own."""
    lots: dict[str, list[int]] = {}
    for number, piece in enumerate(pieces):
        lots.setdefault(piece.dye_lot or f"\0{number}", []).append(number)
    return [tuple(lot) for lot in lots.values()]


def rooms_of(job: Job) -> dict[str, str]:
    """The room of each window that has one, by the window's name; none where pieces are yet to be ordered, as those
    are asked for from one lot."""
    return {window.name: window.room for window in job.windows if window.room and job.cloth.pieces}


def rooms_matter(job: Job, pieces: Sequence[Piece]) -> bool:
    """Whether a room has several windows and there are several dye lots to cut them from."""
    rooms = list(rooms_of(job).values())
    return len(set(rooms)) < len(rooms) and len(lots_of(pieces)) > 1


def mixed_rooms(placements: Iterable[Placement], job: Job, pieces: Sequence[Piece]) -> tuple[str, ...]:
    """Rooms whose windows are cut from more than one dye lot, in the order of the job."""
    lots = {piece: number for number, lot in enumerate(lots_of(pieces)) for piece in lot}
    rooms, met = rooms_of(job), dict[str, set[int]]()
    for placement in placements:
        if placement.cut.window in rooms:
            met.setdefault(rooms[placement.cut.window], set()).add(lots[placement.piece - 1])
    return tuple(room for room in dict.fromkeys(rooms.values()) if len(met.get(room, ())) > 1)


@dataclass(frozen=True)
class Bundling:
    """An instance, the lanes that each of its bundles stands for (equal bundles in the order of the job), and the place
    of each lane's window in the job."""

    instance: Instance
    members: tuple[tuple[int, ...], ...]
    windows: tuple[int, ...]

    def lanes_for(self, items: Sequence[int], orders: Orders) -> list[int]:
        """The lanes that the bundles of these items stand for, in the order of the job.

        Equal bundles may change places: those laid first stand for what comes first in the job.
        """
        standing = self._standing(orders)
        bundles = {self.instance.item_bundles[item] for item in items}
        return sorted(lane for bundle in bundles for lane in self.members[standing[bundle]])

    def _standing(self, orders: Orders) -> dict[int, int]:
        met = dict.fromkeys(self.instance.item_bundles[item] for order in orders for item in order)
        waiting = {kind: iter(bundles) for kind, bundles in self.instance.kinds.items()}
        return {bundle: next(waiting[self.instance.bundle_kinds[bundle]]) for bundle in met}


@dataclass(frozen=True)
class Together:
    """What comes from one lot: ``lots`` of pieces, the room of a window, the pieces that what is begun may come from.

    Windows of one room are one bundle. Pieces are counted from 0.
    """

    lots: Sequence[tuple[int, ...]]
    rooms: Mapping[str, str] = field(default_factory=dict)
    pieces: Mapping[str, tuple[int, ...]] = field(default_factory=dict)

    @property
    def free(self) -> bool:
        """Whether nothing binds the cuts of a window, as there is a single lot."""
        return len(self.lots) == 1

    @property
    def bound_lots(self) -> tuple[tuple[int, ...], ...]:
        """The lots as a search sees them: every piece by itself where nothing binds."""
        return tuple((piece,) for piece in self.lots[0]) if self.free else tuple(self.lots)

    def allowed(self, windows: Iterable[str]) -> tuple[int, ...] | None:
        """The numbers of the lots that these windows may come from; those of the first where they do not agree."""
        found: tuple[int, ...] | None = None
        for window in windows:
            if window in self.pieces:
                may = {number for number, lot in enumerate(self.bound_lots) if set(lot) & set(self.pieces[window])}
                both = may if found is None else may & set(found)
                found = tuple(sorted(both)) or found
        return found


def bundled(lanes: Sequence[Lane], shapes: Sequence[Shape], rolls: tuple[Roll, ...], together: Together) -> Bundling:
    """The instance of these lanes: windows that share a length are one bundle. With a single lot nothing binds them."""
    rooms = together.rooms
    places = {window: number for number, window in enumerate(dict.fromkeys(c.window for lane in lanes for c in lane))}
    windows = tuple(places[lane[0].window] for lane in lanes)
    groups = [[number] for number in range(len(lanes))] if together.free else _groups(lanes, rooms)
    distinct = tuple(sorted(set(shapes)))
    numbers = {shape: number for number, shape in enumerate(distinct)}

    def kind(group: Sequence[int]) -> Kind:
        allowed = together.allowed(dict.fromkeys(cut.window for lane in group for cut in lanes[lane]))
        return Kind(tuple(sorted(numbers[shapes[lane]] for lane in group)), allowed)

    def windows_in(group: Sequence[int]) -> list[tuple[int, ...]]:
        """What tells rooms apart that take the same shapes in other windows, whatever their order in the job."""
        inner = _groups([lanes[lane] for lane in group], {}) if rooms else []
        return sorted(kind([group[place] for place in window]).shapes for window in inner)

    entries = sorted(
        ((kind(group), group) for group in groups),
        key=lambda e: (e[0].shapes, e[0].allowed or (), windows_in(e[1]), e[1]),
    )
    return Bundling(
        Instance(
            shapes=distinct,
            bundles=tuple(kind.shapes for kind, _ in entries),
            rolls=rolls,
            lots=together.bound_lots,
            allowed=tuple(kind.allowed for kind, _ in entries),
        ),
        tuple(tuple(group) for _, group in entries),
        windows,
    )


def windows_together(lanes: Sequence[Lane]) -> list[list[Cut]]:
    """The cuts of windows that hang together because they share a length, in the order of the job."""
    return [[cut for number in group for cut in lanes[number]] for group in _groups(lanes, {})]


def _groups(lanes: Sequence[Lane], rooms: Mapping[str, str]) -> list[list[int]]:
    """Numbers of lanes that hang together by their windows and rooms, in the order of the job."""
    root: dict[str, str] = {}

    def find(window: str) -> str:
        while root.setdefault(window, window) != window:
            root[window] = root[root[window]]
            window = root[window]
        return window

    first: dict[str, str] = {}
    for lane in lanes:
        for cut in lane:
            if cut.window in rooms:
                root[find(cut.window)] = find(first.setdefault(rooms[cut.window], cut.window))
        for cut in lane[1:]:
            root[find(cut.window)] = find(lane[0].window)
    groups: dict[str, list[int]] = {}
    for number, lane in enumerate(lanes):
        groups.setdefault(find(lane[0].window), []).append(number)
    return list(groups.values())
