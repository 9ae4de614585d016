"""Which edges of the cuts of a plan meet."""

from __future__ import annotations

from pathlib import Path

import jobs.examples
from jobs.io.reader import read_job
from jobs.model.cuts import Edge
from jobs.model.plan import Plan
from jobs.planning.mates import Meeting, meetings_of
from jobs.planning.planner import plan_job


def planned(name: str) -> Plan:
    return plan_job(read_job(Path(jobs.examples.__file__).with_name(f"{name}.yaml")))


def met(plan: Plan, cut: str) -> tuple[Meeting, ...]:
    own = next(one for one in plan.placements if one.cut.id == cut)
    return meetings_of(own, plan.placements)


def told(one: Meeting) -> tuple[str, str, str, bool]:
    return one.cut.cut.name_of(one.edge), one.mate.cut.id, one.mate.cut.name_of(one.mate_edge), one.sewn


def test_the_panels_of_a_turned_pair_meet_at_the_same_selvedge():
    plan = planned("reading_room")
    (one,) = met(plan, "river-window-left")
    assert told(one) == ("leading", "river-window-right", "leading", False)
    assert (one.edge, one.mate_edge) == (Edge.FAR, Edge.FAR)
    # 54 wide, side hems of 2 1/2: both are folded at 51 1/2 from the near selvedge.
    assert (one.line, one.mate_line) == (51.5, 51.5)


def test_joined_cuts_are_sewn_seam_to_seam_and_the_leading_ones_hang_beside_each_other():
    plan = planned("lock_cottage")
    assert [told(one) for one in met(plan, "towpath-window-left-1")] == [
        ("leading", "towpath-window-right-1", "leading", False),
        ("return", "towpath-window-left-2", "leading", True),
    ]
    assert [told(one) for one in met(plan, "towpath-window-right-2")] == [
        ("leading", "towpath-window-right-1", "return", True)
    ]
    seam = met(plan, "towpath-window-left-1")[1]
    # Both upright: near seam to far seam, 1 in from either edge of 55, whole columns of 13 1/4 apart: 4 x 13 1/4 = 53.
    assert (seam.edge, seam.mate_edge, seam.line, seam.mate_line) == (Edge.NEAR, Edge.FAR, 1, 54)


def test_a_meeting_is_told_of_both_its_cuts():
    plan = planned("ferry_lane")
    found = [(told(one), one.cut.cut.id) for placed in plan.placements for one in met(plan, placed.cut.id)]
    pairs = {(cut, mate, edge, other, sewn) for (edge, mate, other, sewn), cut in found}
    assert {(mate, cut, other, edge, sewn) for cut, mate, edge, other, sewn in pairs} == pairs
    assert len(pairs) == len(found)


def test_a_panel_that_hangs_alone_meets_nothing():
    plan = planned("ferry_lane")
    assert met(plan, "kitchen-door-whole") == ()
