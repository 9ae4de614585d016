"""How much cloth to buy: the handbook figure, the guaranteed figure, and what is asked for in the shop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting import cut_list
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.ordering.assuming import Assumed, assumed
from jobs.ordering.splitting import parts
from jobs.ordering.steps import order_steps
from jobs.packing.items import lanes_of


@dataclass(frozen=True)
class Order:
    """How much cloth, in inches, with the arithmetic as sentences.

    ``handbook`` is every cut rounded up to whole repeats and one repeat more; ``guaranteed`` the least length that
    always suffices, wherever in the repeat the piece begins; ``buy`` that and the squaring, rounded up to what is sold.
    ``pieces`` are what is bought, one length unless the cloth is not sold so long; then the figures are their sums.
    ``assumed`` is the job as it was reckoned, with what was taken where its print is not known.
    """

    handbook: Fraction
    guaranteed: Fraction
    buy: Fraction
    steps: tuple[str, ...]
    cuts: tuple[Cut, ...]
    pieces: tuple[Fraction, ...]
    assumed: Assumed


def order(job: Job) -> Order:
    """The order for the job, whatever its pieces; the dearest one where its print is not known.

    Raises JobRefused with every problem of the cuts.
    """
    taken = assumed(job)
    job = taken.job
    cuts = cut_list(job)
    handbook = handbook_length(cuts, job.cloth)
    bought = parts(job, cuts)
    guaranteed = sum((part.guaranteed for part in bought), Fraction(0))
    pieces = tuple(part.buy for part in bought)
    steps = order_steps(job, cuts, handbook, guaranteed, pieces)
    return Order(handbook, guaranteed, sum(pieces, Fraction(0)), steps, cuts, pieces, taken)


def handbook_length(cuts: Sequence[Cut], cloth: Cloth) -> Fraction:
    """The sum of the handbook cuts, those side by side counted once, and on patterned cloth one repeat, so that the
    first cut can be placed."""
    placing = cloth.repeat.along if cloth.repeat else Fraction(0)
    return sum((lane[0].handbook for lane in lanes_of(cuts)), placing)
