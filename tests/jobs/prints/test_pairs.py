"""Which way the second panel lies. Facts of plane symmetry: International Tables for Crystallography, vol. A."""

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.model.choices import Hang, Symmetry
from jobs.model.cuts import Hand, Way
from jobs.model.print import Print, Repeat
from jobs.model.problems import Code
from jobs.model.resolved import Pairing
from jobs.prints.pairs import hand_ways, second_panel
from projector.words.wording import sentence
from tests.jobs.made import cloth
from tests.jobs.refused import refused

NONE, MIRROR, GLIDE = Symmetry.NONE, Symmetry.MIRROR, Symmetry.GLIDE


def way_of(top_to_bottom: Symmetry, side_to_side: Symmetry, half_turn: bool, **more: object) -> Way:
    sheet = Print(top_to_bottom=top_to_bottom, side_to_side=side_to_side, half_turn=half_turn)
    return second_panel(cloth(10, print=sheet, **more), Hang.MIRRORED).pairing.way


@pytest.mark.parametrize(
    ("group", "top_to_bottom", "side_to_side", "half_turn", "way"),
    [
        ("pm, mirrors along the weft", MIRROR, NONE, False, Way.TURNED),
        ("pm, mirrors along the warp", NONE, MIRROR, False, Way.UPRIGHT),
        ("pmm, cmm, p4m, p6m", MIRROR, MIRROR, True, Way.TURNED),
        ("pmg, set one way", MIRROR, GLIDE, True, Way.TURNED),
        ("pmg, set the other way", GLIDE, MIRROR, True, Way.UPRIGHT),
    ],
)
def test_a_mirror_of_the_group_decides_the_way(group, top_to_bottom, side_to_side, half_turn, way):
    assert way_of(top_to_bottom, side_to_side, half_turn) is way, group


@pytest.mark.parametrize(
    ("group", "top_to_bottom", "side_to_side", "half_turn", "code"),
    [
        ("p1, p3", NONE, NONE, False, Code.NO_MIRROR_LINE),
        ("p2, p4, p6", NONE, NONE, True, Code.HALF_TURN_ALONE),
    ],
)
def test_without_a_mirror_the_pair_is_refused_with_its_reason(group, top_to_bottom, side_to_side, half_turn, code):
    with refused(code) as problems:
        way_of(top_to_bottom, side_to_side, half_turn)
    assert "hang: same" in sentence(problems[0]), group


@pytest.mark.parametrize(
    ("group", "top_to_bottom", "side_to_side", "half_turn", "pairing"),
    [
        ("pg, one setting", GLIDE, NONE, False, Pairing.TURNED_SLID),
        ("pg, the other setting", NONE, GLIDE, False, Pairing.OWN_SLID),
        ("pgg, p4g", GLIDE, GLIDE, True, Pairing.OWN_SLID),
    ],
)
def test_a_mirror_with_a_slide_gives_a_pair_along_sooner_than_across(
    group, top_to_bottom, side_to_side, half_turn, pairing
):
    sheet = Print(top_to_bottom=top_to_bottom, side_to_side=side_to_side, half_turn=half_turn)
    choice = second_panel(cloth(10, print=sheet, repeat=Repeat(Fraction(10), Fraction(8))), Hang.MIRRORED)
    assert choice.pairing is pairing, group
    assert pairing.way is (Way.TURNED if pairing is Pairing.TURNED_SLID else Way.UPRIGHT)


def test_a_slide_across_needs_the_repeat_across():
    with refused(Code.GLIDE_NEEDS_ACROSS):
        way_of(GLIDE, NONE, False)


@pytest.mark.parametrize(("down", "across", "key"), [(GLIDE, NONE, "top_to_bottom"), (NONE, GLIDE, "side_to_side")])
def test_on_a_half_drop_the_line_without_a_slide_is_asked_for(down, across, key):
    with refused(Code.GLIDE_WITH_DROP) as problems:
        way_of(down, across, False, drop=Fraction(1, 2))
    assert problems[0].value("mirror") == key


@pytest.mark.parametrize("sheet", [Print(), Print(half_turn=True), Print(top_to_bottom=GLIDE), Print(one_way=True)])
def test_cloth_with_two_like_faces_is_used_face_down_when_no_mirror_helps(sheet):
    choice = second_panel(cloth(10, print=sheet, faces_alike=True), Hang.MIRRORED)
    assert choice.pairing.way is Way.FACE_DOWN


def test_one_way_cloth_is_never_turned():
    one_way = Print(top_to_bottom=MIRROR, one_way=True)
    with refused(Code.ONE_WAY_NEVER_TURNED):
        second_panel(cloth(10, print=one_way), Hang.MIRRORED)
    assert second_panel(cloth(10, print=one_way, faces_alike=True), Hang.MIRRORED).pairing.way is Way.FACE_DOWN


def test_where_the_columns_lie_is_guessed_only_for_a_line_along_the_cloth_that_was_not_measured():
    own = cloth(10, print=Print(side_to_side=MIRROR))
    assert second_panel(own, Hang.MIRRORED).columns_guessed
    measured = replace(own, first_column=Fraction(3), print=replace(own.print, mirror_offset_across=Fraction(0)))
    assert not second_panel(measured, Hang.MIRRORED).columns_guessed
    assert not second_panel(cloth(10, print=Print(top_to_bottom=MIRROR)), Hang.MIRRORED).columns_guessed


def test_hanging_the_same_way_is_always_possible():
    choice = second_panel(cloth(10, print=Print(half_turn=True)), Hang.SAME)
    assert choice.pairing.way is Way.UPRIGHT


def test_plain_cloth_lies_upright_whatever_is_said_of_its_print():
    assert second_panel(cloth(), Hang.MIRRORED).pairing.way is Way.UPRIGHT


def test_a_mirror_is_not_believed_where_the_drop_allows_none():
    with refused(Code.NO_MIRROR_WITH_DROP):
        way_of(MIRROR, NONE, False, drop=Fraction(1, 3))


def test_only_the_right_panel_of_a_pair_is_ever_turned():
    turnable = cloth(10, print=Print(top_to_bottom=MIRROR))
    choice = second_panel(turnable, Hang.MIRRORED)
    assert hand_ways(choice, (Hand.LEFT, Hand.RIGHT)) == {
        Hand.LEFT: Way.UPRIGHT,
        Hand.RIGHT: Way.TURNED,
    }
    for hand in Hand:
        assert hand_ways(choice, (hand,)) == {hand: Way.UPRIGHT}
