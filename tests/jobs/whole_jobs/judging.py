"""A job file read, ordered and planned as its user would, and everything about it judged by this folder's checkers."""

from __future__ import annotations

import traceback
from collections.abc import Iterator
from dataclasses import field, replace
from fractions import Fraction

from jobs.cutting.cloths import ClothJob, jobs_of_cloths
from jobs.io.reader import parse_job
from jobs.model.choices import OrderBy
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.plan import Plan
from jobs.model.problems import Problem, Refused
from jobs.model.records import dataclass
from jobs.ordering import order
from jobs.planning.planner import plan_job
from tests.jobs.whole_jobs.checker import faults_of_job
from tests.jobs.whole_jobs.parts import parts_of
from tests.jobs.whole_jobs.print_plane import answered
from tests.jobs.whole_jobs.refusals import Case, is_right
from tests.jobs.whole_jobs.room_for import has_room
from tests.jobs.whole_jobs.shortest import MOST, lanes_of, least_end, worst

HELD = 4
"""First rows at which an order is cut, beside those just past a place where something begins."""


@dataclass(frozen=True)
class Verdict:
    """``faults`` are what is wrong, in words; ``refused`` the reasons given; ``plans`` those of the cloths by name.

    ``open_shorts`` counts plans that say that cloth is missing where no arithmetic here proves it; ``ordered`` and
    ``tried`` the orders that were held against every order of their cuts, and against first rows.
    """

    faults: tuple[str, ...]
    refused: tuple[str, ...] = ()
    plans: dict[str, Plan] = field(default_factory=dict)
    open_shorts: int = 0
    ordered: int = 0
    tried: int = 0


def judged(text: str) -> Verdict:
    """What is to be said of a job file. Whatever the program raises is a fault."""
    try:
        job = parse_job(text, "a random job")
    except Refused as refused:
        return Verdict(tuple(f"not read: {one.path}: {one.code}" for one in refused.problems))
    try:
        return _judged(job)
    except Exception:
        return Verdict((traceback.format_exc(limit=-4),))


def _judged(job: Job) -> Verdict:
    plans: dict[str, Plan] = {}
    faults: list[str] = []
    refused: list[str] = []
    shorts = ordered = tried = 0
    cloths = jobs_of_cloths(job)
    for one in cloths:
        try:
            plans[one.name] = plan = plan_job(one.job)
        except Refused as reasons:
            refused += (str(problem.code) for problem in reasons.problems)
            wrong = (problem for problem in reasons.problems if not _is_right(problem, one, job))
            faults += (f"{one.name}: refused at {problem.path} without reason: {problem.code}" for problem in wrong)
            continue
        if plan.short:
            missing = _is_short(one.job, plan)
            shorts += missing is None
            faults += [f"{one.name}: {plan.short} short, and yet there is room"] if missing is False else []
            continue
        faults += (f"{one.name}: {fault}" for fault in _shortest_faults(plan))
        if not one.job.cloth.pieces:
            checked, cut, wrong_orders = _order_faults(plan)
            ordered, tried = ordered + checked, tried + cut
            faults += (f"{one.name}: {fault}" for fault in wrong_orders)
    absent = {f"{one.name}: no plan" for one in cloths if one.name not in plans}
    faults += (fault for fault in faults_of_job(job, plans) if fault not in absent)
    return Verdict(tuple(faults), tuple(refused), plans, shorts, ordered, tried)


def _is_right(problem: Problem, one: ClothJob, job: Job) -> bool:
    at = problem.path[1] if problem.path[0] == "windows" else None
    name = one.job.windows[at].name if isinstance(at, int) else None
    # What is said of the cloth is said because of some part of it.
    parts = [part for part in parts_of(job) if part.cloth == one.name and name in (None, part.name)]
    return any(is_right(Case(problem, part, cloth)) for part in parts for cloth in answered(one.job.cloth))


def _with_pieces(job: Job, *pieces: Piece) -> Job:
    return replace(job, cloth=replace(job.cloth, pieces=pieces))


def _is_short(job: Job, plan: Plan) -> bool | None:
    """Whether the cloth is indeed not enough for the lengths that the cuts take on a piece without end; None where that
    stays open, because other cuts could lie side by side instead or the solver gave up."""
    windows = tuple(replace(window, places=()) for window in job.windows)
    endless = plan_job(_with_pieces(replace(job, windows=windows), Piece(Fraction(20_000))))
    usable = sum(max(piece.length - job.allowances.squaring, Fraction(0)) for piece in job.cloth.pieces)
    if sum(_area(one.cut) for one in endless.placements) > usable * job.cloth.width:
        return True
    room = has_room(endless, job.cloth.pieces, plan.job)
    if room is False and any(cut.beside for cut in (*endless.cuts, *plan.resolved.cuts)):
        return None
    return None if room is None else not room


def _area(cut: Cut) -> Fraction:
    """What a cut takes of the cloth, the selvedge beside it left out where it is narrow."""
    across = cut.across[1] - cut.across[0]
    if cut.leading_edge.is_end or cut.leading_side.joined or cut.return_side.joined:
        return cut.length * across
    sides = (cut.leading_side, cut.return_side)
    return cut.length * (across - sum(side.line - side.hem for side in sides))


def _shortest_faults(plan: Plan) -> Iterator[str]:
    """On one piece without a flaw: nothing shorter where a plan is said to be the shortest."""
    piece, lanes = plan.pieces[0].piece, lanes_of(plan)
    wished = any(window.places for window in plan.job.windows)
    if len(plan.pieces) > 1 or piece.flaws or len(lanes) > MOST or wished or not plan.proved_shortest:
        return
    along = plan.job.cloth.repeat.along if plan.job.cloth.repeat is not None else None
    least = least_end(lanes, along, piece.first_row, plan.job.allowances.squaring)
    if plan.used != least:
        yield f"{plan.used} used, the same lengths end at {least} in another order"


def _order_faults(plan: Plan) -> tuple[int, int, list[str]]:
    """The guaranteed length of a job that is only ordered: never too little, and no more than is needed at worst."""
    job, bought, found = plan.job, order(plan.resolved), list[str]()
    lanes = lanes_of(plan)
    along = job.cloth.repeat.along if job.cloth.repeat is not None else None
    alike = not any(cut.beside for cut in (*plan.resolved.cuts, *plan.cuts))
    checked = int(len(bought.pieces) == 1 and alike and len(lanes) <= MOST)
    if checked and bought.guaranteed != worst(lanes, along):
        found.append(f"{bought.guaranteed} guaranteed, every order tried {worst(lanes, along)}")
    if bought.needed < bought.guaranteed or (
        job.cloth.order_by is OrderBy.HANDBOOK and bought.needed < bought.handbook
    ):
        found.append("less is bought than is needed")
    begin, step = job.allowances.squaring, job.cloth.sold_by
    if sum(bought.pieces) < bought.needed + begin or (step and any(piece % step for piece in bought.pieces)):
        found.append("what is bought is less than needed and squaring, or not what is sold")
    if along is None or len(bought.pieces) > 1:
        return checked, 0, found
    rows = [along * number / HELD for number in range(HELD)]
    # A hair past the places where something begins nearly a whole repeat is waited.
    rows += [(begin - lane.after_row - along / 1000) % along for lane in lanes[:HELD]]
    for row in rows:
        cut = plan_job(_with_pieces(job, Piece(begin + bought.guaranteed, row)))
        if cut.short:
            found.append(f"{bought.guaranteed} guaranteed, {cut.short} short with the first row at {row}")
    return checked, len(rows), [*found, *_tolerance_faults(job, bought.needed + begin)]


def _tolerance_faults(job: Job, bought: Fraction) -> Iterator[str]:
    """What is bought for a longer repeat is enough for any up to the longest; rows stay where they are asked for."""
    repeat, sheet = job.cloth.repeat, job.cloth.print
    for part in (Fraction(1, 12), Fraction(2, 5), Fraction(1)) if job.cloth.repeat_tolerance and repeat else ():
        longer = 1 + job.cloth.repeat_tolerance * part
        along, offset = repeat.along * longer, sheet.mirror_offset * longer
        cloth = replace(job.cloth, repeat=replace(repeat, along=along), print=replace(sheet, mirror_offset=offset))
        for row in (Fraction(0), along / 3):
            cut = plan_job(_with_pieces(replace(job, cloth=cloth), Piece(bought, row)))
            if cut.short:
                yield f"{bought} bought, {cut.short} short with a repeat of {along}"
