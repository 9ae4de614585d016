"""Windows as bundles of shapes that must come from one lot, and back again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from jobs.layout.lanes import Lane
from jobs.layout.many.house import House, Orders
from jobs.layout.placing import Shape, Strip
from jobs.plan import Cut


@dataclass(frozen=True)
class Bundling:
    """A house, for each of its bundles the lanes it stands for (equal bundles in the order of the job), and for each
    lane the place of its window in the job."""

    house: House
    members: tuple[tuple[int, ...], ...]
    windows: tuple[int, ...]

    def lanes_for(self, items: Sequence[int], orders: Orders) -> list[int]:
        """The lanes that the bundles of these items stand for, in the order of the job.

        Equal bundles may change places: those laid first stand for what comes first in the job.
        """
        standing = self._standing(orders)
        bundles = {self.house.item_bundles[item] for item in items}
        return sorted(lane for bundle in bundles for lane in self.members[standing[bundle]])

    def _standing(self, orders: Orders) -> dict[int, int]:
        met = dict.fromkeys(self.house.item_bundles[item] for order in orders for item in order)
        kinds: dict[tuple[int, ...], list[int]] = {}
        for bundle, kind in enumerate(self.house.bundles):
            kinds.setdefault(kind, []).append(bundle)
        waiting = {kind: iter(bundles) for kind, bundles in kinds.items()}
        return {bundle: next(waiting[self.house.bundles[bundle]]) for bundle in met}


def bundled(
    lanes: Sequence[Lane],
    shapes: Sequence[Shape],
    strips: tuple[Strip, ...],
    lots: Sequence[tuple[int, ...]],
    rooms: Mapping[str, str] | None = None,
) -> Bundling:
    """The house of these lanes: windows that share a length are one bundle. With a single lot nothing binds them.

    ``rooms`` names the room of a window; windows of one room are one bundle as well.
    """
    places = {window: number for number, window in enumerate(dict.fromkeys(c.window for lane in lanes for c in lane))}
    windows = tuple(places[lane[0].window] for lane in lanes)
    free = len(lots) == 1
    groups = [[number] for number in range(len(lanes))] if free else _groups(lanes, rooms or {})
    distinct = tuple(sorted(set(shapes)))
    numbers = {shape: number for number, shape in enumerate(distinct)}

    def kind(group: Sequence[int]) -> tuple[int, ...]:
        return tuple(sorted(numbers[shapes[lane]] for lane in group))

    def windows_in(group: Sequence[int]) -> list[tuple[int, ...]]:
        """What tells rooms apart that take the same shapes in other windows, whatever their order in the job."""
        inner = _groups([lanes[lane] for lane in group], {}) if rooms else []
        return sorted(kind([group[place] for place in window]) for window in inner)

    entries = sorted(((kind(group), group) for group in groups), key=lambda e: (e[0], windows_in(e[1]), e[1]))
    return Bundling(
        House(
            shapes=distinct,
            bundles=tuple(kind for kind, _ in entries),
            strips=strips,
            lots=tuple((strip,) for strip in lots[0]) if free else tuple(lots),
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
