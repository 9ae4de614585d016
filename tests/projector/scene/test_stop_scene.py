"""What is lit for a stop, mark by mark."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.model.cuts import Hand
from jobs.model.piece import Flaw
from jobs.model.print import Repeat
from projector.scene.marks import LABEL_IN, Hatch, Kind, Stroke, Text
from projector.scene.stop_scene import Layers, scene_of_stop
from tests.projector.scene.plans import Wish, plan_of

F = Fraction


def words(scene):
    return [mark.text for mark in scene.marks if isinstance(mark, Text)]


def long_cut_lines(scene):
    return [s for s in scene.of(Kind.CUT) if s.points[0][0] == s.points[1][0]]


def chevrons(scene):
    return [s for s in scene.of(Kind.TOP) if isinstance(s, Stroke)]


def points_left(chevron):
    return chevron.points[1][0] < chevron.points[0][0]


def test_the_cut_lines_lie_at_the_edges_of_the_cut_from_selvedge_to_selvedge():
    plan = plan_of()
    scene = scene_of_stop(plan, plan.stops[1])
    # second cut: 3 + 70 + 2 1/2 = 75 1/2 to 145 1/2; the cloth at the left of the table is 73 1/2
    assert [s.points for s in long_cut_lines(scene)] == [((72.0, 0.0), (72.0, 54.0)), ((2.0, 0.0), (2.0, 54.0))]


def test_each_cut_line_has_a_cross_tick_beyond_both_selvedges():
    plan = plan_of()
    scene = scene_of_stop(plan, plan.stops[0])
    for line in long_cut_lines(scene):
        x = line.points[0][0]
        ticks = [
            s.points for s in scene.of(Kind.CUT) if s.points[0][1] == s.points[1][1] and abs(s.points[0][0] - x) < 1
        ]
        assert sorted(y for (_, y), _ in ticks) == [-0.4, 54.4]
        assert all(a[0] < x < b[0] for a, b in ticks)


def test_rows_lie_a_whole_number_of_repeats_from_the_first_row():
    plan = plan_of()
    stop = plan.stops[1]
    rows = scene_of_stop(plan, stop, layers=Layers(letters=False)).of(Kind.ROW)
    # f = 4 3/4, V = 12 1/2; lit from 73 1/2 to 169 1/2: k = 6 .. 13, that is 79 3/4 .. 167 1/4
    assert sorted({s.points[0][0] for s in rows}) == [6.25 + 12.5 * k for k in range(8)]


def test_columns_are_centred_between_the_selvedges():
    plan = plan_of()
    columns = scene_of_stop(plan, plan.stops[0], layers=Layers(letters=False)).of(Kind.COLUMN)
    # 53 in printed hold three columns of 13 1/2, the middle one at 27
    assert [s.points[0][1] for s in columns] == [13.5, 27.0, 40.5]


@pytest.mark.parametrize(
    ("along", "across", "drawn"),
    [
        (F(2), F(27, 2), {Kind.ROW}),
        (F(33, 16), F(27, 2), {Kind.ROW, Kind.COLUMN}),
        (F(12), F(2), {Kind.COLUMN}),
        (F(3, 2), F(3, 2), set()),
    ],
)
def test_on_a_fine_print_the_pluses_alone_make_rows_and_columns(along: F, across: F, drawn: set[Kind]) -> None:
    plan = plan_of(Wish(repeat=Repeat(along, across)))
    scene = scene_of_stop(plan, plan.stops[0], layers=Layers(letters=False))
    assert {kind for kind in (Kind.ROW, Kind.COLUMN) if scene.of(kind)} == drawn
    level = [s for s in scene.of(Kind.CROSSING) if s.points[0][1] == s.points[1][1]]
    # 53 in printed hold three columns of 13 1/2, 26 of 2, 35 of 1 1/2
    assert len({s.points[0][1] for s in level}) == int(53 / across)


def test_a_half_drop_moves_every_other_column_by_half_a_repeat():
    plan = plan_of(Wish(drop=F(1, 2)))
    scene = scene_of_stop(plan, plan.stops[0], layers=Layers(letters=False))
    pluses = [s for s in scene.of(Kind.CROSSING) if s.points[0][1] == s.points[1][1]]
    at = {(sum(p[0] for p in s.points) / 2, s.points[0][1]) for s in pluses}
    # cloth at the left is 1: near column at 4 3/4 - 1, the next half of 12 1/2 further along
    assert (3.75, 13.5) in at
    assert (10.0, 27.0) in at
    assert (3.75, 40.5) in at
    assert (3.75, 27.0) not in at


def test_plain_cloth_has_no_rows_and_no_match_marks():
    plan = plan_of(Wish(repeat=None))
    scene = scene_of_stop(plan, plan.stops[0])
    assert scene.of(Kind.ROW, Kind.COLUMN, Kind.CROSSING, Kind.MATCH) == ()


def test_two_bars_stand_astride_the_seam_line_at_every_row_of_the_cut():
    plan = plan_of()
    bars = scene_of_stop(plan, plan.stops[0]).of(Kind.MATCH)
    # rows 4 3/4 + 12 1/2 k from 3 to 73: six of them (67 1/4 the last), two bars, two sides
    assert len(bars) == 24
    near = sorted(s.points[0][0] for s in bars if s.points[0][1] < 27)
    assert [(a + b) / 2 for a, b in zip(near[::2], near[1::2], strict=True)] == [3.75 + 12.5 * k for k in range(6)]
    # seam line: selvedge and seam are 1/2 from either edge, and the selvedge lies in the seam
    assert {(s.points[0][1], s.points[1][1]) for s in bars} == {(0.0, 1.0), (53.0, 54.0)}


def test_fold_lines_show_finished_top_finished_foot_and_side_hems():
    plan = plan_of()
    folds = scene_of_stop(plan, plan.stops[1], layers=Layers(letters=False)).of(Kind.FOLD)
    # turned cut from x 2 to 72: top at 72, heading 4, hem 8; side hems 2 inside the selvedge strips of 1/2
    assert [s.points for s in folds] == [
        ((68.0, 0.0), (68.0, 54.0)),
        ((10.0, 0.0), (10.0, 54.0)),
        ((2.0, 2.5), (72.0, 2.5)),
        ((2.0, 51.5), (72.0, 51.5)),
    ]


def test_the_chevrons_beside_top_point_to_the_top_edge():
    plan = plan_of()
    upright, turned = (scene_of_stop(plan, stop) for stop in plan.stops)
    for scene, left in ((upright, True), (turned, False)):
        (top,) = [m for m in scene.of(Kind.TOP) if isinstance(m, Text)]
        assert top.text == "TOP"
        assert top.turn_deg == 0
        assert [points_left(c) for c in chevrons(scene)] == [left, left]
        edge = long_cut_lines(scene)[0].points[0][0]
        foot = long_cut_lines(scene)[1].points[0][0]
        assert abs(top.at[0] - edge) < abs(top.at[0] - foot)


def test_the_label_names_window_hand_and_number():
    plan = plan_of()
    assert "Orchard window, left, 1 of 1" in words(scene_of_stop(plan, plan.stops[0]))


def test_the_leading_edge_is_named_at_the_leading_selvedge():
    plan = plan_of()
    texts = {m.text: m for m in scene_of_stop(plan, plan.stops[0]).marks if isinstance(m, Text)}
    assert texts["leading edge"].at[1] < 10
    assert texts["return edge"].at[1] > 44


def test_a_whole_panel_names_its_sides_as_they_hang():
    plan = plan_of(Wish(lengths=(F(60),), hands=(Hand.WHOLE,), top_first=(True,)))
    texts = {m.text: m for m in scene_of_stop(plan, plan.stops[0]).marks if isinstance(m, Text)}
    # top to the left, face up: turned a quarter clockwise to hang, the near side comes to the left
    assert texts["left side"].at[1] < 10
    assert texts["right side"].at[1] > 44


def test_a_pull_that_shows_only_the_foot_never_says_top_in_capitals():
    plan = plan_of(Wish(lengths=(F(120),), hands=(Hand.LEFT,), top_first=(True,), table=F(72)))
    first, second = (scene_of_stop(plan, stop) for stop in plan.stops)
    assert "TOP" in words(first)
    assert "FOOT" not in words(first)
    assert "TOP" not in words(second)
    assert {"FOOT", "to the top"} <= set(words(second))
    assert [points_left(c) for c in chevrons(second)] == [True, True]
    assert len(long_cut_lines(second)) == 1


def test_a_cut_that_is_done_is_hatched_and_has_no_cut_line():
    plan = plan_of()
    scene = scene_of_stop(plan, plan.stops[0], done=frozenset({"c1"}))
    assert {mark.kind for mark in scene.marks} == {Kind.DONE}
    assert "DONE" in words(scene)
    hatched = [m for m in scene.marks if isinstance(m, Hatch)]
    assert min(x for h in hatched for x, _ in h.outline) == 2.0
    assert max(x for h in hatched for x, _ in h.outline) == 72.0


def test_a_neighbour_that_is_done_is_hatched_and_its_cloth_shows_no_rows():
    plan = plan_of(Wish(lengths=(F(20), F(40)), gap=F(5, 2)))
    stop = replace(plan.stops[1], cloth_at_left=F(0), lit_from=F(0), lit_to=F(96))
    scene = scene_of_stop(plan, stop, done=frozenset({"c1"}))
    assert {x for h in scene.marks if isinstance(h, Hatch) for x, _ in h.outline} >= {3.0, 23.0}
    assert [s.points[0][0] for s in long_cut_lines(scene)] == [65.5, 25.5]
    assert not [s for s in scene.of(Kind.ROW) if 3 < s.points[0][0] < 23]
    assert not [s for s in scene.of(Kind.COLUMN) if s.points[0][0] < 23 and s.points[1][0] > 3]


def test_flaws_are_outlined_in_zigzag_and_letters_keep_off_them():
    flaw = Flaw(F(20), F(30), (F(20), F(34)), "slub")
    plan = plan_of(Wish(flaws=(flaw,)))
    scene = scene_of_stop(plan, plan.stops[0])
    (outline,) = (mark for mark in scene.of(Kind.FLAW) if isinstance(mark, Stroke))
    assert outline.points[0] == outline.points[-1]
    xs, ys = zip(*outline.points, strict=True)
    assert (min(xs), max(xs)) == pytest.approx((18.8, 29.2))
    assert (min(ys), max(ys)) == pytest.approx((19.8, 34.2))


def test_leftovers_are_outlined_and_sized():
    plan = plan_of(Wish(lengths=(F(20), F(30)), piece=F(80)))
    stop = replace(plan.stops[1], lit_to=F(90))
    scene = scene_of_stop(plan, stop)
    # 3 + 20 + 2 1/2 + 30 + 2 1/2 = 58; 22 are left
    assert {"leftover", "22 in"} <= set(words(scene))
    # Both ends and both selvedges, just where they lie.
    outline = [m.points for m in scene.of(Kind.LEFTOVER) if isinstance(m, Stroke)]
    assert sorted({x for points in outline for x, _ in points}) == [34.5, 56.5]
    assert sorted({y for points in outline for _, y in points}) == [0.0, 54.0]
    assert len(outline) == 4


def test_no_line_of_a_leftover_runs_beside_a_cut_line():
    # The leftover begins where the last cut ends: 3 + 20 + 30 = 53.
    plan = plan_of(Wish(lengths=(F(20), F(30)), gap=F(0), piece=F(80)))
    scene = scene_of_stop(plan, replace(plan.stops[1], lit_to=F(90)))
    cuts = {s.points[0][0] for s in long_cut_lines(scene)}
    ends = {
        m.points[0][0] for m in scene.of(Kind.LEFTOVER) if isinstance(m, Stroke) and m.points[0][0] == m.points[1][0]
    }
    shared = float(53 - plan.stops[1].cloth_at_left)
    assert shared in cuts
    assert ends == {shared + 27}
    assert all(abs(x - cut) > 1 for x in ends for cut in cuts)
    # Its selvedge sides end at the cut line, not short of it.
    assert min(x for m in scene.of(Kind.LEFTOVER) if isinstance(m, Stroke) for x, _ in m.points) == shared


def test_fold_lines_and_flaws_carry_a_word_that_can_be_read():
    flaw = Flaw(F(20), F(24), (F(20), F(24)), "slub")
    plan = plan_of(Wish(flaws=(flaw,)))
    scene = scene_of_stop(plan, plan.stops[0])
    texts = [m for m in scene.marks if isinstance(m, Text)]
    (note,) = [m for m in texts if m.text.startswith("flaw")]
    assert (note.text, note.height) == ("flaw: slub", LABEL_IN)
    assert math.dist(note.at, (20.0 - 1 + 2, 22.0)) < 6  # beside the flaw
    folds = [s for s in scene.of(Kind.FOLD) if isinstance(s, Stroke)]
    upright = {s.points[0][0] for s in folds if s.points[0][0] == s.points[1][0]}
    level = {s.points[0][1] for s in folds if s.points[0][1] == s.points[1][1]}
    words_at = [m.at for m in texts if m.text == "fold"]
    # A word stands in each fold line, which is parted for it.
    assert upright
    assert upright <= {x for x, _ in words_at}
    assert level <= {y for _, y in words_at}
    assert len(words_at) == len(upright) + len(level)
    assert not [
        m for m in scene_of_stop(plan, plan.stops[0], layers=Layers(letters=False)).marks if isinstance(m, Text)
    ]


def test_the_squaring_line_goes_once_a_cut_of_the_piece_is_done():
    plan = plan_of()
    assert [s.points[0][0] for s in scene_of_stop(plan, plan.stops[0]).of(Kind.TRIM)] == [0.0]
    at_start = replace(plan.stops[1], cloth_at_left=F(0), lit_from=F(0), lit_to=F(96))
    assert scene_of_stop(plan, at_start, done=frozenset({"c1"})).of(Kind.TRIM) == ()


@pytest.mark.parametrize(
    ("layers", "dark"),
    [
        (Layers(cut=False), {Kind.CUT}),
        (Layers(trims=False), {Kind.TRIM}),
        (Layers(rows=False), {Kind.ROW, Kind.COLUMN, Kind.CROSSING}),
        (Layers(match=False), {Kind.MATCH}),
        (Layers(folds=False), {Kind.FOLD}),
        (Layers(letters=False), {Kind.TOP, Kind.LETTER}),
    ],
)
def test_each_layer_darkens_its_own_marks_only(layers, dark):
    plan = plan_of()
    full, less = scene_of_stop(plan, plan.stops[0]), scene_of_stop(plan, plan.stops[0], layers=layers)
    kinds = {mark.kind for mark in full.marks}
    assert dark <= kinds
    assert {mark.kind for mark in less.marks} == kinds - dark


def test_a_stop_that_lights_nothing_of_its_cut_is_refused():
    plan = plan_of()
    far_off = replace(plan.stops[1], lit_from=F(0), lit_to=F(20))
    with pytest.raises(ValueError, match="lights nothing of cut c2"):
        scene_of_stop(plan, far_off)
