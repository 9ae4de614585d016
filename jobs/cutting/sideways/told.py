"""How the cuts of cloth run sideways were come by, as plain sentences with their numbers, in the job's unit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from jobs.cutting.columns import printed_width
from jobs.cutting.sideways.rows import is_ruled
from jobs.cutting.sideways.sizes import height_of
from jobs.model.cuts import Cut, Selvedge
from jobs.model.job import Job
from jobs.model.lengths import show_length, show_share
from jobs.model.window import Window

LYING = (
    "Run sideways, what points along the selvedge on the cloth hangs level: take a print whose motifs point to a "
    "selvedge, or one that looks right lying on its side, and lay the piece with their tops away from you"
)
NAP = (
    "Run sideways, pile and sheen lie level instead of up and down: hold a piece up and look whether that pleases "
    "before you buy, and keep every top at the same selvedge"
)


def sideways_steps(window: Window, job: Job, cuts: Sequence[Cut]) -> Iterator[str]:
    """The height of a window's panels across the cloth, what is over, and where the tops lie."""
    own = [cut for cut in cuts if cut.window == window.name]
    yield f"{window.name}: run sideways, one cut without a seam for each panel; {_height(window, job)}."
    yield from (step for cut in own[-1:] for step in _tops(window, own[0], cut, job))


def _height(window: Window, job: Job) -> str:
    given, share = job.allowances, job.cloth.shrinkage_across
    parts = ((window.finished_length, "finished"), (given.heading, "heading"), (given.hem, "hem"))
    said = " + ".join(f"{_say(job, length)} {word}" for length, word in parts if length)
    raw = sum((length for length, _ in parts), Fraction(0))
    tall = height_of(window, job)
    lost = f" / (1 - {show_share(share)}) = {_say(job, tall)}" if share else ""
    return f"{said} = {_say(job, raw)}{lost} lie across, of {_say(job, printed_width(job.cloth))} between the selvedges"


def _tops(window: Window, first: Cut, last: Cut, job: Job) -> Iterator[str]:
    """Where the tops lie, and the rows where the job leaves them to the print."""
    own = dict.fromkeys((_top_of(cut), cut.top_at, cut.hand) for cut in (first, last))
    places = dict.fromkeys(_say(job, top) for top, _, _ in own)
    if first.top_at is last.top_at:
        yield (
            f"{window.name}: the tops lie towards the far selvedge, {' and '.join(places)} from the near selvedge edge."
        )
    else:
        far, near = (f"the {hand} panel at the {at} selvedge, {_say(job, top)}" for top, at, hand in own)
        yield f"{window.name}: tops: {far}, and {near}, both from the near selvedge edge."
    if first.row is not None and not is_ruled(window, job):
        below = first.row * (1 - job.cloth.shrinkage_across) - job.allowances.heading
        if below < 0 and job.cloth.repeat is not None and job.cloth.repeat.across is not None:
            below %= job.cloth.repeat.across * (1 - job.cloth.shrinkage_across)
        yield f"{window.name}: no row is asked for, so the print is taken as it lies: {_say(job, below)} below the top."


def _top_of(cut: Cut) -> Fraction:
    if cut.across is None:
        raise ValueError(f"{cut.id} lies sideways without its strip of the cloth")
    return cut.across[cut.top_at is Selvedge.FAR]


def sideways_cautions(job: Job) -> Iterator[str]:
    """What to look at before cloth is bought to be run sideways."""
    if job.cloth.repeat is not None:
        yield f"Look out: {LYING}."
    elif job.cloth.print.one_way:
        yield f"Look out: {NAP}."


def _say(job: Job, length: Fraction) -> str:
    return show_length(length, job.unit)
