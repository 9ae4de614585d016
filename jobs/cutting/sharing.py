"""Which cuts that are narrower than the cloth share a length of it.

A length is cut off from selvedge to selvedge first and slit along then, so that whatever is narrow may lie beside
anything else in it, upright or turned, each on its own row: the length reaches from the first edge of the first of them
to the last edge of the last. Of few narrow cuts every way to share is told; of many a good one (``cutting.grouping``).
Nothing here depends on the order of the windows.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cached_property

from jobs.cutting.columns import printed_width
from jobs.cutting.grouping import good_groups
from jobs.cutting.strips import Draft, alone, least_of_print, only_at, side_by_side, strip_of
from jobs.model.cuts import Cut, Edge
from jobs.model.job import Job
from jobs.model.records import dataclass
from jobs.model.schema import ZERO

MOST_EXACT = 7
"""Narrow cuts up to which every way to share is told."""
MOST_WAYS = 250
"""Ways to share up to which all of them are told."""
SIDES = (Edge.NEAR, Edge.FAR)
Lane = tuple[Cut, ...]
"""Cuts in one length."""
Shares = tuple[Mapping[str, Fraction], ...]
"""Measures of cuts by their names."""


@dataclass(frozen=True)
class Ways:
    """Ways to make the cuts of a job, the one with the least length of cloth first; ``all_told`` where there is no
    other that could be better. ``shares`` are measures of the cuts that may lie beside others, of which no length holds
    more than 1.
    """

    cuts: tuple[tuple[Cut, ...], ...]
    all_told: bool
    shares: Shares = ()


def ways_to_share(drafts: Sequence[Draft], job: Job) -> Ways:
    """The cuts of the drafts, in the same order, in every way to share lengths, or in a good one."""
    narrow = sorted((one for one in drafts if one.strip is not None and one.strip.may_share), key=lambda d: d.rank)
    sharing = _Sharing(tuple(narrow), job)
    fixed = {draft.cut.id: alone(draft, job.cloth) for draft in drafts}
    told = sharing.every() if len(narrow) <= MOST_EXACT else None
    found = told or [[sharing.of(group)[0] for group in groups] for groups in good_groups(narrow, job)]
    ways = (fixed | {cut.id: cut for lane in lanes for cut in lane} for lanes in found)
    cuts = (tuple(way[draft.cut.id] for draft in drafts) for way in ways)
    # Every way is told once; to look for the same again costs more than all else here.
    return Ways(tuple(cuts if told else dict.fromkeys(cuts)), told is not None, _shares(narrow, job))


def _shares(drafts: Sequence[Draft], job: Job) -> Shares:
    """The parts of the width that cuts take at least; 1 for each that must lie at the near side, and at the far one."""
    if not drafts:
        return ()
    cloth, strips = job.cloth, {draft.cut.id: strip_of(draft) for draft in drafts}
    near, far = ({name: Fraction(only_at(strip, edge, cloth)) for name, strip in strips.items()} for edge in SIDES)
    return {name: least_of_print(one, cloth) / printed_width(cloth) for name, one in strips.items()}, near, far


def lanes_along(cuts: Sequence[Cut], along: Fraction | None) -> tuple[Lane, ...]:
    """Cuts that lie beside each other, each as early as its row lets it from where one of them begins: the shortest
    length first, none that another lies inside wherever it is laid.

    ``along`` is the repeat; on plain cloth all begin at once.
    """
    word = min(cut.id for cut in cuts)
    found: list[tuple[Fraction, Fraction, Lane]] = []
    for begin in dict.fromkeys(cut.phase for cut in cuts):
        before = [(cut.phase - begin) % along if along else ZERO for cut in cuts]
        length = max(at + cut.length for at, cut in zip(before, cuts, strict=True))
        lane = tuple(
            replace(cut, beside=word, before=at, after=length - at - cut.length)
            for at, cut in zip(before, cuts, strict=True)
        )
        found.append((length, begin, lane))
    found.sort(key=lambda one: one[:2])
    kept: list[tuple[Fraction, Fraction, Lane]] = []
    for length, begin, lane in found:
        inside = (((at - begin) % along if along else ZERO) + least <= length for least, at, _ in kept)
        if not any(inside):
            kept.append((length, begin, lane))
    return tuple(lane for _, _, lane in kept)


@dataclass(frozen=True)
class _Sharing:
    """Narrow cuts in their order, told from each other by their numbers in it."""

    drafts: tuple[Draft, ...]
    job: Job

    @cached_property
    def lanes(self) -> dict[tuple[int, ...], tuple[Lane, ...]]:
        """The ways in which some of the cuts lie in one length, as far as they were asked for."""
        return {}

    @cached_property
    def kinds(self) -> list[int]:
        """Numbers that tell a cut from another but not from one of the same window that is like it in all."""
        told = [(d.cut.window, d.cut.length, d.cut.phase, d.cut.leading_edge, d.cut.way, d.strip) for d in self.drafts]
        numbers: dict[object, int] = {}
        return [numbers.setdefault(one, len(numbers)) for one in told]

    def of(self, group: tuple[int, ...]) -> tuple[Lane, ...]:
        """The ways in which these cuts lie in one length; none where there is no room for all."""
        if group not in self.lanes:
            drafts = [self.drafts[number] for number in group]
            if len(group) == 1:
                self.lanes[group] = ((alone(drafts[0], self.job.cloth),),)
            else:
                cuts = side_by_side(drafts, self.job.cloth)
                along = self.job.cloth.repeat.along if self.job.cloth.repeat else None
                self.lanes[group] = lanes_along(cuts, along) if cuts is not None else ()
        return self.lanes[group]

    def every(self) -> list[list[Lane]] | None:
        """Every way to share, the one of least length first, of those the one that ties fewest windows together; None
        where there are too many."""
        found: dict[object, list[tuple[tuple[int, ...], Lane]]] = {}
        # Lanes are kept, so that the place of one in memory tells it; what is alike in all has one number.
        known: dict[int, int] = {}
        numbers: dict[object, int] = {}

        def number_of(group: tuple[int, ...], lane: Lane) -> int:
            if id(lane) not in known:
                alike = tuple(sorted(self.kinds[number] for number in group)), lane[0].before, lane[0].shared_length
                known[id(lane)] = numbers.setdefault(alike, len(numbers))
            return known[id(lane)]

        for way in self._ways(tuple(range(len(self.drafts)))):
            found.setdefault(tuple(sorted(number_of(*one) for one in way)), way)
            if len(found) > MOST_WAYS:
                return None
        order = sorted(found.values(), key=lambda way: (_total(way), self._tied([g for g, _ in way]), _names(way)))
        return [[lane for _, lane in way] for way in order]

    def _ways(self, left: tuple[int, ...]) -> Iterator[list[tuple[tuple[int, ...], Lane]]]:
        if not left:
            yield []
            return
        first, rest = left[0], left[1:]
        for group in self._groups((first,), rest):
            others = tuple(number for number in rest if number not in group)
            for lane in self.of(group):
                for way in self._ways(others):
                    yield [(group, lane), *way]

    def _groups(self, group: tuple[int, ...], rest: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        """The group with some of the rest, as long as there is room."""
        if not self.of(group):
            return
        yield group
        for at, number in enumerate(rest):
            yield from self._groups((*group, number), rest[at + 1 :])

    def _tied(self, groups: Sequence[tuple[int, ...]]) -> int:
        """How many windows are tied to another."""
        return sum(len({self.drafts[number].cut.window for number in group}) - 1 for group in groups)


def _total(way: Sequence[tuple[tuple[int, ...], Lane]]) -> Fraction:
    return sum((lane[0].shared_length for _, lane in way), ZERO)


def _names(way: Sequence[tuple[tuple[int, ...], Lane]]) -> list[tuple[tuple[int, ...], Fraction]]:
    return sorted(((group, lane[0].before) for group, lane in way), key=lambda one: (-len(one[0]), one))
