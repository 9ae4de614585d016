"""Joined cuts, half cuts and narrow panels: seams, trims, slits, and cloth whose neighbour is already cut."""

from fractions import Fraction
from itertools import pairwise

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.model.allowances import Allowances
from jobs.model.choices import Hang, Middle, Panels, Unit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Placement
from jobs.model.goods import FlatPanel
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.plan import PieceUse, Plan, Stop
from jobs.model.print import Repeat
from jobs.model.window import RowRule, Window
from jobs.planning.planner import plan_job
from projector.papers.cloth_picture import cloth_picture
from projector.papers.cloth_text import cloth_lines
from projector.papers.drawing import Path
from projector.papers.hung_panel import hung_panels
from projector.scene.marks import Hatch, Kind, Stroke, Text
from projector.scene.stop_scene import Layers, scene_of_stop
from tests.jobs.made import cut_list, plan_of_placements

F = Fraction
BARE = Layers(rows=False, letters=False)


def plan_of_cuts(cuts_per_panel: Fraction, *, drop: Fraction = F(0), across: int = 12, selvedge: str = "1/2") -> Plan:  # noqa: B008
    """A same-way pair laid one length behind the other, cuts that share a length side by side."""
    cloth = Cloth("Reeds", F(54), F(selvedge), Repeat(F(12), F(across)), drop, pieces=(Piece(F(900), F(4)),))
    bay = Window("Mill door", Panels.PAIR, F(40), Hang.SAME, cuts_per_panel=cuts_per_panel, row=RowRule(below_top=F(3)))
    job = Job("Cider house", Unit.INCH, cloth, (bay,), Allowances(F(4), F(8), F(2), F(1, 2), F(1)))
    placements: list[Placement] = []
    lanes: dict[str, Fraction] = {}
    at = F(4)
    for cut in cut_list(job):
        if cut.beside not in lanes or not cut.beside:
            at += F(60)
            lanes[cut.beside] = at + (cut.phase + 4 - at) % 12
            at = lanes[cut.beside]
        placements.append(Placement(cut, 1, lanes[cut.beside]))
    stops = tuple(
        Stop(number, placed, 0, placed.start - 3, placed.start - 3, placed.end + 3, ("top", "foot"))
        for number, placed in enumerate(placements, 1)
    )
    return plan_of_placements(job, placements, stops, PieceUse(1, cloth.pieces[0], at, ()))


def stop_of(plan: Plan, name: str) -> Stop:
    return next(stop for stop in plan.stops if stop.placement.cut.id == name)


def level(strokes: tuple[Stroke, ...]) -> list[float]:
    """Table y of the strokes that run along the table, ticks left out."""
    return sorted(
        s.points[0][1] for s in strokes if s.points[0][1] == s.points[1][1] and abs(s.points[0][0] - s.points[1][0]) > 2
    )


def test_the_sides_of_a_middle_cut_are_trimmed_beyond_their_seams():
    plan = plan_of_cuts(F(3))
    scene = scene_of_stop(plan, stop_of(plan, "mill-door-left-2"), layers=BARE)
    # 52 between the seams hold four columns of 12: seams at 3 and 51, trimmed 1/2 beyond them.
    assert level(scene.of(Kind.TRIM)) == [2.5, 51.5]
    assert {(s.points[0][1], s.points[1][1]) for s in scene.of(Kind.MATCH)} == {(2.5, 3.5), (50.5, 51.5)}
    assert level(scene.of(Kind.FOLD)) == []


def test_trim_lines_along_the_sides_are_a_layer_of_their_own():
    plan = plan_of_cuts(F(3))
    assert scene_of_stop(plan, stop_of(plan, "mill-door-left-2"), layers=Layers(trims=False)).of(Kind.TRIM) == ()


@pytest.mark.parametrize("drop", [F(0), F(1, 2), F(1, 3), F(3, 4)])
@pytest.mark.parametrize("across", [12, 17])
def test_the_match_marks_of_two_joined_cuts_meet(drop, across):
    plan = plan_of_cuts(F(3), drop=drop, across=across)
    for hand in ("left", "right"):
        for number in (1, 2):
            this, following = (stop_of(plan, f"mill-door-{hand}-{n}") for n in (number, number + 1))
            # In a left panel the next cut lies on the near side of this one, in a right panel on the far side.
            near_of_this = hand == "left"
            here = depths(plan, this, near=near_of_this)
            assert here
            assert here == depths(plan, following, near=not near_of_this)


def depths(plan: Plan, stop: Stop, *, near: bool) -> list[float]:
    """Distances from the top edge of the match marks on one seam, bars taken together."""
    bars = scene_of_stop(plan, stop, layers=BARE).of(Kind.MATCH)
    top = float(stop.placement.top - stop.cloth_at_left)
    on_side = sorted(abs(s.points[0][0] - top) for s in bars if (s.points[0][1] < 27) is near)
    return [round((a + b) / 2, 9) for a, b in zip(on_side[::2], on_side[1::2], strict=True)]


@pytest.mark.parametrize("middle", list(Middle))
def test_the_match_marks_of_a_shade_that_is_wider_than_its_cloth_meet(middle):
    cloth = Cloth("Reeds", F(55), F(1, 2), Repeat(F(25), F(27)), F(1, 2), pieces=(Piece(F(900), F(4)),))
    shades = (FlatPanel("Shade", F(150), F(60), middle=middle),)
    job = Job("Cider house", Unit.INCH, cloth, (), Allowances(F(4), F(8), F(2), F(1, 2), F(1)), flat_panels=shades)
    plan = plan_job(jobs_of_cloths(job)[0].job)
    stops = sorted(plan.stops, key=lambda stop: stop.placement.cut.number)
    assert len(stops) >= 3
    for this, following in pairwise(stops):
        # Tops lie towards the first end: the far selvedge leads, and what follows lies nearer the near one.
        here = depths_at(plan, this, this.placement.at(Edge.NEAR, this.placement.cut.return_side.line))
        there = following.placement.at(Edge.FAR, following.placement.cut.leading_side.line)
        assert here
        assert here == depths_at(plan, following, there)


def depths_at(plan: Plan, stop: Stop, seam: Fraction) -> list[float]:
    """Distances from the top edge of the match marks astride this line across the cloth, bars taken together."""
    bars = scene_of_stop(plan, stop, layers=BARE).of(Kind.MATCH)
    top = float(stop.placement.top - stop.cloth_at_left)
    on_line = sorted(abs(s.points[0][0] - top) for s in bars if sum(y for _, y in s.points) / 2 == float(seam))
    return [round((a + b) / 2, 9) for a, b in zip(on_line[::2], on_line[1::2], strict=True)]


def test_a_half_cut_is_cut_off_with_the_other_from_selvedge_to_selvedge_and_slit_from_it():
    plan = plan_of_cuts(F(3, 2))
    scene = scene_of_stop(plan, stop_of(plan, "mill-door-left-2"), layers=Layers(rows=False))
    upright = [s for s in scene.of(Kind.CUT) if s.points[0][0] == s.points[1][0]]
    assert [(s.points[0][1], s.points[1][1]) for s in upright] == [(0.0, 54.0)] * 2
    assert level(scene.of(Kind.CUT)) == [27.0]
    # Ticks beyond both selvedges at each end.
    ticks = [s.points[0][1] for s in scene.of(Kind.CUT) if s.points[0][1] == s.points[1][1] and s.points[0][1] != 27]
    assert ticks == [-0.4, 54.4] * 2
    # Hemmed 2 inside the slit; letters stay in the half.
    assert level(scene.of(Kind.FOLD))[0] == 29.0
    texts = {mark.text: mark for mark in scene.marks if isinstance(mark, Text)}
    assert {"TOP", "joins 1, leading side", "return edge"} <= set(texts)
    assert all(mark.at[1] > 27 for mark in texts.values())


def test_a_half_that_is_done_leaves_the_rows_of_the_other_half():
    plan = plan_of_cuts(F(3, 2))
    done = frozenset({"mill-door-right-2"})
    scene = scene_of_stop(plan, stop_of(plan, "mill-door-left-2"), done=done, layers=Layers(letters=False))
    (hatching,) = (mark for mark in scene.marks if isinstance(mark, Hatch))
    assert {y for _, y in hatching.outline} == {0.0, 27.0}
    rows = [s for s in scene.of(Kind.ROW) if 3 < s.points[0][0] < 55]
    assert rows
    assert all(min(s.points[0][1], s.points[1][1]) >= 27 for s in rows)
    # Columns at 9, 21, 33 and 45: those of the half that is gone end where it begins.
    assert {s.points[0][1] for s in scene.of(Kind.COLUMN) if s.points[0][0] < 30 < s.points[1][0]} == {33.0, 45.0}


def test_both_halves_stand_in_the_picture_and_in_the_letters_of_the_cloth():
    plan = plan_of_cuts(F(3, 2))
    boxes = [
        shape.points
        for shape in cloth_picture(plan).shapes
        if isinstance(shape, Path) and shape.closed and shape.width == 0.028
    ]
    heights = sorted(round(max(y for _, y in box) - min(y for _, y in box), 6) for box in boxes)
    assert len(boxes) == 4
    assert heights[0] == heights[1] == pytest.approx(heights[2] / 2, abs=1e-5)
    texts = [words.text for words in cloth_picture(plan).words]
    assert (texts.count("leading edge"), texts.count("joins 1")) == (2, 2)
    assert any("right 2 + left 2" in line for line in cloth_lines(plan))


def test_a_panel_hangs_as_wide_as_its_cuts_give_between_seams_and_folds():
    plan = plan_of_cuts(F(3, 2))
    left, right = hung_panels(plan, "Mill door")
    # Whole cut: from the fold at 51 1/2 to the seam at 3; half: from the seam at 51 to the fold at 29.
    assert left.width == right.width == F(97, 2) + 22
    assert (left.seams, right.seams) == ((22,), (F(97, 2),))
