"""The checker checked: each fault planted in a sound plan is found, whether or not the plan believes in it itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from importlib import resources
from pathlib import Path

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.reader import parse_job, read_job
from jobs.model.cuts import Cut, Edge, Hand, Placement, Way
from jobs.model.job import Job
from jobs.model.plan import Plan
from jobs.planning.planner import plan_job
from tests.jobs.whole_jobs.checker import faults_of_job

F = Fraction
QUARTER = F(1, 4)
Change = Callable[[Placement], Placement | None]

HALF_DROP = """
job: Two and a half cuts a panel of a half-drop print
cloth: {name: Swifts, width: 54, selvedge: 1/2, repeat: {along: 25, across: 13 1/2}, drop: 1/2,
  print: {top_to_bottom: mirror, side_to_side: none, one_way: no},
  pieces: [{length: 30 yd, first_row: 4, dye_lot: a}, {length: 30 yd, first_row: 7, dye_lot: b}]}
allowances: {heading: 4, hem: 8, side_hem: 2, seam: 1/2, squaring: 1}
windows: [{name: Bay, panels: pair, finished_length: 80, cuts_per_panel: 2 1/2, row: {above_foot: 6}}]
"""


@cache
def planned(name: str) -> tuple[Job, Mapping[str, Plan]]:
    """A job of the examples, or the one above, and its sound plans."""
    example = Path(str(resources.files("jobs.examples") / f"{name}.yaml"))
    job = parse_job(HALF_DROP, name) if name == "half_drop" else read_job(example)
    plans = {one.name: plan_job(one.job) for one in jobs_of_cloths(job)}
    assert faults_of_job(job, plans) == []
    return job, plans


def faults_with(name: str, cut_id: str, change: Change) -> list[str]:
    """What is found when the placement of this cut is changed; None takes it away."""
    job, plans = planned(name)
    found = False
    changed = {}
    for cloth, plan in plans.items():
        placements = []
        for one in plan.placements:
            if one.cut.id == cut_id:
                found = True
                new = change(one)
                placements += [new] if new is not None else []
            else:
                placements.append(one)
        cuts = tuple(one.cut for one in placements)
        changed[cloth] = replace(plan, placements=tuple(placements), cuts=cuts)
    assert found, cut_id
    return faults_of_job(job, changed)


def cut_with(**more: object) -> Change:
    """The same place of another cut."""
    return lambda one: replace(one, cut=replace(one.cut, **more))  # type: ignore[arg-type]


def moved(by: Fraction) -> Change:
    """Moved along, and its row with it, so that the plan agrees with itself."""

    def change(one: Placement) -> Placement:
        cut = one.cut
        down = by if cut.top_edge is Edge.FIRST else -by
        return replace(one, start=one.start + by, cut=replace(cut, row=((cut.row or F(0)) - down) % 25))

    return change


def resized(**more: Callable[[Cut], object]) -> Change:
    return lambda one: replace(one, cut=replace(one.cut, **{key: of(one.cut) for key, of in more.items()}))


def sideways(near: Fraction, far: Fraction) -> Change:
    """Its edges across moved by so much."""
    return resized(across=lambda cut: (cut.across[0] + near, cut.across[1] + far))


def side(name: str, **more: object) -> Change:
    """One side of the cut told otherwise."""
    return lambda one: replace(one, cut=replace(one.cut, **{name: replace(getattr(one.cut, name), **more)}))


PLANTED: list[tuple[str, str, str, Change, str]] = [
    ("a cut a quarter inch along", "half_drop", "bay-left-1", lambda o: replace(o, start=o.start + QUARTER), "its row"),
    ("a row a quarter inch off, believed", "half_drop", "bay-left-1", moved(QUARTER), "its row hangs"),
    ("the second cut as level as the first", "half_drop", "bay-left-2", moved(F(25, 2)), "does not run on"),
    ("the partner half a repeat along", "half_drop", "bay-right-1", moved(F(25, 2)), "not the mirror image"),
    ("a hand swapped", "half_drop", "bay-left-1", cut_with(leading_edge=Edge.NEAR), "the near edge leads"),
    ("the other hand's name", "half_drop", "bay-left-1", cut_with(hand=Hand.RIGHT), "is called"),
    ("a turned cut among upright ones", "half_drop", "bay-left-2", cut_with(way=Way.TURNED), "several ways"),
    ("top to the wrong end", "half_drop", "bay-left-1", cut_with(top_edge=Edge.LAST), "its top lies towards"),
    ("face down", "half_drop", "bay-right-1", cut_with(way=Way.FACE_DOWN), "used face down"),
    ("from another dye lot", "half_drop", "bay-left-1", lambda o: replace(o, piece=3 - o.piece), "two dye lots"),
    ("a cut too short", "half_drop", "bay-left-1", resized(length=lambda c: c.length - QUARTER), "tall instead of"),
    ("heading and hem swapped", "half_drop", "bay-right-2", cut_with(heading=F(8), hem=F(4)), "in the heading"),
    ("a side hem forgotten", "half_drop", "bay-left-1", side("leading_side", hem=F(0)), "to the fold of"),
    ("an outer side seamed", "half_drop", "bay-left-1", side("leading_side", joined=True), "side is seamed"),
    ("a seam an eighth off", "half_drop", "bay-left-1", side("return_side", line=F(57, 8)), "does not run on"),
    ("a half cut that is whole", "half_drop", "bay-left-3", cut_with(across=(F(0), F(54))), "cuts instead of"),
    ("no half cut", "half_drop", "bay-left-3", lambda _: None, "cuts instead of"),
    ("on a flaw", "ferry_lane", "kitchen-door-whole", lambda o: replace(o, piece=3, start=F(150)), "on the flaw"),
    ("over another cut", "weir_bay", "left-light-left", lambda o: replace(o, start=F(1)), "overlap"),
    (
        "a band a quarter narrow",
        "weir_bay",
        "left-light-leading-band-left",
        sideways(F(0), -QUARTER),
        "wide instead of",
    ),
    ("a lining left out", "weir_bay", "left-light-lining-right", lambda _: None, "not cut"),
    (
        "a lining as long as its face",
        "weir_bay",
        "middle-light-lining-left-1",
        resized(length=lambda c: c.length + 1),
        "tall",
    ),
    ("a shade beside its motif", "orangery", "left-shade-whole", sideways(QUARTER, QUARTER), "beside what it must"),
    ("a cushion lower than its motif", "orangery", "cushion-1-whole", moved(QUARTER), "its row hangs"),
    (
        "a row a quarter inch higher across",
        "tram_depot",
        "long-window-left",
        sideways(QUARTER, QUARTER),
        "its row hangs",
    ),
    (
        "a leading edge beside its row",
        "tram_depot",
        "serving-hatch-whole",
        lambda o: replace(o, start=o.start + 1),
        "from a row",
    ),
]


@pytest.mark.parametrize(
    ("name", "cut_id", "change", "words"), [one[1:] for one in PLANTED], ids=[p[0] for p in PLANTED]
)
def test_a_fault_planted_in_a_sound_plan_is_found(name: str, cut_id: str, change: Change, words: str) -> None:
    assert any(words in fault for fault in faults_with(name, cut_id, change)), faults_with(name, cut_id, change)


def test_a_small_thing_over_a_cut_too_small_or_left_untold_is_found() -> None:
    job, plans = planned("orangery")
    plan = plans["Lemons on white"]
    first, second = plan.wanted
    door = next(one for one in plan.placements if one.cut.id == "garden-door-left")
    size = first.end - first.start
    for wrong, words in (
        ((replace(first, start=door.start, end=door.start + size), second), "lies over a cut"),
        ((first, replace(first, number=2)), "lies over Door wedge"),
        ((replace(first, end=first.end - QUARTER), second), "another size"),
        ((replace(first, near=F(0), far=first.far - first.near), second), "beyond what may be used"),
        ((first,), "told of wrongly"),
    ):
        found = faults_of_job(job, {"Lemons on white": replace(plan, wanted=wrong)})
        assert any(words in fault for fault in found), (words, found)


def test_a_thing_cut_twice_and_one_that_nobody_asked_for_are_found() -> None:
    job, plans = planned("weir_bay")
    plan = plans["Teal linen"]
    first, *rest = plan.placements
    twice = replace(plan, placements=(first, *plan.placements))
    assert any("lies 2 times" in fault for fault in faults_of_job(job, plans | {"Teal linen": twice}))
    stranger = replace(first, cut=replace(first.cut, id="stranger", window="Stranger"))
    strange = replace(plan, placements=(stranger, *rest), cuts=tuple(one.cut for one in (stranger, *rest)))
    assert any("cut and not wanted" in fault for fault in faults_of_job(job, plans | {"Teal linen": strange}))
    assert faults_of_job(job, {name: plan for name, plan in plans.items() if name != "Teal linen"}) == [
        "Teal linen: no plan"
    ]
