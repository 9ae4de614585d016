"""The picture of the piece: to scale, tops the right way, no letters over each other."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.model.cuts import Hand
from jobs.model.piece import Flaw
from projector.papers.cloth_picture import MARGIN_IN, PAGE_IN, cloth_picture
from projector.papers.cloth_text import COLUMNS, cloth_lines
from projector.papers.drawing import INK, LEFT, RIGHT, Path, rectangle
from projector.papers.piece_shapes import LONGEST_IN, tiers_of
from tests.projector.scene.plans import Wish, plan_of

F = Fraction
TOUCH_IN = 1e-9

WISHES = st.builds(
    lambda name, lengths, hands, tops, width, piece: Wish(
        window=name, lengths=lengths, hands=hands, top_first=tops, width=width, piece=sum(lengths) + piece
    ),
    st.sampled_from(["Nook", "Orchard window", "Seminar room over the old stables, third from the stair", "WM" * 20]),
    st.tuples(*[st.integers(10, 120).map(F)] * 3),
    st.tuples(*[st.sampled_from(list(Hand))] * 3),
    st.tuples(*[st.booleans()] * 3),
    st.sampled_from([F(20), F(54), F(118)]),
    st.integers(20, 400).map(F),
)


@settings(max_examples=60)
@given(WISHES)
def test_no_letters_stand_over_each_other_or_off_the_sheet(wish):
    drawing = cloth_picture(plan_of(wish))
    boxes = [words.box for words in drawing.words]
    for number, (left, upper, right, lower) in enumerate(boxes):
        assert left >= 0
        assert upper >= 0
        assert right <= drawing.width
        assert lower <= drawing.height
        for other in boxes[:number]:
            apart = (
                right <= other[0] + TOUCH_IN
                or other[2] <= left + TOUCH_IN
                or lower <= other[1] + TOUCH_IN
                or other[3] <= upper + TOUCH_IN
            )
            assert apart, (drawing.words[number], other)


def outlines(drawing, fill):
    """Outlines of the cuts whose frame has this colour: the frame lies under its outline."""
    pairs = pairwise(s for s in drawing.shapes if isinstance(s, Path))
    return [line.points for frame, line in pairs if frame.stroke == fill and line.stroke == INK]


def test_cuts_are_drawn_to_scale():
    drawing = cloth_picture(plan_of(Wish(piece=F(200))))
    per_inch = (PAGE_IN - 2 * MARGIN_IN) / 200
    (left,), (right,) = outlines(drawing, LEFT), outlines(drawing, RIGHT)
    for points, start in ((left, 3.0), (right, 75.5)):
        xs, ys = zip(*points, strict=True)
        assert (min(xs), max(xs)) == pytest.approx((MARGIN_IN + start * per_inch, MARGIN_IN + (start + 70) * per_inch))
        assert max(ys) - min(ys) == pytest.approx(54 * per_inch)


def test_chevrons_point_to_the_top_edge_of_each_cut():
    drawing = cloth_picture(plan_of(Wish(piece=F(200))))
    chevrons = [
        s.points
        for s in drawing.shapes
        if isinstance(s, Path) and s.stroke == INK and len(s.points) == 3 and not s.closed
    ]
    # the first cut's top lies to the left, the second's to the right
    assert [c[1][0] < c[0][0] for c in chevrons] == [True, True, False, False]
    assert [words.text for words in drawing.words].count("TOP") == 2


def test_flaws_leftovers_and_the_piece_are_named():
    flaw = Flaw(F(160), F(161), (F(10), F(14)), "slub")
    texts = [words.text for words in cloth_picture(plan_of(Wish(piece=F(200), flaws=(flaw,)))).words]
    assert "Flaw from 160 in to 161 in: slub" in texts
    assert "leftover 52 in" in texts  # 3 + 2 x (70 + 2 1/2) = 148 used
    assert "Piece 1: 200 in; first row 4 3/4 in from the first end" in texts


def test_a_long_piece_is_broken_between_cuts():
    plan = plan_of(Wish(lengths=(F(70), F(70), F(70), F(70), F(70)), hands=(Hand.LEFT,) * 5, top_first=(True,) * 5,
                        piece=F(500)))  # fmt: skip
    tiers = tiers_of(plan, plan.pieces[0])
    assert [tier.span.start for tier in tiers[1:]] == [tier.span.end for tier in tiers[:-1]]
    assert (tiers[0].span.start, tiers[-1].span.end) == (0, 500)
    for tier in tiers:
        assert tier.span.end - tier.span.start <= LONGEST_IN
        assert not any(p.start < tier.span.end < p.end for p in plan.placements)


def test_a_cut_longer_than_a_strip_is_broken_and_its_top_shown_once():
    plan = plan_of(Wish(lengths=(F(300),), hands=(Hand.LEFT,), top_first=(True,), piece=F(320), table=F(400)))
    texts = [words.text for words in cloth_picture(plan).words]
    assert len(tiers_of(plan, plan.pieces[0])) == 2
    assert texts.count("TOP") == 1
    assert texts.count("foot") == 1


def test_a_plan_without_pieces_has_no_picture():
    with pytest.raises(ValueError, match="without pieces"):
        cloth_picture(replace(plan_of(), pieces=()))


@settings(max_examples=60)
@given(WISHES)
def test_lines_for_the_terminal_keep_to_their_columns_and_show_every_top(wish):
    lines = cloth_lines(plan_of(wish))
    assert all(len(line) <= COLUMNS for line in lines)
    assert all(line.isascii() for line in lines)
    drawn = lines[:-1]
    for top_first, mark in ((True, "<"), (False, ">")):
        if top_first in wish.top_first:
            assert any(mark in line for line in drawn)


def test_the_lines_for_the_terminal_are_as_expected():
    lines = cloth_lines(plan_of(Wish(lengths=(F(70),), hands=(Hand.RIGHT,), top_first=(False,), piece=F(90))))
    assert lines[:4] == (
        "piece 1, 90 in, first end at the left",
        "   +-3 in-----------------------------------------------73 in-+",
        "/  | foot                                             > TOP > |  ............",
        "/  |                      Orchard window                      |  ............",
    )


def test_rectangles_have_four_corners():
    assert rectangle(0, 1, 2, 3) == ((0, 1), (2, 1), (2, 3), (0, 3))


@pytest.mark.parametrize("gap", [F(0), F(1, 4), F(1), F(6)])
def test_positions_of_neighbours_are_never_read_as_one(gap):
    plan = plan_of(Wish(lengths=(F(70),) * 3, hands=(Hand.LEFT,) * 3, top_first=(True,) * 3, gap=gap, piece=F(238)))
    drawing = cloth_picture(plan)
    positions = sorted(
        (words.box[0], words.box[2], words.text)
        for words in drawing.words
        if words.text.removesuffix(" in").replace("/", "").replace(" ", "").isdigit() and words.text.endswith(" in")
    )
    # 3, 73, then 73 + gap and so on; an edge that two cuts share is said once
    assert len(positions) == (4 if gap == 0 else 6)
    for before, after in pairwise(positions):
        assert after[0] - before[1] >= 0.1, (before, after)


def test_cuts_bear_their_number_in_the_order_of_cutting():
    texts = [words.text for words in cloth_picture(plan_of(Wish(piece=F(200)))).words]
    assert "1. Orchard window" in texts
    assert "2. Orchard window" in texts
