"""Random jobs whose narrow cuts may share lengths, and the least cloth they take by a general solver (CP-SAT)."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction
from math import lcm

from ortools.sat.python import cp_model

from jobs.cutting.columns import printed_width
from jobs.cutting.resolve import resolve
from jobs.model.choices import Hang, Panels
from jobs.model.cuts import Cut, Edge
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.window import Window
from tests.jobs.made import MIRROR_DOWN, below_top, cloth, job, window

F = Fraction


def random_job(seed: int) -> Job:
    """One to four windows on one long piece, plain or patterned, with one to six narrow cuts; no flaws."""
    dice = random.Random(seed)
    while True:
        made = _made(dice)
        narrow = [cut for cut in resolve(made).sound().cuts if cut.across != (0, made.cloth.width)]
        if 1 <= len(narrow) <= 6:
            return made


def _made(dice: random.Random) -> Job:
    repeat = dice.choice([None, None, 9, 14])
    piece = Piece(F(4000), F(dice.randrange(18), 2))
    of = cloth(repeat, print=MIRROR_DOWN, pieces=(piece,))
    windows = [_window(dice, number, repeat) for number in range(dice.randint(1, 4))]
    return job(of, *windows, squaring=dice.choice([0, 1]), side_hem=0)


def _window(dice: random.Random, number: int, repeat: int | None) -> Window:
    panels = dice.choice([Panels.LEFT, Panels.RIGHT, Panels.PAIR, Panels.WHOLE])
    row = below_top(F(dice.randrange(24), 2)) if repeat else None
    made = window(f"W{number}", F(dice.randrange(40, 130), 2), panels, row=row, hang=Hang.SAME)
    if repeat or dice.random() < 0.5:
        # On patterned cloth a panel of half a cut has its columns to keep, which the solver knows nothing of.
        return replace(made, cuts_per_panel=F(dice.choice([2, 3] if repeat else [1, 3]), 2))
    sides = 2 if panels is Panels.PAIR else 1
    return replace(made, rod=F(sides * dice.randrange(10, 50)), cuts_per_panel=None, fullness=F(1))


def least_by_solver(made: Job, work: float) -> tuple[Fraction, bool]:
    """Where the last length ends at best, whatever shares one, and whether that is proved.

    Every cut is given to a length, led by the first of its cuts. A length reaches over all of its cuts, is no wider
    than the cloth, and touches no other. Cuts lie on their place in the repeat.
    """
    resolved = resolve(made).sound()
    cuts, piece = resolved.cuts, made.cloth.pieces[0]
    repeat = made.cloth.repeat.along if made.cloth.repeat else F(0)
    numbers = [repeat, piece.first_row, made.allowances.squaring, *(n for cut in cuts for n in (cut.length, cut.phase))]
    unit = lcm(*(number.denominator for number in numbers))

    def whole(length: Fraction) -> int:
        assert (length * unit).denominator == 1
        return int(length * unit)

    horizon = sum(whole(cut.length + repeat) for cut in cuts) + whole(made.allowances.squaring + repeat)
    begin, count = whole(made.allowances.squaring), len(cuts)
    model = cp_model.CpModel()
    starts = []
    for cut in cuts:
        if repeat:
            first = (whole(piece.first_row + cut.phase) - begin) % whole(repeat) + begin
            starts.append(first + whole(repeat) * model.new_int_var(0, horizon // whole(repeat), ""))
        else:
            starts.append(model.new_int_var(begin, horizon, ""))
    used = model.new_int_var(begin, horizon + whole(repeat), "")
    member = {(i, k): model.new_bool_var("") for i in range(count) for k in range(i + 1)}
    intervals = []
    for k in range(count):
        low, size = model.new_int_var(0, horizon + whole(repeat), ""), model.new_int_var(0, horizon, "")
        led = member[k, k]
        high = model.new_int_var(0, 2 * horizon, "")
        intervals.append(model.new_optional_interval_var(low, size, high, led, ""))
        model.add(used >= high).only_enforce_if(led)
        for i in range(k, count):
            there = member[i, k]
            model.add_implication(there, led)
            model.add(low <= starts[i]).only_enforce_if(there)
            model.add(high >= starts[i] + whole(cuts[i].length)).only_enforce_if(there)
        _add_widths(model, made, resolved.shares[0], cuts, {i: member[i, k] for i in range(k, count)})
    for i in range(count):
        model.add_exactly_one(member[i, k] for k in range(i + 1))
    model.add_no_overlap(intervals)
    model.minimize(used)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = work
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return F(round(solver.objective_value), unit), status == cp_model.OPTIMAL


def _add_widths(
    model: cp_model.CpModel,
    made: Job,
    narrow: dict[str, Fraction],
    cuts: tuple[Cut, ...],
    there: dict[int, cp_model.IntVar],
) -> None:
    """No more across than the cloth is wide; of patterned cloth one half joined at each side. The shares of the width
    are worked out anew from where the cuts lie alone."""
    cap = 10_000
    width = printed_width(made.cloth)
    shares = {}
    for i in there:
        cut = cuts[i]
        near, far = cut.across
        alone = cut.id not in narrow
        half = cut.leading_side.joined and far - near == made.cloth.width / 2
        shares[i] = cap if alone else cap // 2 if half else -int(-cap * narrow[cut.id] // 1)
        assert alone or half or narrow[cut.id] * width <= far - near or (near, far) == (0, made.cloth.width)
        if made.cloth.repeat is not None and half:
            shares[i] = cap // 2
    model.add(sum(shares[i] * there[i] for i in there) <= cap)
    if made.cloth.repeat is not None:
        for edge in (Edge.NEAR, Edge.FAR):
            model.add(sum(there[i] for i in there if cuts[i].id in narrow and cuts[i].leading_edge is edge) <= 1)
