"""How much cloth to buy: the handbook figure, the guaranteed figure, and what is asked for in the shop."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from jobs.model.cloth import BOLT, Cloth
from jobs.model.cuts import Cut
from jobs.model.records import dataclass
from jobs.model.resolved import ResolvedJob
from jobs.ordering.splitting import parts
from jobs.packing.items import lanes_of


@dataclass(frozen=True)
class Order:
    """How much cloth, in inches; the arithmetic before it stands in the job worked out.

    ``handbook`` is every cut rounded up to whole repeats and one repeat more; ``guaranteed`` the least length that
    always suffices, wherever in the repeat the piece begins; ``buy`` that and the squaring, rounded up to what is sold.
    ``pieces`` are what is bought, one length unless the cloth is not sold so long; then the figures are their sums.
    ``too_long`` names windows that take a longer piece than is commonly sold, where the job does not say how long.
    """

    handbook: Fraction
    guaranteed: Fraction
    pieces: tuple[Fraction, ...]
    too_long: tuple[str, ...] = ()

    @property
    def buy(self) -> Fraction:
        return sum(self.pieces, Fraction(0))


def order(resolved: ResolvedJob) -> Order:
    """The order for a job, whatever its pieces. Raises JobRefused where a window is too long for what is sold."""
    bought = parts(resolved.job, resolved.cuts)
    guaranteed = sum((part.guaranteed for part in bought), Fraction(0))
    handbook = handbook_length(resolved.cuts, resolved.job.cloth)
    limit = resolved.job.cloth.longest_piece or BOLT
    longer = dict.fromkeys(cut.window for part in bought if part.buy > limit for cut in part.cuts)
    return Order(handbook, guaranteed, tuple(part.buy for part in bought), tuple(longer))


def handbook_length(cuts: Sequence[Cut], cloth: Cloth) -> Fraction:
    """The sum of the handbook cuts, those side by side counted once, and on patterned cloth one repeat, so that the
    first cut can be placed."""
    placing = cloth.repeat.along if cloth.repeat else Fraction(0)
    return sum((lane[0].handbook for lane in lanes_of(cuts)), placing)
