"""The panels as they hang: mirrored pairs mirror, rows are level and where they were asked for."""

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.model.allowances import Allowances
from jobs.model.cuts import Edge, Hand, Side, Way
from jobs.model.plan import Plan
from jobs.model.print import Repeat
from jobs.model.window import Window
from jobs.planning.planner import plan_job
from projector.papers.drawing import INK, QUIET, ROW, Path
from projector.papers.hung_panel import hung_panels
from projector.papers.hung_picture import hung_picture
from tests.jobs.made import cloth, whole_cuts
from tests.jobs.random_jobs import with_piece
from tests.projector.scene.plans import Wish, plan_of

F = Fraction


def level_pair() -> Plan:
    """A turned pair with rows 6 below the cut top in both: rows at 5 + 12 k.

    The left cut starts at 5 + 0 - 6 + 12 = 11 (top first); the right one ends 6 beyond a row, at 185 + 6 = 191.
    """
    plan = plan_of(
        Wish(
            lengths=(F(80), F(80)),
            start=F(11),
            gap=F(20),
            repeat=Repeat(F(12), F(13)),
            first_row=F(5),
            piece=F(220),
            allowances=Allowances(F(4), F(8), F(2), F(1, 2), F(1)),
        )
    )
    assert [(p.start, p.end) for p in plan.placements] == [(11, 91), (111, 191)]
    return plan


def test_rows_of_a_turned_pair_hang_level_where_they_were_asked_for():
    left, right = hung_panels(level_pair(), "Orchard window")
    # a row 6 below the cut top, of which 4 are heading: 2 below the finished top; 68 in hang
    assert left.rows_below_top == right.rows_below_top == (2, 14, 26, 38, 50, 62)
    assert left.length == right.length == 68


def test_a_turned_pair_is_its_own_mirror_image():
    left, right = hung_panels(level_pair(), "Orchard window")
    mirrored = {(left.width - m.from_left, m.below_top, -m.right) for m in left.motifs if 0 < m.below_top < 68}
    # half a turn reverses the motif in both directions; its top-to-bottom mirror takes the second one back
    assert {(m.from_left, m.below_top, m.right) for m in right.motifs if 0 < m.below_top < 68} == mirrored


def test_the_finished_width_leaves_out_selvedges_and_side_hems():
    left, _ = hung_panels(level_pair(), "Orchard window")
    assert left.width == 54 - 2 * F(1, 2) - 2 * 2


def test_two_cuts_of_a_panel_stand_side_by_side_with_the_first_at_the_leading_edge():
    plan = level_pair()
    first, second = plan.placements
    upright = {"hand": Hand.RIGHT, "of": 2, "way": Way.UPRIGHT, "top_edge": Edge.FIRST}
    seam = Side(F(1), joined=True)
    panel = (
        replace(first, cut=replace(first.cut, number=1, return_side=seam, **upright)),
        replace(second, cut=replace(second.cut, number=2, leading_side=seam, **upright)),
    )
    (hung,) = hung_panels(replace(plan, placements=panel), "Orchard window")
    # near selvedge leads and hangs left; each cut gives 53 less side hem 2 and seam 1/2
    assert hung.seams == (F(101, 2),)
    assert hung.width == 101


def test_shrinkage_is_taken_off_what_hangs():
    plan = level_pair()
    shrinks = replace(plan.job, cloth=replace(plan.job.cloth, shrinkage=F(1, 4)))
    left, _ = hung_panels(plan.with_job(shrinks), "Orchard window")
    assert left.length == 51


def test_the_picture_names_windows_hands_and_finished_sizes_and_stays_on_its_sheet():
    drawing = hung_picture(level_pair())
    texts = [words.text for words in drawing.words]
    assert {"Orchard window", "left panel", "right panel", "49 in x 68 in"} <= set(texts)
    for shape in drawing.shapes:
        points = shape.points if isinstance(shape, Path) else [shape.box[:2], shape.box[2:]]
        assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in points)


def test_a_single_panel_has_its_size_below_it_and_no_hand():
    alone = with_piece(whole_cuts(cloth(), [30]), 100, F(0))
    texts = [words.text for words in hung_picture(plan_job(alone)).words]
    assert "54 in x 30 in" in texts
    assert not {"", "whole", "whole panel"} & set(texts)


def test_long_names_and_many_windows_do_not_run_into_each_other():
    plan = level_pair()
    names = ["Seminar room over the old stables, third from the stair", "Orchard window", "Long landing by the well"]
    windows, placements = [], []
    for name in names:
        windows.append(replace(plan.job.windows[0], name=name))
        placements += [replace(p, cut=replace(p.cut, window=name)) for p in plan.placements]
    many = replace(plan.with_job(replace(plan.job, windows=tuple(windows))), placements=tuple(placements))
    boxes = [words.box for words in hung_picture(many).words]
    for number, a in enumerate(boxes):
        assert not any(a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3] for b in boxes[:number])


def test_nothing_laid_is_refused():
    with pytest.raises(ValueError, match="nothing to hang"):
        hung_picture(replace(level_pair(), placements=()))


def test_windows_without_cuts_on_the_cloth_are_left_out():
    plan = level_pair()
    extra: Window = replace(plan.job.windows[0], name="Bare window")
    more = plan.with_job(replace(plan.job, windows=(*plan.job.windows, extra)))
    assert "Bare window" not in [words.text for words in hung_picture(more).words]


def at_heights(*heights: Fraction | None) -> Plan:
    """Windows side by side, each with the pair of ``level_pair``, their tops at these heights."""
    plan = level_pair()
    windows, placements = [], []
    for number, height in enumerate(heights):
        windows.append(replace(plan.job.windows[0], name=f"Window {number}", top_height=height))
        placements += [replace(p, cut=replace(p.cut, window=f"Window {number}")) for p in plan.placements]
    return replace(plan.with_job(replace(plan.job, windows=tuple(windows))), placements=tuple(placements))


def panel_tops(drawing) -> list[tuple[float, float]]:
    """Upper and lower end of each panel's outline, from left to right."""
    outlines = [s.points for s in drawing.shapes if isinstance(s, Path) and s.closed and s.stroke == INK]
    return [(points[0][1], points[2][1]) for points in sorted(outlines)]


def test_windows_hang_at_their_heights_above_one_floor():
    drawing = hung_picture(at_heights(F(92), F(80)))
    (first, _, second, _) = panel_tops(drawing)
    per_inch = (first[1] - first[0]) / 68
    assert second[0] - first[0] == pytest.approx(12 * per_inch)
    (floor,) = [s for s in drawing.shapes if isinstance(s, Path) and s.stroke == QUIET and not s.closed]
    assert floor.points[0][1] == floor.points[1][1] == pytest.approx(first[0] + 92 * per_inch)
    texts = [words.text for words in drawing.words]
    assert {"top 92 in above the floor", "top 80 in above the floor"} <= set(texts)


def test_rows_at_one_height_are_joined_from_window_to_window_and_others_are_not():
    # rows 2 + 12 k below tops 12 apart are level; tops 10 apart they are not
    for height, joined in ((F(80), 5), (F(82), 0)):
        drawing = hung_picture(at_heights(F(92), height))
        ends = sorted(points[1][0] for points in (s.points for s in drawing.shapes if is_panel(s)))
        lines = [s for s in drawing.shapes if isinstance(s, Path) and s.stroke == ROW]
        between = [s for s in lines if ends[1] < s.points[0][0] and s.points[1][0] < ends[2]]
        assert len(between) == joined


def is_panel(shape) -> bool:
    return isinstance(shape, Path) and shape.closed and shape.stroke == INK


def test_a_window_without_a_height_hangs_from_the_highest_top_and_names_no_floor():
    drawing = hung_picture(at_heights(F(92), None))
    first, _, second, _ = panel_tops(drawing)
    assert first[0] == second[0]
    assert [words.text for words in drawing.words].count("top 92 in above the floor") == 1
    assert not [s for s in hung_picture(at_heights(None)).shapes if isinstance(s, Path) and s.stroke == QUIET]
