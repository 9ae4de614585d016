"""What is shown beside the form for a job, stage by stage, the quickest first; each answer is plain data."""

from __future__ import annotations

import base64
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from jobs.io.reader import parse_job
from jobs.model.job import Job
from jobs.model.lengths import show_cut, show_length, show_order
from jobs.model.plan import Plan
from jobs.model.problems import JobRefused, Problem
from jobs.ordering import order
from jobs.planning.planner import Progress, plan_job
from jobs.planning.remedies import remedies, savings
from projector.desk.reckoning.hung_window import PIXELS_PER_INCH, hung_window
from projector.papers.cloth_picture import cloth_picture
from projector.papers.drawing import Drawing
from projector.papers.png import png_bytes
from projector.prints.face import face_of
from projector.words.notices import notice_lines
from projector.words.wording import Voice, sentence, where

LEAST_PIXELS_PER_INCH = 72
"""Letters of the pictures are about an eighth of an inch high: with fewer pixels they cannot be read."""
MOST_PIXELS = 4000

Answer = dict[str, Any]
Tell = Callable[[Progress], None]


@dataclass(frozen=True)
class Asked:
    """A job to be reckoned: its text, the room for pictures, and which window (from 0) is to be seen as it hangs.

    ``part`` is ``look`` for the order and what hangs, ``cut`` for plan, piece and what would save cloth, or both. What
    hangs is the same wherever it is cut from: it need not wait for a search over several pieces.
    """

    number: int
    text: str
    width_px: int = 480
    height_px: int = 360
    window: int = 0
    part: str = "look cut"
    folder: str = ""
    """Where the job file is, so that the picture of its print is found."""


def answers(asked: Asked, tell: Tell | None = None) -> Iterator[Answer]:
    """The answers to a job without a problem: order, plan, pictures, savings; or why it cannot be cut."""
    job = _found(parse_job(asked.text, "job"), asked.folder)
    try:
        if "look" in asked.part:
            yield _ordered(job, face_of(job.cloth).notices)
            yield _hung(_as_ordered(job), asked)
        if "cut" in asked.part:
            plan = plan_job(job, progress=tell)
            yield _planned(plan)
            cloth = cloth_picture(_as_ordered(job) if plan.short else plan)
            yield _picture("cloth", cloth, max(LEAST_PIXELS_PER_INCH, asked.width_px / cloth.width))
            lines = _remedies(plan) if plan.short else _savings(job)
            yield {"stage": "short" if plan.short else "savings", "lines": lines}
    except JobRefused as refused:
        yield {"stage": "refused", "lines": [_said(problem, job) for problem in refused.problems]}


def _as_ordered(job: Job) -> Plan:
    """The plan on cloth as it would be ordered, whatever pieces there are."""
    return plan_job(replace(job, cloth=replace(job.cloth, pieces=())))


def _found(job: Job, folder: str) -> Job:
    """The job with the picture of its print named from where the program runs."""
    if not job.cloth.picture:
        return job
    return replace(job, cloth=replace(job.cloth, picture=str(Path(folder) / job.cloth.picture)))


def _ordered(job: Job, wrong: tuple[str, ...]) -> Answer:
    found = order(job)
    buy = show_order(found.buy, job.unit, job.cloth.sold_by)
    return {
        "stage": "order",
        "buy": buy,
        "of": f"{job.cloth.name}, {show_cut(job.cloth.width, job.unit)} wide",
        "lines": list(found.steps),
        "notices": [*notice_lines(found.assumed.job), *wrong],
        "cuts": len(found.cuts),
    }


def _planned(plan: Plan) -> Answer:
    unit = plan.job.unit
    if plan.short:
        words = f"The pieces are too short: {show_length(plan.short, unit)} is missing."
    else:
        proof = ", and no other order is shorter" if plan.proved_shortest else ""
        stopped = " The search was stopped; this is the best found so far." if plan.stopped else ""
        words = f"{len(plan.placements)} cuts use {show_length(plan.used, unit)}{proof}.{stopped}"
    return {"stage": "plan", "words": words, "short": bool(plan.short), "stopped": plan.stopped}


def _hung(plan: Plan, asked: Asked) -> Answer:
    room = asked.width_px / PIXELS_PER_INCH, asked.height_px / PIXELS_PER_INCH
    window = min(asked.window, len(plan.job.windows) - 1)
    return _picture("hung", hung_window(plan, window, *room), PIXELS_PER_INCH)


def _picture(of: str, drawing: Drawing, per_inch: float) -> Answer:
    per_inch = min(per_inch, MOST_PIXELS / max(drawing.width, drawing.height))
    return {"stage": "picture", "of": of, "png": base64.b64encode(png_bytes(drawing, int(per_inch))).decode()}


def _savings(job: Job) -> list[str]:
    return [f"To buy {show_length(remedy.saves, job.unit)} less: {remedy.sentence}." for remedy in savings(job)]


def _remedies(plan: Plan) -> list[str]:
    return [f"This would be enough: {remedy.sentence}." for remedy in remedies(plan.job, short=plan.short)]


def _said(problem: Problem, job: Job) -> str:
    names = [window.name for window in job.windows]
    said = f"{where(problem.path, names)}: {sentence(problem, job.unit, Voice.FORM)}."
    return said[0].upper() + said[1:]


def progress_words(progress: Progress, job: Job) -> str:
    """How far a long search has come."""
    found, least = (show_cut(Fraction(length), job.unit) for length in (progress.used, progress.bound))
    return f"Still looking for a shorter way: {found} found, none under {least} can be."
