"""Houses with rooms, dye lots and pieces: planned without a fault, and each plan held against its job."""

from __future__ import annotations

from dataclasses import replace
from importlib import resources
from pathlib import Path

import pytest

from jobs.io.reader import read_job
from jobs.model.choices import Hang
from jobs.planning.planner import plan_cuts, plan_job
from tests.jobs.packing.checker import faults_of
from tests.jobs.packing.random_houses import random_job


def ferry_lane():
    return read_job(Path(str(resources.files("jobs.examples") / "ferry_lane.yaml")))


@pytest.mark.parametrize("first", range(0, 40, 10))
def test_random_houses_are_planned_without_a_fault(first):
    for seed in range(first, first + 10):
        assert faults_of(plan_job(random_job(seed, most=8))) == [], seed


def test_a_whole_house_hung_in_mirrored_pairs_is_planned():
    made = ferry_lane()
    windows = tuple(replace(window, hang=Hang.MIRRORED) for window in made.windows)
    assert faults_of(plan_job(replace(made, windows=windows))) == []


def test_a_whole_house_in_one_room_is_planned():
    made = ferry_lane()
    windows = tuple(
        replace(window, room="Upstairs" if number > 4 else "") for number, window in enumerate(made.windows)
    )
    assert faults_of(plan_job(replace(made, windows=windows))) == []


def test_a_house_is_planned_around_any_part_of_its_plan():
    made = ferry_lane()
    before = plan_job(made)
    for count in (1, 5, 12, 23):
        fixed = before.placements[:count]
        plan = plan_cuts(before.resolved, fixed=fixed)
        assert (plan.short, faults_of(plan, fixed)) == (0, [])


def test_the_checker_finds_what_is_wrong():
    plan = plan_job(ferry_lane())
    first, *rest = plan.placements
    assert any("off its row" in fault for fault in _faults(plan, replace(first, start=first.start + 1), *rest))
    lies_on = replace(first, start=rest[0].start, piece=rest[0].piece)
    assert any("overlap" in fault for fault in _faults(plan, lies_on, *rest))
    assert any("lies 2 times" in fault for fault in _faults(plan, *rest[:-1], first, first))
    pair = next(one for one in plan.placements if one.cut.window == "Parlour street")
    others = [one for one in plan.placements if one is not pair]
    away = replace(pair, piece=3 if pair.piece < 3 else 1)
    assert any("two dye lots" in fault for fault in _faults(plan, away, *others))
    flaw = plan.pieces[2].piece.flaws[0]
    spoilt = replace(pair, piece=3, start=flaw.start - 1)
    assert any("flaw" in fault for fault in _faults(plan, spoilt, *others))


def _faults(plan, *placements):
    return faults_of(replace(plan, placements=tuple(placements)))
