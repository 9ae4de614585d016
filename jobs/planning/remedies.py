"""What would make a job fit its cloth, or need less of it: each change tried by planning with it, never guessed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from jobs.cutting import cut_list, fewer_cuts
from jobs.model.choices import Hang, Panels, Run, Symmetry, TurnedOver, Unit
from jobs.model.cloth import Cloth, Piece
from jobs.model.job import Job
from jobs.model.lengths import CENTIMETRE, order_step, round_up, show_length, show_number, show_order
from jobs.model.problems import JobRefused
from jobs.model.window import RowRule, Window
from jobs.ordering import assumed, order
from jobs.planning.planner import fits, plan_job

MOST_STEPS = 6
"""Rows are moved, hems and headings made smaller, by at most so many steps of 1/2 in or 1 cm."""
MANY_CUTS = 40
"""From so many cuts on only every third step is tried: each try is a plan of its own."""

# No workroom allows less. Common practice, no source.
LEAST_HEADING = Fraction(3)
"""A heading tape 3 in deep, or as much cloth turned over without one."""
LEAST_STIFFENED_HEADING = Fraction(9, 2)
"""A stiffener 4 in deep that is laid 1/2 in below the cut edge."""
LEAST_HEM = Fraction(19, 4)
"""A hem of 4 in turned once, its raw edge turned in by 3/4 in, as on thick cloth."""
LEAST_DOUBLED_HEM = Fraction(8)
"""A hem of 4 in turned twice, as on light cloth."""


MOST_CUTS = 400
"""Beyond so many cuts no remedy is tried: a hundred plans of such a house take minutes."""


@dataclass(frozen=True)
class Remedy:
    """A change of the job in one plain sentence; ``saves`` is how much less is bought, or how much is missing now."""

    job: Job
    sentence: str
    saves: Fraction


@dataclass(frozen=True)
class _Change:
    job: Job
    sentence: str


def remedies(job: Job, table_length: Fraction | None = None, *, short: Fraction | None = None) -> tuple[Remedy, ...]:
    """Changes with which the job fits the cloth there is, what costs nothing first; empty when it fits as it is.

    Of one kind (rows, hem, heading) only the smallest change that is enough is told. ``short`` is what is missing, if
    a plan has told already. Raises JobRefused as ``plan_job``, and KeyboardInterrupt when a search is interrupted.
    """
    job = assumed(job).job
    short = plan_job(job, table_length).short if short is None else short
    if not short or len(cut_list(job)) > MOST_CUTS:
        return ()
    found = []
    for kind in _kinds(job):
        enough = next((change for change in kind if _fits(change.job, table_length)), None)
        if enough is not None:
            found.append(Remedy(enough.job, enough.sentence, short))
    return (*found, *_another_piece(job, short, table_length))


def savings(job: Job) -> tuple[Remedy, ...]:
    """Changes with which less cloth is bought, the one that saves most first; of one kind the best is told."""
    job = assumed(job).job
    now = order(job).buy
    best = []
    for kind in _kinds(job):
        tried = [Remedy(change.job, change.sentence, now - bought) for change in kind if (bought := _buys(change.job))]
        worth = [remedy for remedy in tried if remedy.saves > 0]
        if worth:
            best.append(max(worth, key=lambda remedy: remedy.saves))
    return tuple(sorted(best, key=lambda remedy: -remedy.saves))


def _kinds(job: Job) -> Iterator[Iterator[_Change]]:
    """Kinds of change, what changes least for the person first, each with its smallest step first.

    None for cloth run sideways, whose cuts are as long as its panels are wide.
    """
    if job.cloth.run is Run.SIDEWAYS:
        return
    yield _moved_rows(job)
    yield _turned(job)
    yield _fewer(job)
    yield _shallower(job, "hem")
    yield _shallower(job, "heading")
    yield _sideways(job)


def _steps(job: Job) -> list[Fraction]:
    step = Fraction(1, 2) if job.unit is Unit.INCH else CENTIMETRE
    few = 3 if len(cut_list(job)) > MANY_CUTS else 1
    return [step * number for number in range(few, MOST_STEPS + 1, few)]


def _moved_rows(job: Job) -> Iterator[_Change]:
    if job.cloth.repeat is None:
        return
    for step in _steps(job):
        for down, word in ((step, "lower"), (-step, "higher")):
            windows = tuple(replace(window, row=_moved(window, job.cloth, down)) for window in job.windows)
            yield _Change(replace(job, windows=windows), f"let every row hang {show_length(step, job.unit)} {word}")


def _moved(window: Window, cloth: Cloth, down: Fraction) -> RowRule:
    """The rule with its row further down (modulo the repeat); a row that follows another window's stays as it is."""
    assert cloth.repeat is not None
    rule = window.row or RowRule(below_top=Fraction(0))
    if rule.below_top is not None:
        return RowRule(below_top=(rule.below_top + down) % cloth.repeat.along)
    if rule.above_foot is not None:
        return RowRule(above_foot=(rule.above_foot - down) % cloth.repeat.along)
    return rule


def _turned(job: Job) -> Iterator[_Change]:
    """One pair that hangs the same way hung mirrored, where the print lets the second panel lie turned."""
    sheet = job.cloth.print
    if job.cloth.repeat is None or sheet.one_way or sheet.top_to_bottom is not Symmetry.MIRROR:
        return
    for at, window in enumerate(job.windows):
        if window.panels is Panels.PAIR and window.hang is Hang.SAME:
            turned = replace(window, hang=Hang.MIRRORED)
            windows = (*job.windows[:at], turned, *job.windows[at + 1 :])
            yield _Change(
                replace(job, windows=windows), f"hang {window.name} as a mirrored pair, its right panel turned"
            )


def _fewer(job: Job) -> Iterator[_Change]:
    """Panels whose outer edges make up for the whole columns not reached, with as many cuts as that needs."""
    found = {window.name: enough for window in job.windows if (enough := fewer_cuts(window, job)) is not None}
    if not found:
        return
    windows = tuple(
        replace(window, cuts_per_panel=found[window.name], rod=None) if window.name in found else window
        for window in job.windows
    )
    said = [f"{show_number(enough)} for {name}" for name, enough in found.items()]
    sentence = f"count the cuts of a panel to its outer edges ({', '.join(said)})"
    yield _Change(replace(job, windows=windows), sentence)


def _sideways(job: Job) -> Iterator[_Change]:
    """Plain cloth with its selvedges along top and foot, where it is tall enough for every window."""
    if job.cloth.repeat is None and not job.cloth.print.one_way:
        cloth = replace(job.cloth, run=Run.SIDEWAYS)
        said = "run the cloth sideways (`run: sideways`), its selvedges along top and foot and no panel with a seam"
        yield _Change(replace(job, cloth=cloth), said)


def _shallower(job: Job, name: str) -> Iterator[_Change]:
    allowance: Fraction = getattr(job.allowances, name)
    for step in _steps(job):
        if allowance - step >= _least(job, name):
            allowances = replace(job.allowances, **{name: allowance - step})
            left = show_length(allowance - step, job.unit)
            yield _Change(replace(job, allowances=allowances), f"make the {name} {left} instead of {_shown(job, name)}")


def _least(job: Job, name: str) -> Fraction:
    """The least a workroom would allow for a heading or a hem of this job."""
    if name == "hem":
        return LEAST_DOUBLED_HEM if TurnedOver.HEM in job.doubled else LEAST_HEM
    return LEAST_HEADING if job.stiffener is None else LEAST_STIFFENED_HEADING


def _shown(job: Job, name: str) -> str:
    return show_length(getattr(job.allowances, name), job.unit)


def _another_piece(job: Job, short: Fraction, table_length: Fraction | None) -> tuple[Remedy, ...]:
    """The shortest further piece with which the job fits, a row of the print at its first end."""
    step = job.cloth.sold_by or order_step(job.unit)
    enough = order(replace(job, cloth=replace(job.cloth, pieces=()))).buy // step + 1
    low, high = 0, int(enough)
    if not _fits(_with_piece(job, high * step), table_length):
        return ()
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if _fits(_with_piece(job, middle * step), table_length) else (middle, high)
    length = round_up(high * step, step)
    bought = show_order(length, job.unit, job.cloth.sold_by)
    sentence = f"buy one more piece of {bought}, a little more if no row lies at its first end"
    return (Remedy(_with_piece(job, length), sentence, short),)


def _with_piece(job: Job, length: Fraction) -> Job:
    return replace(job, cloth=replace(job.cloth, pieces=(*job.cloth.pieces, Piece(length))))


def _fits(job: Job, table_length: Fraction | None) -> bool:
    try:
        return fits(job, table_length)
    except JobRefused:
        return False


def _buys(job: Job) -> Fraction | None:
    try:
        return order(job).buy
    except JobRefused:
        return None
