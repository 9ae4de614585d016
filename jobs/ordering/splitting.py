"""An order split into pieces no longer than the cloth is sold in, every window from one of them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from jobs.cutting.widths import handbook_cut
from jobs.model.choices import OrderBy
from jobs.model.cloth import BOLT, Cloth
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.lengths import order_step, round_up
from jobs.model.problems import Code, JobRefused, Problem, problem
from jobs.model.records import dataclass
from jobs.ordering.guaranteed import guaranteed_length
from jobs.ordering.stretched import Tolerated, tolerated
from jobs.packing.items import lanes_of, windows_together

MOST_EXACT = 8
"""Windows up to which every way to share them out is tried."""


@dataclass(frozen=True)
class Part:
    """Cuts that are bought in one piece: the guaranteed length, what is reckoned with and what is bought.

    ``needed`` is the guaranteed length, that for the longest repeat there may be, or the handbook length.
    """

    cuts: tuple[Cut, ...]
    guaranteed: Fraction
    needed: Fraction
    buy: Fraction


@dataclass(frozen=True)
class _Buying:
    """A job that is bought for, and its cuts on cloth with the longest repeat it may have."""

    job: Job
    longer: Tolerated | None

    def part(self, cuts: Sequence[Cut]) -> Part:
        """These cuts in one piece."""
        cloth = self.job.cloth
        guaranteed = needed = guaranteed_length(cuts, cloth)
        if self.longer is not None:
            needed = max(needed, self.longer.guaranteed(cuts))
        if cloth.order_by is OrderBy.HANDBOOK:
            needed = max(needed, handbook_length(cuts, cloth))
        step = cloth.sold_by or order_step(self.job.unit)
        return Part(tuple(cuts), guaranteed, needed, round_up(needed + self.job.allowances.squaring, step))

    def joined(self, bundles: Sequence[Part]) -> Part:
        """The cuts of all of these in one piece."""
        return self.part([cut for bundle in bundles for cut in bundle.cuts])


def handbook_length(cuts: Sequence[Cut], cloth: Cloth) -> Fraction:
    """The sum of the handbook cuts, those side by side counted once, and on patterned cloth one repeat, so that the
    first cut can be placed."""
    along = cloth.repeat.along if cloth.repeat else None
    return sum((handbook_cut(lane[0].shared_length, along) for lane in lanes_of(cuts)), along or Fraction(0))


def parts(job: Job, cuts: Sequence[Cut]) -> tuple[Part, ...]:
    """The pieces to buy: one, or as few and as short as are found where the cloth is sold no longer than so much.

    Where the job does not say how long it is sold, a window that takes more than a bolt gets a piece of its own.
    Raises JobRefused when a window does not fit the longest piece that the job says there is.
    """
    buying = _Buying(job, tolerated(job))
    whole, limit = buying.part(cuts), job.cloth.longest_piece or BOLT
    if whole.buy <= limit:
        return (whole,)
    bundles = [buying.part(bundle) for bundle in windows_together(lanes_of(cuts))]
    too_long = [bundle for bundle in bundles if bundle.buy > limit]
    if too_long and job.cloth.longest_piece is not None:
        raise JobRefused(_too_long(job, bundle) for bundle in too_long)
    bundles = [bundle for bundle in bundles if bundle not in too_long]
    bundles.sort(key=lambda bundle: (-bundle.guaranteed, sorted((cut.length, cut.row or 0) for cut in bundle.cuts)))
    shared = _least(buying, bundles, limit) if len(bundles) <= MOST_EXACT else _first_fit(buying, bundles, limit)
    return tuple(sorted([*too_long, *shared], key=lambda part: (-part.buy, -part.guaranteed)))


def _least(buying: _Buying, bundles: Sequence[Part], limit: Fraction) -> list[Part]:
    """The parts of least cloth bought, then of least guaranteed length, every way to share out the bundles tried."""
    everything = (1 << len(bundles)) - 1
    alone = {
        chosen: buying.joined([bundle for number, bundle in enumerate(bundles) if chosen >> number & 1])
        for chosen in range(1, everything + 1)
    }
    best: dict[int, tuple[Fraction, Fraction, list[Part]]] = {0: (Fraction(0), Fraction(0), [])}
    for chosen in range(1, everything + 1):
        lowest, part = chosen & -chosen, chosen
        found = []
        while part:
            if part & lowest and alone[part].buy <= limit:
                bought, sure, rest = best[chosen ^ part]
                one = alone[part]
                found.append((bought + one.buy, sure + one.guaranteed, [*rest, one]))
            part = (part - 1) & chosen
        best[chosen] = min(found, key=lambda entry: entry[:2])
    return best[everything][2]


def _first_fit(buying: _Buying, bundles: Sequence[Part], limit: Fraction) -> list[Part]:
    """The longest bundles first, each into the first piece with room."""
    pieces: list[Part] = []
    for bundle in bundles:
        for number, piece in enumerate(pieces):
            if piece.guaranteed + min(cut.length for cut in bundle.cuts) > limit:
                continue
            longer = buying.joined([piece, bundle])
            if longer.buy <= limit:
                pieces[number] = longer
                break
        else:
            pieces.append(bundle)
    return pieces


def _too_long(job: Job, bundle: Part) -> Problem:
    names = tuple(dict.fromkeys(cut.window for cut in bundle.cuts))
    number = next(at for at, window in enumerate(job.windows) if window.name == names[0])
    limit = job.cloth.longest_piece or Fraction(0)
    return problem(("windows", number), Code.TOO_LONG_FOR_A_PIECE, names=names, takes=bundle.buy, most=limit)
