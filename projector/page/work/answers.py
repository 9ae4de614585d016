"""What is shown beside the form for a job, stage by stage, the quickest first; each answer is plain data."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from jobs.cutting.cloths import ClothJob, jobs_of_cloths
from jobs.cutting.mirroring import looks_either_way
from jobs.io.reader import parse_job
from jobs.model.job import Job
from jobs.model.lengths import show_cut, show_length, show_order
from jobs.model.plan import Plan
from jobs.model.problems import JobRefused, Problem
from jobs.model.records import dataclass
from jobs.model.resolved import ResolvedJob
from jobs.ordering import Assumed, Order, across_needed, assumed_to_order, order
from jobs.planning.planner import Progress, plan_cuts
from jobs.planning.remedies import Remedy, remedies, savings
from projector.page.form.differences import differences
from projector.page.work.asked import HOUSE, Answer, Asked
from projector.page.work.cloth_cuts import with_cuts
from projector.page.work.how_far import how_far
from projector.page.work.hung_window import hung_window
from projector.papers.cloth_picture import cloth_with_tiers
from projector.papers.drawing import Drawing
from projector.papers.hung_picture import hung_picture
from projector.papers.pair_looks import pair_looks
from projector.papers.svg import svg_text
from projector.prints.face import face_of
from projector.words.arithmetic import order_lines
from projector.words.notices import notice_lines
from projector.words.proof import proof_words, whole_words
from projector.words.told import change_words, unmet_lines
from projector.words.wording import Voice, called, sentence, where

ROOM_IN = (6.6, 5.2)
"""The sheet that one window is drawn on, drawing inches; the page shows it as large as there is room."""

Tell = Callable[[Progress], None]


@dataclass(frozen=True)
class _Reckoned:
    """One cloth of the job, worked out and ordered."""

    cloth: ClothJob
    taken: Assumed
    order: Order

    @property
    def resolved(self) -> ResolvedJob:
        return self.taken.resolved


def answers(asked: Asked, tell: Tell | None = None) -> Iterator[Answer]:
    """The answers to a job without a problem: order, plan, pictures, savings; or why it cannot be cut.

    Of a job of several cloths each answer tells of all of them.
    """
    found: list[_Reckoned] = []
    why: list[tuple[Problem, ClothJob]] = []
    for one in jobs_of_cloths(parse_job(asked.text, "job")):
        cloth = replace(one, job=_found(one.job, asked.folder))
        try:
            taken = assumed_to_order(cloth.job)
            found.append(_Reckoned(cloth, taken, order(taken.resolved)))
        except JobRefused as refused:
            why += ((problem, cloth) for problem in refused.problems)
    if why:
        yield _refused(why)
        return
    if asked.part == "all":
        yield _all_ordered(found)
    needed = [_told(one, each.cloth) for each in found if each.taken.across for one in across_needed(each.cloth.job)]
    if needed:
        yield from _not_planned(needed)
        return
    as_ordered = [_as_ordered(one.resolved) for one in found]
    yield from _hung(found, as_ordered, asked)
    if asked.file:
        yield _how_far(found, Path(asked.folder) / asked.file)
    if asked.part == "all":
        try:
            plans = [plan_cuts(one.resolved, progress=tell) for one in found]
        except JobRefused as refused:
            yield _refused([(problem, found[0].cloth) for problem in refused.problems])
            return
        yield _planned(plans)
        yield _cloths(found, [first if plan.short else plan for first, plan in zip(as_ordered, plans, strict=True)])
        yield _saved(found, plans)


def _refused(why: Sequence[tuple[Problem, ClothJob]]) -> Answer:
    """Why a job cannot be cut, each line with the path in the file of what it is about."""
    paths = [list(cloth.frame.in_file(problem.path)) for problem, cloth in why]
    return {"stage": "refused", "lines": [_told(*one) for one in why], "paths": paths}


def _not_planned(why: Sequence[str]) -> Iterator[Answer]:
    """Of a job that can be ordered and not be planned: nothing is shown of what would be made up."""
    yield {"stage": "plan", "words": f"Not planned yet. {' '.join(why)}", "short": True, "stopped": False, "unmet": []}
    yield {"stage": "picture", "of": "cloth", "svg": ""}
    yield {"stage": "savings", "ways": []}


def _as_ordered(resolved: ResolvedJob) -> Plan:
    """The plan on cloth as it would be ordered, whatever pieces there are and wherever on them cuts are wished."""
    free = _without_wishes(resolved)
    return plan_cuts(replace(free, job=replace(free.job, cloth=replace(free.job.cloth, pieces=()))))


def _without_wishes(resolved: ResolvedJob) -> ResolvedJob:
    windows = tuple(replace(window, places=()) for window in resolved.job.windows)
    return replace(resolved, job=replace(resolved.job, windows=windows))


def _how_far(found: Sequence[_Reckoned], file: Path) -> Answer:
    each = [how_far(one.cloth.job, len(one.resolved.cuts), file, one.cloth.ending) for one in found]
    wrong = next((one["wrong"] for one in each if one["wrong"]), "")
    of = sum(one["of"] for one in each) if all(one["of"] for one in each) else 0
    notes = [note for one in each for note in one["notes"]]
    return {"stage": "cuts", "done": sum(one["done"] for one in each), "of": of, "wrong": wrong, "notes": notes}


def _found(job: Job, folder: str) -> Job:
    """The job with the picture of its print named from where the program runs."""
    if not job.cloth.picture:
        return job
    return replace(job, cloth=replace(job.cloth, picture=str(Path(folder) / job.cloth.picture)))


def _all_ordered(found: Sequence[_Reckoned]) -> Answer:
    each = [_ordered(one) for one in found]
    if len(each) == 1:
        return each[0]
    return {
        "stage": "order",
        "buy": ", ".join(f"{one['buy']} of {of.cloth.name}" for one, of in zip(each, found, strict=True)),
        "of": f"{len(each)} cloths",
        "lines": [line for one in each for line in (f"{one['of']}: buy {one['buy']}.", *one["lines"])],
        "notices": list(dict.fromkeys(notice for one in each for notice in one["notices"])),
        "cuts": sum(one["cuts"] for one in each),
    }


def _ordered(one: _Reckoned) -> Answer:
    job = one.taken.job
    return {
        "stage": "order",
        "buy": show_order(one.order.buy, job.unit, job.cloth.sold_by),
        "of": f"{job.cloth.name}, {show_cut(job.cloth.width, job.unit)} wide",
        "lines": list(order_lines(one.resolved, one.order)),
        "notices": [*notice_lines(job), *face_of(one.cloth.job.cloth).notices],
        "cuts": len(one.resolved.cuts),
    }


def _planned(plans: Sequence[Plan]) -> Answer:
    words = [_planned_words(plan) for plan in plans]
    if len(plans) > 1:
        words = [f"{plan.job.cloth.name}: {one}" for plan, one in zip(plans, words, strict=True)]
    short, stopped = any(plan.short for plan in plans), any(plan.stopped for plan in plans)
    unmet = [line for plan in plans if not plan.short for line in unmet_lines(plan)]
    return {"stage": "plan", "words": " ".join(words), "short": short, "stopped": stopped, "unmet": unmet}


def _planned_words(plan: Plan) -> str:
    unit = plan.job.unit
    if plan.short:
        return f"The pieces are too short: {show_length(plan.short, unit)} is missing."
    wished = _wished(plan)
    proof = f", and {proof_words(plan)}" if plan.proved_shortest and not wished else ""
    stopped = " The search was stopped; this is the best found so far." if plan.stopped else ""
    whole = f" {whole_words(plan)}" if whole_words(plan) else ""
    return f"{len(plan.placements)} cuts use {show_length(plan.used, unit)}{proof}.{wished}{stopped}{whole}"


def _wished(plan: Plan) -> str:
    """What it costs that cuts lie where they are wished; nothing where none is."""
    if not plan.wished or plan.stopped:
        return ""
    more = plan.used - plan_cuts(_without_wishes(plan.resolved)).used
    if more <= 0:
        return " Where you placed them they take no more cloth than need be."
    return f" Where you placed them they take {show_length(more, plan.job.unit)} more than they must."


def _hung(found: Sequence[_Reckoned], plans: Sequence[Plan], asked: Asked) -> Iterator[Answer]:
    for window in asked.windows:
        if window == HOUSE:
            yield _picture("hung", *(hung_picture(plan) for plan in plans if _has_faces(plan))) | {"window": window}
            continue
        path = ("windows", window)
        for one, plan in zip(found, plans, strict=True):
            if path in one.cloth.frame.windows:
                number = one.cloth.frame.windows.index(path)
                yield _picture("hung", hung_window(plan, number, *ROOM_IN)) | {"window": window}
                yield from _looks(one.taken.job, number, window)


def _looks(job: Job, number: int, window: int) -> Iterator[Answer]:
    """A pair that may look either way, drawn with either answer."""
    if job.windows[number].made is None and looks_either_way(job.windows[number], job.cloth):
        svgs = {facing.value: svg_text(drawing) for facing, drawing in pair_looks(job, number).items()}
        yield {"stage": "looks", "window": window, "svgs": svgs}


def _cloths(found: Sequence[_Reckoned], plans: Sequence[Plan]) -> Answer:
    """The pieces of each cloth, with what a browser needs so that its cuts can be dragged."""
    drawn: list[str] = []
    for one, plan in zip(found, plans, strict=True):
        drawing, tiers = cloth_with_tiers(plan)
        drawn.append(with_cuts(svg_text(drawing), plan, tiers, one.cloth))
    return {"stage": "picture", "of": "cloth", "svg": "\n".join(drawn)}


def _has_faces(plan: Plan) -> bool:
    return any(window.made is None for window in plan.job.windows)


def _picture(of: str, *drawings: Drawing) -> Answer:
    return {"stage": "picture", "of": of, "svg": "\n".join(map(svg_text, drawings))}


def _saved(found: Sequence[_Reckoned], plans: Sequence[Plan]) -> Answer:
    """What would make it fit where a cloth is too short, else what would save cloth."""
    short = any(plan.short for plan in plans)
    ways: list[Answer] = []
    for one, plan in zip(found, plans, strict=True):
        changes = remedies(plan.resolved, plan.short) if plan.short else savings(one.resolved, one.order)
        ways += [way for change in changes if short is bool(plan.short) and (way := _way(one, change))]
    return {"stage": "savings", "ways": ways, **({"short": True} if short else {})}


def _way(one: _Reckoned, remedy: Remedy) -> Answer | None:
    """A change of the job as edits of its text, nothing of what was only taken for its print among them; None where no
    edit writes it, as where it is a lining that changes."""
    cloth, job, made = one.cloth, one.taken.job, [window.made is not None for window in one.cloth.job.windows]
    try:
        edits = differences(job, remedy.job)
    except ValueError:
        return None
    if any(edit.path[0] == "windows" and made[int(edit.path[1])] for edit in edits):
        return None
    of = f"{cloth.name}: " if cloth.of > 1 else ""
    return {
        "saves": show_order(remedy.saves, job.unit, job.cloth.sold_by),
        "sentence": f"{of}{change_words(remedy.change, job.unit)}",
        "edits": [[list(cloth.frame.in_file(edit.path)), edit.value, list(edit.after)] for edit in edits],
    }


def _told(problem: Problem, cloth: ClothJob) -> str:
    job = cloth.job
    names = called(job.windows)
    place = where(problem.path, names, cloth.name if cloth.of > 1 else "")
    words = f"{place}: {sentence(problem, job.unit, Voice.FORM)}."
    return words[0].upper() + words[1:]


def progress_words(progress: Progress, job: Job) -> str:
    """How far a long search has come."""
    found, least = (show_cut(Fraction(length), job.unit) for length in (progress.used, progress.bound))
    return f"Still looking for a shorter way: {found} found, none under {least} can be."
