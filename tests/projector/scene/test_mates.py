"""What the ends of a panel on its print mean for its mates, whichever way these lie."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest

import jobs.examples
from calibration.laying.laid_back import LaidBack, Off
from calibration.registration.fit import PrintFit
from jobs.io.reader import read_job
from jobs.model.choices import Follow
from jobs.model.cuts import Edge
from jobs.model.plan import Plan
from jobs.planning.mates import meetings_of
from jobs.planning.planner import plan_job
from projector.scene.mates import Higher, Mating, Verdict, panel_of
from projector.scene.mates import mating as mates_of
from projector.scene.mates_said import mating_said
from projector.scene.print_marks import lattice_of
from projector.words.edges import lies_said

EIGHTH = 1 / 8


@dataclass(frozen=True)
class Seen:
    """A panel as a photograph tells of it: ends off by so much at its near side and its far one (None: not seen)."""

    fit: PrintFit
    first: tuple[float, float] | None
    last: tuple[float, float] | None
    turned: bool = False

    @property
    def found(self) -> Any:
        return SimpleNamespace(fit=self.fit)

    def off(self, last: bool, across_in: float) -> Off | None:
        end = self.last if last else self.first
        if end is None:
            return None
        near, far = end
        return Off(near + (far - near) * across_in / self.fit.lattice.width_in, 1 / 32)


def plan_of(name: str) -> Plan:
    return plan_job(read_job(Path(jobs.examples.__file__).with_name(f"{name}.yaml")))


def seen(plan: Plan, cut: str, first: Any = (0.0, 0.0), last: Any = (0.0, 0.0), **lies: float) -> LaidBack:
    placed = next(one for one in plan.placements if one.cut.id == cut)
    fit = replace(panel_of(placed, lattice_of(plan.job.cloth)), **lies)
    return cast("LaidBack", Seen(fit, first, last))


def mating(plan: Plan, cut: str, back: LaidBack, mates: dict[str, LaidBack]) -> Mating:
    placed = next(one for one in plan.placements if one.cut.id == cut)
    return mates_of(plan.job, placed, meetings_of(placed, plan.placements), back, mates)


@pytest.fixture(scope="module")
def room() -> Plan:
    return plan_of("reading_room")


def test_a_panel_cut_as_planned_matches_and_its_mate_is_cut_as_planned(room):
    found = mating(room, "river-window-left", seen(room, "river-window-left"), {})
    (seam,) = found.seams
    assert (seam.top, seam.foot) == (Higher(0, 1 / 32), Higher(0, 1 / 32))
    assert seam.verdict(1 / 16) is Verdict.MATCHES
    said = [*mating_said(found, room.job, {"river-window-left"})]
    assert said[-1] == "Cut River window, right, 1 of 1 as planned"
    assert "beside the leading edge of River window, right, 1 of 1, as planned" in said[0]


@pytest.mark.parametrize("name", ["reading_room", "lock_cottage", "ferry_lane"])
def test_a_mate_cut_where_it_is_told_matches_whichever_way_it_lies(name):
    plan = plan_of(name)
    for placed in plan.placements:
        cut = placed.cut.id
        # Both cuts 1/8 further along than the print has them.
        found = mating(plan, cut, seen(plan, cut, (EIGHTH, EIGHTH), (EIGHTH, EIGHTH)), {})
        assert len(found.seams) == len(meetings_of(placed, plan.placements))
        for seam in found.seams:
            assert abs(seam.lower_in) == EIGHTH
            assert seam.verdict(1 / 16) is Verdict.MISSES
            mate, by = seam.meeting.mate.cut.id, seam.to_right_in
            # The light lies on the mate so much further to the right, which is on along its piece.
            moved = seen(plan, mate, (by, by), (by, by))
            again = mating(plan, cut, seen(plan, cut, (EIGHTH, EIGHTH), (EIGHTH, EIGHTH)), {mate: moved})
            (now,) = [one for one in again.seams if one.photographed]
            assert [one.higher_in for one in now.seen] == [0, 0]
            # Tops at one end of the table ask for the same move of both, tops at both ends for opposite ones.
            same = placed.cut.top_edge is seam.meeting.mate.cut.top_edge
            assert by == (EIGHTH if same else -EIGHTH)


def test_an_upright_panel_cut_further_along_hangs_its_print_higher_and_the_turned_mate_is_moved_left(room):
    # Top at the left: 1/8 of the top is missing, so its rows hang 1/8 nearer to the top edge.
    found = mating(room, "river-window-left", seen(room, "river-window-left", (EIGHTH,) * 2, (EIGHTH,) * 2), {})
    (seam,) = found.seams
    assert [one.higher_in for one in seam.seen] == [EIGHTH, EIGHTH]
    assert seam.meeting.mate.cut.top_edge is Edge.LAST
    said = " ".join(mating_said(found, room.job, {"river-window-left"}))
    assert "1/8 in higher (give or take 1/32 in) at the top, 1/8 in higher" in said
    assert "move the light 1/8 in to the left, towards its foot, and cut there" in said


def test_each_seam_is_judged_where_it_is_sewn():
    plan = plan_of("lock_cottage")
    # Aslant: right at the near side, 55/54 of 1/4 at the far one: 1/4 at the seam 54 from it, 1/4 / 54 at 1 from it.
    off = (0.0, 0.25 * 55 / 54)
    found = mating(plan, "towpath-window-right-2", seen(plan, "towpath-window-right-2", off, off), {})
    (seam,) = found.seams
    assert [one.higher_in for one in seam.seen] == pytest.approx([0.25 / 54] * 2)
    leading = mating(plan, "towpath-window-right-1", seen(plan, "towpath-window-right-1", off, off), {})
    beside, sewn = leading.seams
    # Folded 2 1/4 in from the near edge at its leading side, sewn at 54.
    assert [one.higher_in for one in (*beside.seen, *sewn.seen)] == pytest.approx([0.25 * 2.25 / 54] * 2 + [0.25] * 2)
    assert [(one.end, round(one.lower_in, 3)) for one in leading.aslant] == [
        ("top", round(0.25 * 51.75 / 54, 3)),
        ("foot", round(0.25 * 51.75 / 54, 3)),
    ]
    said = " ".join(mating_said(leading, plan.job, set()))
    assert "Its top was cut aslant, 1/4 in lower at its return edge than at its leading edge" in said
    assert "1/4 in off at its leading edge and nothing at the other" in said
    assert "Its foot was cut aslant" in said
    assert "1/4 in off at its return edge and nothing at the other" in said


def test_ends_that_do_not_agree_are_matched_at_the_top(room):
    cut = "river-window-left"
    found = mating(room, cut, seen(room, cut, (EIGHTH,) * 2, (-EIGHTH,) * 2), {})
    (seam,) = found.seams
    assert (seam.lower_in, found.longer_in) == (EIGHTH, -0.25)
    said = " ".join(mating_said(found, room.job, {cut}))
    assert "still miss by 1/4 in at one end" in said
    assert "1/4 in shorter than its print has it" in said


def test_only_an_end_in_the_picture_is_judged(room):
    cut = "river-window-left"
    found = mating(room, cut, seen(room, cut, (EIGHTH,) * 2, None), {})
    (seam,) = found.seams
    assert (seam.foot, found.longer_in, found.seen) == (None, None, ("top",))
    said = [*mating_said(found, room.job, {cut})]
    assert said[0].startswith("Its foot is not in the picture and is not judged")


def test_where_both_are_cut_it_is_told_how_to_sew_them(room):
    cut, mate = "river-window-left", "river-window-right"
    # Top at the right: cut 1/16 further along its print hangs 1/16 lower; the left one's hangs 1/8 higher.
    other = seen(room, mate, (0.0625,) * 2, (0.0625,) * 2)
    found = mating(room, cut, seen(room, cut, (EIGHTH,) * 2, (EIGHTH,) * 2), {mate: other})
    (seam,) = found.seams
    assert [one.higher_in for one in seam.seen] == [0.1875, 0.1875]
    assert seam.seen[0].within_in == pytest.approx(2**0.5 / 32)
    said = " ".join(mating_said(found, room.job, {cut, mate}))
    assert "Both are cut: turn 3/16 in less over at its top, and its print hangs level" in said


def test_what_is_cut_square_to_the_selvedge_misses_the_print_as_its_mate_will(room):
    job = replace(room.job, cloth=replace(room.job.cloth, follow=Follow.SELVEDGE))
    plan = replace(room, resolved=replace(room.resolved, job=job))
    cut = "river-window-left"
    # Skewed 1/2 in over its width: a square cut is 1/4 further along than the print at the near side, 1/4 less at the
    # far one. The turned mate meets it with its far edge too, where it misses the other way as it hangs.
    off = (0.25, -0.25)
    found = mating(plan, cut, seen(plan, cut, off, off, skew_in=0.5), {})
    at = -0.25 + 0.5 * 2.5 / 54
    assert [one.higher_in for one in found.seams[0].seen] == pytest.approx([2 * at, 2 * at])


def test_the_tolerance_is_open_where_the_photograph_cannot_tell():
    assert Higher(0.02, 0.05).verdict(1 / 16) is Verdict.MATCHES
    assert Higher(-0.0625, 0.05).verdict(1 / 16) is Verdict.OPEN
    assert Higher(-0.12, 0.05).verdict(1 / 16) is Verdict.MISSES


def test_it_is_said_how_the_panel_is_laid_back(room):
    left, right = room.placements
    assert "its top at your left" in lies_said(left.cut)
    assert "its top at your right" in lies_said(right.cut)
