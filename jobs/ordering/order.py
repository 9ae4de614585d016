"""How much cloth to buy: the handbook figure, the guaranteed figure, and what is asked for in the shop."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.cloth import BOLT
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.records import dataclass
from jobs.model.resolved import ResolvedJob
from jobs.ordering.splitting import handbook_length, parts
from jobs.ordering.stretched import stretched


@dataclass(frozen=True)
class Order:
    """How much cloth, in inches; the arithmetic before it stands in the job worked out.

    ``handbook`` is every cut rounded up to whole repeats and one repeat more; ``guaranteed`` the least length that
    always suffices, wherever in the repeat the piece begins; ``buy`` that and the squaring, rounded up to what is sold.
    ``pieces`` are what is bought, one length unless the cloth is not sold so long; then the figures are their sums.
    ``needed`` is what is bought before squaring and rounding: the guaranteed length, more where the repeat may be
    longer, or the handbook length where that is chosen. ``too_long`` names windows that take a longer piece than is
    commonly sold, where the job does not say how long. ``shares`` are the cuts that each piece is bought for.
    """

    handbook: Fraction
    guaranteed: Fraction
    pieces: tuple[Fraction, ...]
    too_long: tuple[str, ...] = ()
    needed: Fraction = Fraction(0)
    shares: tuple[tuple[Cut, ...], ...] = ()

    @property
    def buy(self) -> Fraction:
        return sum(self.pieces, Fraction(0))


def order(resolved: ResolvedJob) -> Order:
    """The order for a job, whatever its pieces. Raises JobRefused where a window is too long for what is sold."""
    bought = parts(resolved.job, resolved.cuts)
    guaranteed = sum((part.guaranteed for part in bought), Fraction(0))
    needed = sum((part.needed for part in bought), Fraction(0))
    handbook = handbook_length(resolved.cuts, resolved.job.cloth)
    limit = resolved.job.cloth.longest_piece or BOLT
    longer = dict.fromkeys(cut.window for part in bought if part.buy > limit for cut in part.cuts)
    pieces, shares = tuple(part.buy for part in bought), tuple(part.cuts for part in bought)
    return Order(handbook, guaranteed, pieces, tuple(longer), needed, shares)


def if_longer(job: Job, bought: Order, share: Fraction) -> Fraction | None:
    """What would always be enough, in as many pieces as are bought, if the repeat were longer by this share; None on
    plain cloth."""
    longer = stretched(job, share)
    return sum((longer.guaranteed(cuts) for cuts in bought.shares), Fraction(0)) if longer is not None else None
