"""A good way to share lengths of cloth among many narrow cuts: put together where most is saved, then changed a little.

Only lengths are looked at, in whole units. Windows whose cuts share a length must come from one piece, so no more of
them are tied together than a piece holds easily; and only windows of one room are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import combinations
from math import lcm

from jobs.cutting.columns import printed_width
from jobs.cutting.strips import Draft, least_of_print, side_by_side, strip_of
from jobs.model.cloth import BOLT
from jobs.model.job import Job

MOST_TRIED = 24
"""Lengths that are tried beside each, the nearest in length on either hand."""
MOST_CHANGES = 6_000
"""Changes that are tried of a way to share that was put together."""
TIED = 3
"""Windows that share lengths take no more than one part in so many of the longest piece."""

Group = tuple[int, ...]
"""Numbers of the cuts in one length."""


def good_groups(drafts: Sequence[Draft], job: Job) -> list[list[Group]]:
    """Ways to share: windows tied to others where that saves cloth, and every window for itself; last, where there are
    pieces, tied as they were when the cloth was ordered, so that what was enough then is enough now."""
    bought = job.cloth.longest_piece or BOLT
    held = max((piece.length for piece in job.cloth.pieces), default=bought)
    alone = _Grouping(drafts, job, held)
    alone.merge_within_windows()
    ways = [_tied(drafts, job, held, alone.groups), alone.groups]
    return ways if held == bought else [*ways, _tied(drafts, job, bought, alone.groups)]


def _tied(drafts: Sequence[Draft], job: Job, longest: Fraction, groups: Sequence[Group]) -> list[Group]:
    tied = _Grouping(drafts, job, longest, groups)
    tied.merge()
    tied.improve()
    return tied.groups


class _Grouping:
    """Groups of cuts with what they take, and which windows are tied together by them on pieces no longer than so."""

    def __init__(self, drafts: Sequence[Draft], job: Job, longest: Fraction, groups: Sequence[Group] = ()) -> None:
        self.drafts, self.cloth = drafts, job.cloth
        along = job.cloth.repeat.along if job.cloth.repeat else Fraction(0)
        cuts = [draft.cut for draft in drafts]
        unit = lcm(along.denominator, *(n.denominator for cut in cuts for n in (cut.length, cut.phase)))
        self.along = int(along * unit)
        self.lengths = [int(cut.length * unit) for cut in cuts]
        self.phases = [int(cut.phase * unit) for cut in cuts]
        self.widths = [least_of_print(strip_of(draft), job.cloth) for draft in drafts]
        self.printed = printed_width(job.cloth)
        self.windows = [cut.window for cut in cuts]
        rooms = {window.name: window.room for window in job.windows}
        self.rooms = [rooms[window] for window in self.windows]
        kinds = [(draft.cut.leading_edge, draft.strip) for draft in drafts]
        self.kinds = [kinds.index(kind) for kind in kinds]
        self.groups = list(groups) or [(number,) for number in range(len(drafts))]
        self._fits: dict[tuple[int, ...], bool] = {}
        self._taken: dict[Group, int | None] = {}
        self._root: dict[str, str] = {}
        self._size: dict[str, int] = {}
        self.limit = int(longest * unit) // TIED
        for cut in cuts:
            self._size[cut.window] = self._size.get(cut.window, 0) + int(cut.length * unit)

    def taken(self, group: Group) -> int | None:
        """The least length in which cuts lie; None where there is no room for all, 0 for none."""
        if group not in self._taken:
            self._taken[group] = self._least(group) if not group or self._fit(group) else None
        return self._taken[group]

    def _least(self, group: Group) -> int:
        if not self.along:
            return max((self.lengths[number] for number in group), default=0)
        phases, lengths = self.phases, self.lengths
        begins = {phases[number] for number in group}
        return min(
            (max((phases[number] - begin) % self.along + lengths[number] for number in group) for begin in begins),
            default=0,
        )

    def _fit(self, group: Group) -> bool:
        if len(group) == 1:
            return True
        if sum(self.widths[number] for number in group) > self.printed:
            return False
        kinds = tuple(sorted(self.kinds[number] for number in group))
        if kinds not in self._fits:
            self._fits[kinds] = side_by_side([self.drafts[number] for number in group], self.cloth) is not None
        return self._fits[kinds]

    def saved(self, one: Group, other: Group) -> int:
        """What is saved when two groups share one length; nothing where they cannot."""
        together = self.taken(_joined(one, other))
        return (self.taken(one) or 0) + (self.taken(other) or 0) - together if together is not None else 0

    def merge_within_windows(self) -> None:
        """Put together what saves most, window by window."""
        mine: dict[str, list[Group]] = {}
        for group in self.groups:
            mine.setdefault(self.windows[group[0]], []).append(group)
        self.groups = [group for groups in mine.values() for group in self._merged(groups)]

    def _merged(self, groups: list[Group]) -> list[Group]:
        while True:
            best = max(combinations(groups, 2), key=lambda pair: self.saved(*pair), default=None)
            if best is None or self.saved(*best) <= 0:
                return groups
            groups = [group for group in groups if group not in best] + [_joined(*best)]

    def merge(self) -> None:
        """Put groups together with those of about the same length, the longest first, each where most is saved."""
        left = sorted(self.groups, key=lambda group: (-(self.taken(group) or 0), group))
        found: list[Group] = []
        while left:
            group = left.pop(0)
            alike = self._alike(group, left) if self._open(group) else []
            saved = [
                (self.saved(group, other), -at) for at, other in enumerate(alike) if self.may_tie((*group, *other))
            ]
            best = max(saved, default=(0, 0))
            if best[0] > 0:
                other = alike[-best[1]]
                left.remove(other)
                self.tie((*group, *other))
                left.insert(0, _joined(group, other))
            else:
                found.append(group)
        self.groups = found

    def _alike(self, group: Group, others: Sequence[Group]) -> list[Group]:
        return sorted(others, key=lambda other: self._unlike(group, other))[:MOST_TRIED]

    def _open(self, group: Group) -> bool:
        """Whether the narrowest of all would still find room by its width."""
        return sum(self.widths[number] for number in group) + min(self.widths) <= self.printed

    def _unlike(self, one: Group, other: Group) -> tuple[bool, int, Group]:
        """How little two groups have in common: those with no room for each other last, then by length and row."""
        room = sum(self.widths[number] for number in (*one, *other)) <= self.printed
        longer = abs((self.taken(one) or 0) - (self.taken(other) or 0))
        if self.along:
            off = (self.phases[one[0]] - self.phases[other[0]]) % self.along
            longer += min(off, self.along - off)
        return not room, longer, other

    def may_tie(self, numbers: Iterable[int]) -> bool:
        """Whether the windows of these cuts may be tied together: of one room, and not too much for one piece."""
        numbers = list(numbers)
        roots = {self._find(self.windows[number]) for number in numbers}
        if len(roots) == 1:
            return True
        return len({self.rooms[n] for n in numbers}) == 1 and sum(self._size[root] for root in roots) <= self.limit

    def tie(self, numbers: Iterable[int]) -> None:
        roots = sorted({self._find(self.windows[number]) for number in numbers})
        for root in roots[1:]:
            self._root[root] = roots[0]
            self._size[roots[0]] += self._size[root]

    def _find(self, window: str) -> str:
        while self._root.get(window, window) != window:
            window = self._root[window]
        return window

    def improve(self) -> None:
        """Cuts moved to another length and exchanged between two, as long as that takes less cloth and ties nothing."""
        left, better = MOST_CHANGES, True
        while better:
            better = False
            for here, there in combinations(range(len(self.groups)), 2):
                one, other = self.groups[here], self.groups[there]
                if left <= 0:
                    break
                left -= 1
                if len({self._find(self.windows[number]) for number in (*one, *other)}) > 1:
                    continue
                now = (self.taken(one) or 0) + (self.taken(other) or 0)
                for changed in self._changes(one, other):
                    left -= 1
                    taken = self.taken(changed[0]), self.taken(changed[1])
                    if taken[0] is not None and taken[1] is not None and taken[0] + taken[1] < now:
                        (self.groups[here], self.groups[there]), better = changed, True
                        break
        self.groups = [group for group in self.groups if group]

    def _changes(self, one: Group, other: Group) -> Iterator[tuple[Group, Group]]:
        for mine in one:
            yield _without(one, mine), _joined(other, (mine,))
            for theirs in other:
                yield _joined(_without(one, mine), (theirs,)), _joined(_without(other, theirs), (mine,))
        for theirs in other:
            yield _joined(one, (theirs,)), _without(other, theirs)


def _joined(one: Group, other: Group) -> Group:
    return tuple(sorted((*one, *other)))


def _without(group: Group, number: int) -> Group:
    return tuple(one for one in group if one != number)
