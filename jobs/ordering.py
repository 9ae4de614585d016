"""How much cloth to buy: the handbook figure, the guaranteed figure, and what is asked for in the shop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting import cut_list
from jobs.job import Cloth, Job
from jobs.layout.laying import grains_of, shapes_of
from jobs.layout.one_piece.ring import least_length
from jobs.layout.placing import Strip
from jobs.lengths import order_step, round_up
from jobs.order_steps import order_steps
from jobs.plan import Cut


@dataclass(frozen=True)
class Order:
    """How much cloth, in inches, with the arithmetic as sentences.

    ``handbook`` is every cut rounded up to whole repeats and one repeat more; ``guaranteed`` the least length that
    always suffices, wherever in the repeat the piece begins; ``buy`` that and the squaring, rounded up to what is sold.
    """

    handbook: Fraction
    guaranteed: Fraction
    buy: Fraction
    steps: tuple[str, ...]
    cuts: tuple[Cut, ...]


def order(job: Job) -> Order:
    """The order for the job, whatever its pieces. Raises JobRefused with every problem of the cuts."""
    cuts = cut_list(job)
    handbook = handbook_length(cuts, job.cloth)
    guaranteed = guaranteed_length(cuts, job.cloth)
    buy = round_up(guaranteed + job.allowances.squaring, job.cloth.sold_by or order_step(job.unit))
    return Order(handbook, guaranteed, buy, order_steps(job, cuts, handbook, guaranteed, buy), cuts)


def handbook_length(cuts: Sequence[Cut], cloth: Cloth) -> Fraction:
    """The sum of the handbook cuts and, on patterned cloth, one repeat so that the first cut can be placed."""
    placing = cloth.repeat.along if cloth.repeat else Fraction(0)
    return sum((cut.handbook for cut in cuts), placing)


def guaranteed_length(cuts: Sequence[Cut], cloth: Cloth) -> Fraction:
    """The least length that suffices for every first row in [0, repeat), squaring and flaws left out of account.

    Let the cloth begin at residue ``x`` of the print. The least length falls evenly while ``x`` nears the place where
    the best first cut starts and can only rise when ``x`` passes a place where some cut starts. So the supremum is the
    largest of the limits just past those places. Half grains find it: between such a place and half a grain past it no
    other lies. For n equal upright cuts of length L it is V + (n - 1) ceil(L / V) V + L.
    """
    if cloth.repeat is None:
        return sum((cut.length for cut in cuts), Fraction(0))
    grains = grains_of(cuts, cloth).halved()
    shapes = shapes_of(cuts, cloth, grains)
    repeat = grains.count(cloth.repeat.along)
    begins = {shape.residue + 1 for shape in shapes}
    return grains.inches(max(1 + least_length(Strip(repeat, 0, begin), shapes) for begin in begins))
