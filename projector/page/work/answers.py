"""What is shown beside the form for a job, stage by stage, the quickest first; each answer is plain data."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from jobs.io.reader import parse_job
from jobs.model.job import Job
from jobs.model.lengths import show_cut, show_length, show_order
from jobs.model.plan import Plan
from jobs.model.problems import JobRefused, Problem
from jobs.model.records import dataclass
from jobs.model.resolved import ResolvedJob
from jobs.ordering import Assumed, Order, assumed, order
from jobs.planning.planner import Progress, plan_cuts
from jobs.planning.remedies import Remedy, remedies, savings
from projector.page.form.differences import differences
from projector.page.work.cloth_cuts import with_cuts
from projector.page.work.how_far import how_far
from projector.page.work.hung_window import hung_window
from projector.papers.cloth_picture import cloth_with_tiers
from projector.papers.drawing import Drawing
from projector.papers.hung_picture import hung_picture
from projector.papers.svg import svg_text
from projector.prints.face import face_of
from projector.words.arithmetic import order_lines
from projector.words.notices import notice_lines
from projector.words.proof import proof_words, whole_words
from projector.words.told import change_words, unmet_lines
from projector.words.wording import Voice, sentence, where

HOUSE = -1
"""In place of the number of a window: all windows of the job as they hang."""
ROOM_IN = (6.6, 5.2)
"""The sheet that one window is drawn on, drawing inches; the page shows it as large as there is room."""

Answer = dict[str, Any]
Tell = Callable[[Progress], None]


@dataclass(frozen=True)
class Asked:
    """A job to be worked out: its text, and which ``windows`` (from 0) are to be seen as they hang.

    ``part`` is ``look`` for what hangs alone, or ``all`` for order, plan, piece and what would save cloth as well.
    ``folder`` is where the job file lies, so that the picture of its print is found. ``file`` is the name of the job
    file in it where it shall be told how far the job is cut.
    """

    number: int
    text: str
    windows: tuple[int, ...] = (0,)
    part: str = "all"
    folder: str = ""
    file: str = ""


def answers(asked: Asked, tell: Tell | None = None) -> Iterator[Answer]:
    """The answers to a job without a problem: order, plan, pictures, savings; or why it cannot be cut."""
    job = _found(parse_job(asked.text, "job"), asked.folder)
    try:
        taken = assumed(job)
        found = order(taken.resolved)
        if asked.part == "all":
            yield _ordered(taken, found, face_of(job.cloth).notices)
        as_ordered = _as_ordered(taken.resolved)
        yield from _hung(as_ordered, asked)
        if asked.file:
            yield how_far(job, len(taken.resolved.cuts), Path(asked.folder) / asked.file)
        if asked.part == "all":
            plan = plan_cuts(taken.resolved, progress=tell)
            yield _planned(plan)
            yield _cloth(as_ordered if plan.short else plan)
            yield _remedies(plan) if plan.short else _savings(taken.resolved, found)
    except JobRefused as refused:
        yield {"stage": "refused", "lines": [_told(problem, job) for problem in refused.problems]}


def _as_ordered(resolved: ResolvedJob) -> Plan:
    """The plan on cloth as it would be ordered, whatever pieces there are and wherever on them cuts are wished."""
    free = _without_wishes(resolved)
    return plan_cuts(replace(free, job=replace(free.job, cloth=replace(free.job.cloth, pieces=()))))


def _without_wishes(resolved: ResolvedJob) -> ResolvedJob:
    windows = tuple(replace(window, places=()) for window in resolved.job.windows)
    return replace(resolved, job=replace(resolved.job, windows=windows))


def _found(job: Job, folder: str) -> Job:
    """The job with the picture of its print named from where the program runs."""
    if not job.cloth.picture:
        return job
    return replace(job, cloth=replace(job.cloth, picture=str(Path(folder) / job.cloth.picture)))


def _ordered(taken: Assumed, found: Order, wrong: tuple[str, ...]) -> Answer:
    job = taken.job
    return {
        "stage": "order",
        "buy": show_order(found.buy, job.unit, job.cloth.sold_by),
        "of": f"{job.cloth.name}, {show_cut(job.cloth.width, job.unit)} wide",
        "lines": list(order_lines(taken.resolved, found)),
        "notices": [*notice_lines(job), *wrong],
        "cuts": len(taken.resolved.cuts),
    }


def _planned(plan: Plan) -> Answer:
    unit = plan.job.unit
    if plan.short:
        words = f"The pieces are too short: {show_length(plan.short, unit)} is missing."
    else:
        wished = _wished(plan)
        proof = f", and {proof_words(plan)}" if plan.proved_shortest and not wished else ""
        stopped = " The search was stopped; this is the best found so far." if plan.stopped else ""
        whole = f" {whole_words(plan)}" if whole_words(plan) else ""
        words = f"{len(plan.placements)} cuts use {show_length(plan.used, unit)}{proof}.{wished}{stopped}{whole}"
    unmet = [] if plan.short else list(unmet_lines(plan))
    return {"stage": "plan", "words": words, "short": bool(plan.short), "stopped": plan.stopped, "unmet": unmet}


def _wished(plan: Plan) -> str:
    """What it costs that cuts lie where they are wished; nothing where none is."""
    if not plan.wished or plan.stopped:
        return ""
    more = plan.used - plan_cuts(_without_wishes(plan.resolved)).used
    if more <= 0:
        return " Where you placed them they take no more cloth than need be."
    return f" Where you placed them they take {show_length(more, plan.job.unit)} more than they must."


def _cloth(plan: Plan) -> Answer:
    drawing, tiers = cloth_with_tiers(plan)
    return {"stage": "picture", "of": "cloth", "svg": with_cuts(svg_text(drawing), plan, tiers)}


def _hung(plan: Plan, asked: Asked) -> Iterator[Answer]:
    for window in asked.windows:
        if window == HOUSE:
            yield _picture("hung", hung_picture(plan)) | {"window": window}
        elif window < len(plan.job.windows):
            yield _picture("hung", hung_window(plan, window, *ROOM_IN)) | {"window": window}


def _picture(of: str, drawing: Drawing) -> Answer:
    return {"stage": "picture", "of": of, "svg": svg_text(drawing)}


def _savings(resolved: ResolvedJob, found: Order) -> Answer:
    ways = [way for one in savings(resolved, found) if (way := _way(resolved.job, one)) is not None]
    return {"stage": "savings", "ways": ways}


def _remedies(plan: Plan) -> Answer:
    ways = [way for one in remedies(plan.resolved, plan.short) if (way := _way(plan.job, one)) is not None]
    return {"stage": "savings", "ways": ways, "short": True}


def _way(job: Job, remedy: Remedy) -> Answer | None:
    """A change of the job as edits of its text; None where no edit writes it."""
    try:
        edits = differences(job, remedy.job)
    except ValueError:
        return None
    return {
        "saves": show_length(remedy.saves, job.unit),
        "sentence": change_words(remedy.change, job.unit),
        "edits": [[list(edit.path), edit.value, list(edit.after)] for edit in edits],
    }


def _told(problem: Problem, job: Job) -> str:
    names = [window.name for window in job.windows]
    words = f"{where(problem.path, names)}: {sentence(problem, job.unit, Voice.FORM)}."
    return words[0].upper() + words[1:]


def progress_words(progress: Progress, job: Job) -> str:
    """How far a long search has come."""
    found, least = (show_cut(Fraction(length), job.unit) for length in (progress.used, progress.bound))
    return f"Still looking for a shorter way: {found} found, none under {least} can be."
