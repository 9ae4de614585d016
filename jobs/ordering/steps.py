"""The arithmetic of an order as plain sentences with their numbers, in the job's unit."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from jobs.cutting import panel_steps
from jobs.model.choices import Panels
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.lengths import order_step, show_length, show_order, show_share
from jobs.model.numbers import counted
from jobs.packing.items import lanes_of
from jobs.prints.pairs import second_panel


def order_steps(
    job: Job, cuts: Sequence[Cut], handbook: Fraction, guaranteed: Fraction, pieces: Sequence[Fraction]
) -> tuple[str, ...]:
    """Every step from the finished lengths to what is bought; lengths in the arguments are inches."""
    lengths = [step for group in _equal_cuts(cuts) for step in _length_steps(job, group)]
    return (
        *panel_steps(job, cuts),
        *lengths,
        *_way_steps(job),
        *_total_steps(job, cuts, handbook, guaranteed),
        *_buy_steps(job, guaranteed, pieces),
    )


def _equal_cuts(cuts: Sequence[Cut]) -> list[list[Cut]]:
    groups: dict[Fraction, list[Cut]] = {}
    for cut in cuts:
        groups.setdefault(cut.length, []).append(cut)
    return list(groups.values())


def _length_steps(job: Job, group: list[Cut]) -> list[str]:
    """How long one cut is, and how many repeats that takes, for cuts of one length."""
    cut, cloth = group[0], job.cloth
    raw = cut.length * (1 - cloth.shrinkage)
    names = ", ".join(dict.fromkeys(one.window for one in group))
    said = " + ".join(f"{_say(job, length)} {word}" for length, word in _parts(job, cut, raw) if length)
    steps = [f"{names}: {said} = {_say(job, raw)} to cut{_along(cut)}."]
    if cloth.shrinkage:
        share = show_share(cloth.shrinkage)
        steps.append(
            f"The cloth shrinks by {share}: {_say(job, raw)} / (1 - {share}) = {_say(job, cut.length)} to cut."
        )
    if cloth.repeat:
        along = cloth.repeat.along
        repeats = cut.handbook / along
        exact = cut.handbook == cut.length
        how = "exactly, nothing is added" if exact else f"rounded up, {_say(job, cut.handbook - cut.length)} over"
        steps.append(
            f"Repeats of {_say(job, along)}: {_say(job, cut.length)} takes {counted(repeats, 'repeat')} "
            f"({how}) = {_say(job, cut.handbook)} for a handbook cut."
        )
    return steps


def _along(cut: Cut) -> str:
    return " along the piece" if cut.is_sideways else ""


def _parts(job: Job, cut: Cut, raw: Fraction) -> list[tuple[Fraction, str]]:
    """What a cut is made up of along the piece, on cloth that has shrunk."""
    given = job.allowances
    if cut.is_sideways:
        return [(raw - 2 * given.side_hem, "flat"), (2 * given.side_hem, "for two side hems")]
    return [(raw - given.heading - given.hem, "finished"), (given.heading, "heading"), (given.hem, "hem")]


def _way_steps(job: Job) -> list[str]:
    """How the panels of each kind of pair lie, once each, with what to look at before cutting."""
    hangs = dict.fromkeys(window.hang for window in job.windows if window.panels is Panels.PAIR)
    steps: dict[str, None] = {}
    for choice in (second_panel(job.cloth, hang) for hang in hangs):
        steps[f"Pairs: {choice.reason}."] = None
        if choice.notice:
            steps[f"Look out: {choice.notice}."] = None
    return list(steps)


def _total_steps(job: Job, cuts: Sequence[Cut], handbook: Fraction, guaranteed: Fraction) -> list[str]:
    repeat = job.cloth.repeat
    lanes: dict[Fraction, int] = {}
    for group in _equal_cuts(cuts):
        lanes[group[0].handbook] = lanes.get(group[0].handbook, 0) + len(lanes_of(group))
    parts = [f"{counted(count, 'cut')} of {_say(job, length)}" for length, count in lanes.items()]
    if repeat is None:
        return [f"Handbook: {' + '.join(parts)} = {_say(job, handbook)}. On plain cloth that is enough."]
    one = f"one repeat of {_say(job, repeat.along)} so that the first cut can be placed"
    less = f", {_say(job, handbook - guaranteed)} less than by the handbook" if guaranteed < handbook else ""
    return [
        f"Handbook: {' + '.join(parts)} + {one} = {_say(job, handbook)}.",
        f"Guaranteed: cut in the shortest order, {_say(job, guaranteed)} is enough "
        f"wherever in the repeat the piece begins{less}.",
    ]


def _buy_steps(job: Job, guaranteed: Fraction, pieces: Sequence[Fraction]) -> list[str]:
    squaring, sold_by = job.allowances.squaring, job.cloth.sold_by
    steps = []
    if squaring:
        each = [squaring] * len(pieces)
        said = (
            " + ".join(_say(job, length) for length in each)
            if len(each) < 4
            else f"{len(each)} x {_say(job, squaring)}"
        )
        needed = _say(job, guaranteed + sum(each, Fraction(0)))
        what = "the first end" if len(each) == 1 else "the first end of every piece"
        steps.append(f"Squaring {what}: {_say(job, guaranteed)} + {said} = {needed}.")
    step = sold_by or order_step(job.unit)
    unit_sold = show_order(step, job.unit, step)
    assumed = "" if sold_by else " (assumed, as the job does not say)"
    buy = sum(pieces, Fraction(0))
    bought = f"buy {show_order(buy, job.unit, step)}, that is {_say(job, buy)}"
    if len(pieces) > 1:
        each_bought = " + ".join(show_order(piece, job.unit, step) for piece in pieces)
        limit = _say(job, job.cloth.longest_piece or Fraction(0))
        bought = (
            f"as the cloth is sold no longer than {limit}, buy {len(pieces)} pieces, {each_bought} = {_say(job, buy)}"
        )
    steps.append(
        f"Sold by {unit_sold}{assumed}: rounded up, {bought}. "
        "Nothing is added for flaws: look the cloth over before the first cut."
    )
    if len(pieces) > 1:
        steps.append("Ask for all pieces from one dye lot.")
    return steps


def _say(job: Job, length: Fraction) -> str:
    return show_length(length, job.unit)
