"""What an order comes to, in sentences: the handbook's figure, the guaranteed one, what is bought."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from jobs.cutting.widths import handbook_cut
from jobs.model.choices import OrderBy
from jobs.model.cloth import BOLT
from jobs.model.job import Job
from jobs.model.lengths import order_step, show_length, show_order, show_share
from jobs.model.numbers import counted
from jobs.model.resolved import ResolvedJob
from jobs.ordering.order import Order, if_longer
from jobs.ordering.stretched import LOOKED_AT
from jobs.packing.items import lanes_of
from projector.words.measures import listed


def total_lines(resolved: ResolvedJob, order: Order) -> Iterator[str]:
    job, cuts = resolved.job, resolved.cuts
    along = job.cloth.repeat.along if job.cloth.repeat else None
    # What lies side by side is one length, as long as the longest of it.
    lanes = Counter(handbook_cut(lane[0].shared_length, along) for lane in lanes_of(cuts))
    parts = " + ".join(f"{counted(count, 'cut')} of {_say(job, length)}" for length, count in lanes.items())
    handbook, guaranteed = order.handbook, order.guaranteed
    if job.cloth.repeat is None:
        yield f"Handbook: {parts} = {_say(job, handbook)}. On plain cloth that is enough."
        return
    one = f"one repeat of {_say(job, job.cloth.repeat.along)} so that the first cut can be placed"
    less = f", {_say(job, handbook - guaranteed)} less than by the handbook" if guaranteed < handbook else ""
    yield f"Handbook: {parts} + {one} = {_say(job, handbook)}."
    yield (
        f"Guaranteed: cut in the shortest order, {_say(job, guaranteed)} is enough "
        f"wherever in the repeat the piece begins{less}."
    )
    if len(order.pieces) == 1:
        yield f"That is {_at_worst(resolved, guaranteed)}."
    yield from _longer_lines(resolved, order)
    if job.cloth.order_by is OrderBy.HANDBOOK:
        yield f"Bought is the handbook length, {_say(job, order.needed)} (`order_by`)."


def _at_worst(resolved: ResolvedJob, guaranteed: Fraction) -> str:
    """The guaranteed length taken apart: the wait for the first row, what lies from cut to cut, the last cut."""
    job, lanes = resolved.job, lanes_of(resolved.cuts)
    along = job.cloth.repeat.along if job.cloth.repeat is not None else Fraction(0)
    length, between = lanes[0][0].shared_length, len(lanes) - 1
    take = -(-length // along) * along
    alike = len({(lane[0].shared_length, lane[0].phase) for lane in lanes}) == 1
    if alike and along + between * take + length == guaranteed:
        steps = f" + {between} x {_say(job, take)}, whole repeats from cut to cut," if between else ""
        last = "the last cut" if between else "the cut"
        return f"{_say(job, along)}, at most, to wait for the first row{steps} + {last} of {_say(job, length)}"
    cut = sum((lane[0].shared_length for lane in lanes), Fraction(0))
    waited = _say(job, guaranteed - cut)
    return f"{_say(job, cut)} of cuts + {waited}, at worst, to wait for the first row and from cut to cut"


def _longer_lines(resolved: ResolvedJob, order: Order) -> Iterator[str]:
    """What a repeat that measures more than the ticket says would need."""
    job, repeat, tolerance = resolved.job, resolved.job.cloth.repeat, resolved.job.cloth.repeat_tolerance
    share = tolerance or LOOKED_AT
    needs = if_longer(job, order, share)
    if repeat is None or needs is None:
        return
    more = needs - order.guaranteed
    measured = f"a repeat {show_share(share)} longer, {_say(job, repeat.along * (1 + share))},"
    pieces = "one piece" if len(order.pieces) == 1 else f"{len(order.pieces)} pieces"
    by = f"{_say(job, needs)} in {pieces}, {_say(job, more)} more" if more > 0 else f"{_say(job, needs)}, no more"
    if tolerance:
        between = ""
        if order.needed > max(needs, order.guaranteed) and job.cloth.order_by is not OrderBy.HANDBOOK:
            between = f", and {_say(job, order.needed)} with one in between"
        yield f"With {measured} it would be {by}{between}: that is reckoned with (`repeat_tolerance`)."
    elif job.cloth.order_by is OrderBy.HANDBOOK:
        length = "is enough for that" if order.needed >= needs else "is too little for that"
        yield (
            f"With {measured} it would be {by}: the handbook length {length}. Measure it, or say how much longer it "
            "may be (`repeat_tolerance`)."
        )
    else:
        yield (
            f"With {measured} it would be {by}. Measure it, say how much longer it may be (`repeat_tolerance`), or buy "
            "by the handbook (`order_by: handbook`)."
        )


def buy_lines(job: Job, order: Order) -> Iterator[str]:
    squaring, sold_by, pieces = job.allowances.squaring, job.cloth.sold_by, order.pieces
    if squaring:
        count = len(pieces)
        said = " + ".join([_say(job, squaring)] * count) if count < 4 else f"{count} x {_say(job, squaring)}"
        needed = _say(job, order.needed + count * squaring)
        what = "the first end" if count == 1 else "the first end of every piece"
        yield f"Squaring {what}: {_say(job, order.needed)} + {said} = {needed}."
    step = sold_by or order_step(job.unit)
    unit_sold = show_order(step, job.unit, step)
    assumed = "" if sold_by else " (assumed, as the job does not say)"
    bought = f"buy {show_order(order.buy, job.unit, step)}, that is {_say(job, order.buy)}"
    if len(pieces) > 1:
        each = " + ".join(show_order(piece, job.unit, step) for piece in pieces)
        limit = show_order(job.cloth.longest_piece or BOLT, job.unit, step)
        taken = "" if job.cloth.longest_piece else " (taken, as the job does not say)"
        bought = f"buy {len(pieces)} pieces, {each} = {_say(job, order.buy)}"
        bought = f"as the cloth is sold no longer than {limit}{taken}, {bought}"
    yield (
        f"Sold by {unit_sold}{assumed}: rounded up, {bought}. "
        "Nothing is added for flaws: look the cloth over before the first cut."
    )
    if len(pieces) > 1:
        yield "Ask for all pieces from one dye lot."
    if order.too_long:
        takes = "takes" if len(order.too_long) == 1 else "each take"
        sold = show_order(BOLT, job.unit, step)
        yield (
            f"{listed(order.too_long)} {takes} more in one piece than the {sold} that a mill commonly sells: "
            "ask whether there is one so long, and write in the job how long the cloth is sold."
        )


def _say(job: Job, length: Fraction) -> str:
    return show_length(length, job.unit)
