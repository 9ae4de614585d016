"""Whether lengths of cloth find room on pieces at all, asked of a general solver of constraints (OR-tools CP-SAT)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from ortools.sat.python import cp_model

from jobs.model.cuts import Placement
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.plan import Plan
from tests.jobs.packing.checker import seen_of

ZERO = Fraction(0)
WORK = 5
"""The solver's own measure, about so many seconds of a core: the same answer everywhere."""


def has_room(plan: Plan, pieces: Sequence[Piece], job: Job) -> bool | None:
    """Whether the lengths of a plan, as they are, have room on these pieces of the job; None where that stays open.

    Every length lies on one piece, on its place in the repeat, no seen part of a cut on a flaw; all that is cut for a
    window comes from one dye lot.
    """
    model, lanes = cp_model.CpModel(), _lanes(plan)
    along = job.cloth.repeat.along if job.cloth.repeat is not None else ZERO
    begin, rows = job.allowances.squaring, [use.piece.first_row for use in plan.pieces]
    spans = [(min(one.start for one in lane), max(one.start + one.cut.length for one in lane)) for lane in lanes]
    numbers = [along, begin, *(number for span in spans for number in span), *rows]
    numbers += [number for piece in pieces for number in (piece.length, piece.first_row)]
    numbers += [number for piece in pieces for flaw in piece.flaws for number in (flaw.start, flaw.end)]
    numbers += [n for lane in lanes for one in lane for n in (one.start, *seen_of(one.cut, job)[:2])]
    unit = lcm(*(number.denominator for number in numbers))
    lots = [piece.dye_lot or f"piece {number}" for number, piece in enumerate(pieces)]
    on = {(at, number): model.new_bool_var("") for at in range(len(lanes)) for number in range(len(pieces))}
    lot_of = {(one.cut.window, lot): model.new_bool_var("") for lane in lanes for one in lane for lot in set(lots)}
    for at, lane in enumerate(lanes):
        model.add_exactly_one(on[at, number] for number in range(len(pieces)))
        for number, lot in enumerate(lots):
            for one in lane:
                model.add_implication(on[at, number], lot_of[one.cut.window, lot])
    for window in {window for window, _ in lot_of}:
        model.add_exactly_one(lot_of[window, lot] for lot in set(lots))
    for number, piece in enumerate(pieces):
        intervals = []
        for at, lane in enumerate(lanes):
            size = spans[at][1] - spans[at][0]
            after_row = spans[at][0] - rows[lane[0].piece - 1]
            least = begin + (piece.first_row + after_row - begin) % along if along else begin
            if least + size > piece.length:
                model.add(on[at, number] == 0)
                continue
            if along:
                start = int(least * unit) + int(along * unit) * model.new_int_var(
                    0, int((piece.length - size - least) // along), ""
                )
            else:
                start = model.new_int_var(int(least * unit), int((piece.length - size) * unit), "")
            intervals.append(model.new_optional_fixed_size_interval_var(start, int(size * unit), on[at, number], ""))
            for low, high in _spoilt(lane, spans[at][0], piece, job):
                before = model.new_bool_var("")
                model.add(start <= int(low * unit)).only_enforce_if(on[at, number], before)
                model.add(start >= int(high * unit)).only_enforce_if(on[at, number], ~before)
        model.add_no_overlap(intervals)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = WORK
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return False
    return True if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None


def _lanes(plan: Plan) -> list[list[Placement]]:
    lanes: dict[tuple[int, str], list[Placement]] = defaultdict(list)
    for one in plan.placements:
        lanes[one.piece, one.cut.beside or f"alone {one.cut.id}"].append(one)
    return list(lanes.values())


def _spoilt(lane: Sequence[Placement], start: Fraction, piece: Piece, job: Job) -> list[tuple[Fraction, Fraction]]:
    """Open stretches in which the length must not begin, because what is seen of a cut in it would lie on a flaw."""
    found = []
    for one in lane:
        low, high, near, far = seen_of(one.cut, job)
        for flaw in piece.flaws:
            if flaw.across is None or (flaw.across[0] < far and near < flaw.across[1]):
                into = one.start - start
                found.append((flaw.start - into - high, flaw.end - into - low))
    return found
