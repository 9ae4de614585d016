"""What would make a job fit its cloth, or need less of it: each change tried by planning with it, never guessed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TypeAlias

from jobs.cutting.resolve import resolve
from jobs.model.choices import Hang, Panels, Run, Symmetry, TurnedOver, Unit
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.lengths import CENTIMETRE, order_step
from jobs.model.piece import Piece
from jobs.model.problems import Code, JobRefused, Problem, problem
from jobs.model.records import dataclass
from jobs.model.resolved import ResolvedJob
from jobs.model.window import RowRule, Window
from jobs.ordering import Order, handbook_length, order

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
    """A job that is changed, and what was changed; ``saves`` is how much less is bought, or how much is missing now."""

    job: Job
    change: Problem
    saves: Fraction


Change: TypeAlias = tuple[Job, Problem]


def remedies(resolved: ResolvedJob, short: Fraction, table_length: Fraction | None = None) -> tuple[Remedy, ...]:
    """Changes with which a job fits the cloth there is, of which a plan misses ``short``; what costs nothing first.

    Of one kind (rows, hem, heading) only the smallest change that is enough is told. Raises KeyboardInterrupt when a
    search is interrupted.
    """
    if not short or len(resolved.cuts) > MOST_CUTS:
        return ()
    found = []
    for kind in _kinds(resolved):
        enough = next((change for change in kind if _fits(resolve(change[0]), table_length)), None)
        if enough is not None:
            found.append(Remedy(*enough, short))
    return (*found, *_another_piece(resolved, short, table_length))


def savings(resolved: ResolvedJob, now: Order) -> tuple[Remedy, ...]:
    """Changes with which less cloth is bought than ``now``, what saves most first; of one kind the best is told."""
    best = []
    for kind in _kinds(resolved):
        tried = [Remedy(job, change, now.buy - bought) for job, change in kind if (bought := _buys(job))]
        worth = [remedy for remedy in tried if remedy.saves > 0]
        if worth:
            best.append(max(worth, key=lambda remedy: remedy.saves))
    return tuple(sorted(best, key=lambda remedy: -remedy.saves))


def _kinds(resolved: ResolvedJob) -> Iterator[Iterator[Change]]:
    """Kinds of change, what changes least for the person first, each with its smallest step first.

    None for cloth run sideways, whose cuts are as long as its panels are wide.
    """
    job, steps = resolved.job, _steps(resolved)
    if job.cloth.run is Run.SIDEWAYS:
        return
    yield _moved_rows(job, steps)
    yield _turned(job)
    yield _shallower(job, "hem", steps)
    yield _shallower(job, "heading", steps)
    yield _sideways(job)


def _steps(resolved: ResolvedJob) -> list[Fraction]:
    step = Fraction(1, 2) if resolved.job.unit is Unit.INCH else CENTIMETRE
    few = 3 if len(resolved.cuts) > MANY_CUTS else 1
    return [step * number for number in range(few, MOST_STEPS + 1, few)]


def _moved_rows(job: Job, steps: Sequence[Fraction]) -> Iterator[Change]:
    if job.cloth.repeat is None or any(window.made is not None and window.row is not None for window in job.windows):
        # The rows of shades and cushions stay where their motifs are, so not every row can be moved.
        return
    for step in steps:
        for down in (step, -step):
            windows = tuple(replace(window, row=_moved(window, job.cloth, down)) for window in job.windows)
            yield (replace(job, windows=windows), problem(("windows",), Code.ROWS_MOVED, down=down))


def _moved(window: Window, cloth: Cloth, down: Fraction) -> RowRule:
    """The rule with its row further down (modulo the repeat); a row that follows another window's stays as it is."""
    assert cloth.repeat is not None
    rule = window.row or RowRule(below_top=Fraction(0))
    if rule.below_top is not None:
        return RowRule(below_top=(rule.below_top + down) % cloth.repeat.along)
    if rule.above_foot is not None:
        return RowRule(above_foot=(rule.above_foot - down) % cloth.repeat.along)
    return rule


def _turned(job: Job) -> Iterator[Change]:
    """One pair that hangs the same way hung mirrored, where the print lets the second panel lie turned."""
    sheet = job.cloth.print
    if job.cloth.repeat is None or sheet.one_way or sheet.top_to_bottom is not Symmetry.MIRROR:
        return
    for at, window in enumerate(job.windows):
        if window.panels is Panels.PAIR and window.hang is Hang.SAME:
            turned = replace(window, hang=Hang.MIRRORED)
            windows = (*job.windows[:at], turned, *job.windows[at + 1 :])
            said = problem(("windows", at, "hang"), Code.PAIR_MIRRORED, window=window.name)
            yield (replace(job, windows=windows), said)


def _sideways(job: Job) -> Iterator[Change]:
    """Plain cloth with its selvedges along top and foot, where it is tall enough for every window."""
    if job.cloth.repeat is None and not job.cloth.print.one_way:
        cloth = replace(job.cloth, run=Run.SIDEWAYS)
        yield (replace(job, cloth=cloth), problem(("cloth", "run"), Code.RUN_SIDEWAYS))


def _shallower(job: Job, name: str, steps: Sequence[Fraction]) -> Iterator[Change]:
    allowance: Fraction = getattr(job.allowances, name)
    for step in steps:
        if allowance - step >= _least(job, name):
            less = allowance - step
            of = job.allowances
            allowances = replace(of, hem=less) if name == "hem" else replace(of, heading=less)
            said = problem(("allowances", name), Code.SHALLOWER, left=allowance - step, now=allowance)
            yield (replace(job, allowances=allowances), said)


def _least(job: Job, name: str) -> Fraction:
    """The least a workroom would allow for a heading or a hem of this job."""
    if name == "hem":
        return LEAST_DOUBLED_HEM if TurnedOver.HEM in job.doubled else LEAST_HEM
    return LEAST_HEADING if job.stiffener is None else LEAST_STIFFENED_HEADING


def _another_piece(resolved: ResolvedJob, short: Fraction, table_length: Fraction | None) -> tuple[Remedy, ...]:
    """The shortest further piece with which the job fits, a row of the print at its first end; none where the cloth is
    not sold so long."""
    job = resolved.job
    step = job.cloth.sold_by or order_step(job.unit)

    def with_piece(length: Fraction) -> ResolvedJob:
        return replace(resolved, job=replace(job, cloth=replace(job.cloth, pieces=(*job.cloth.pieces, Piece(length)))))

    enough = handbook_length(resolved.cuts, job.cloth) + job.allowances.squaring
    low, high = 0, int(min(enough + step, job.cloth.longest_piece or enough + step) // step)
    if not high or not _fits(with_piece(high * step), table_length):
        return ()
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if _fits(with_piece(middle * step), table_length) else (middle, high)
    said = problem(("cloth", "pieces"), Code.ANOTHER_PIECE, length=high * step, sold_by=job.cloth.sold_by)
    return (Remedy(with_piece(high * step).job, said, short),)


def _fits(resolved: ResolvedJob, table_length: Fraction | None) -> bool:
    from jobs.planning.planner import fits  # an order asks what would save cloth, and lays nothing

    try:
        return fits(resolved.sound(), table_length)
    except JobRefused:
        return False


def _buys(job: Job) -> Fraction | None:
    try:
        return order(resolve(job).sound()).buy
    except JobRefused:
        return None
