"""An order split into pieces no longer than the cloth is sold in, every window from one of them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from jobs.model.cloth import BOLT
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.lengths import order_step, round_up
from jobs.model.problems import Code, JobRefused, Problem, problem
from jobs.model.records import dataclass
from jobs.ordering.guaranteed import guaranteed_length
from jobs.packing.items import lanes_of, windows_together

MOST_EXACT = 8
"""Windows up to which every way to share them out is tried."""


@dataclass(frozen=True)
class Part:
    """Cuts that are bought in one piece: the guaranteed length and what is bought."""

    cuts: tuple[Cut, ...]
    guaranteed: Fraction
    buy: Fraction


def parts(job: Job, cuts: Sequence[Cut]) -> tuple[Part, ...]:
    """The pieces to buy: one, or as few and as short as are found where the cloth is sold no longer than so much.

    Where the job does not say how long it is sold, a window that takes more than a bolt gets a piece of its own.
    Raises JobRefused when a window does not fit the longest piece that the job says there is.
    """
    whole, limit = _part(job, cuts), job.cloth.longest_piece or BOLT
    if whole.buy <= limit:
        return (whole,)
    bundles = [_part(job, bundle) for bundle in windows_together(lanes_of(cuts))]
    too_long = [bundle for bundle in bundles if bundle.buy > limit]
    if too_long and job.cloth.longest_piece is not None:
        raise JobRefused(_too_long(job, bundle) for bundle in too_long)
    bundles = [bundle for bundle in bundles if bundle not in too_long]
    bundles.sort(key=lambda bundle: (-bundle.guaranteed, sorted((cut.length, cut.row or 0) for cut in bundle.cuts)))
    shared = _least(job, bundles, limit) if len(bundles) <= MOST_EXACT else _first_fit(job, bundles, limit)
    return tuple(sorted([*too_long, *shared], key=lambda part: (-part.buy, -part.guaranteed)))


def _part(job: Job, cuts: Sequence[Cut]) -> Part:
    guaranteed = guaranteed_length(cuts, job.cloth)
    step = job.cloth.sold_by or order_step(job.unit)
    return Part(tuple(cuts), guaranteed, round_up(guaranteed + job.allowances.squaring, step))


def _joined(job: Job, bundles: Sequence[Part]) -> Part:
    return _part(job, [cut for bundle in bundles for cut in bundle.cuts])


def _least(job: Job, bundles: Sequence[Part], limit: Fraction) -> list[Part]:
    """The parts of least cloth bought, then of least guaranteed length, every way to share out the bundles tried."""
    everything = (1 << len(bundles)) - 1
    alone = {
        chosen: _joined(job, [bundle for number, bundle in enumerate(bundles) if chosen >> number & 1])
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


def _first_fit(job: Job, bundles: Sequence[Part], limit: Fraction) -> list[Part]:
    """The longest bundles first, each into the first piece with room."""
    pieces: list[Part] = []
    for bundle in bundles:
        for number, piece in enumerate(pieces):
            if piece.guaranteed + min(cut.length for cut in bundle.cuts) > limit:
                continue
            longer = _joined(job, [piece, bundle])
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
