"""A border along one selvedge that shall lead. The near selvedge lies before the person, the first end at their left; a
left panel leads with its right edge, a right panel with its left one, as seen from inside the room.

By hand, tops towards the first end: upright, the left edge of what hangs is the near selvedge, so a left panel leads
with the far one and a right panel with the near one. Turned, it is the other way about; face down too."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.resolve import resolve
from jobs.model.choices import Border, BorderLeads, End, Facing, Hang, Panels, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Hand, Way
from jobs.model.print import Print, Repeat
from jobs.model.problems import Code
from projector.words.arithmetic import panel_lines
from projector.words.pairs import pair_words
from tests.jobs.made import MIRROR_DOWN, job, window
from tests.jobs.refused import refused

PATTERNED = Cloth("Vines", Fraction(54), Fraction(1, 2), Repeat(Fraction(25), Fraction(26)), print=MIRROR_DOWN)
PLAIN = Cloth("Linen", Fraction(54), Fraction(1, 2))
UP, TURNED, DOWN = Way.UPRIGHT, Way.TURNED, Way.FACE_DOWN


def lies(cloth: Cloth, panels: Panels = Panels.PAIR, **more: object) -> dict[Hand, tuple[Way, str]]:
    """How each panel of a window lies, and which selvedge leads in it."""
    of = job(cloth, window("Bay", 84, panels, **more), heading=4, hem=8, side_hem=1)
    return {cut.hand: (cut.way, str(cut.leading_edge)) for cut in resolve(of).sound().cuts}


@pytest.mark.parametrize("cloth", [PATTERNED, PLAIN], ids=["patterned", "plain"])
def test_the_far_border_leads_in_both_where_the_right_panel_is_turned_the_near_one_where_it_is_the_left(
    cloth: Cloth,
) -> None:
    far, near = replace(cloth, border=Border.FAR), replace(cloth, border=Border.NEAR)
    assert lies(far) == {Hand.LEFT: (UP, "far"), Hand.RIGHT: (TURNED, "far")}
    assert lies(near) == {Hand.LEFT: (TURNED, "near"), Hand.RIGHT: (UP, "near")}
    last = replace(near, print=replace(near.print, top_towards=End.LAST))
    assert lies(last) == {Hand.LEFT: (UP, "near"), Hand.RIGHT: (TURNED, "near")}


def test_a_border_decides_which_way_the_pair_looks() -> None:
    near, far = (replace(PATTERNED, border=border) for border in (Border.NEAR, Border.FAR))
    assert lies(near, facing=Facing.RIGHT) == lies(near)
    with refused(Code.FACING_BY_BORDER):
        lies(far, facing=Facing.RIGHT)
    of = job(near, window("Bay", 84))
    assert "the left panel, turned by half a turn" in pair_words(resolve(of).windows[0].choice, of)[0]


def test_a_pair_with_a_border_mirrors_as_any_turned_pair_does() -> None:
    """Rows at 0, 25, 50; a row 4 below both top edges: upright start -4, turned far edge at 2 x 0 + 4."""
    of = job(replace(PATTERNED, border=Border.NEAR), window("Bay", 84), heading=4, hem=8)
    left, right = resolve(of).sound().cuts
    assert (left.way, right.way) == (TURNED, UP)
    assert left.row == right.row == 4
    # 96 long: upright from 21 on; turned it ends at 4, and so begins at 4 - 96 = -92, 8 modulo 25.
    assert right.phase == 21
    assert left.phase == 8


def test_a_single_panel_is_turned_where_its_border_would_not_lead() -> None:
    near = replace(PATTERNED, border=Border.NEAR)
    assert lies(near, Panels.LEFT) == {Hand.LEFT: (TURNED, "near")}
    assert lies(near, Panels.RIGHT) == {Hand.RIGHT: (UP, "near")}
    assert lies(near, Panels.WHOLE) == {Hand.WHOLE: (UP, "far")}


def test_cloth_with_two_good_faces_is_used_face_down() -> None:
    alike = replace(PLAIN, border=Border.NEAR, faces_alike=True, print=Print(one_way=True))
    assert lies(alike) == {Hand.LEFT: (DOWN, "near"), Hand.RIGHT: (UP, "near")}


def test_in_one_panel_a_border_leads_anyway() -> None:
    stems = Print(one_way=True, side_to_side=Symmetry.MIRROR)
    one = replace(PATTERNED, border=Border.NEAR, border_leads=BorderLeads.ONE, print=stems)
    found = lies(one)
    assert {way for way, _ in found.values()} == {UP}
    assert found[Hand.RIGHT] == (UP, "near")


@pytest.mark.parametrize(
    ("cloth", "more", "one_way"),
    [
        (replace(PLAIN, print=Print(one_way=True)), {}, 1),
        (replace(PATTERNED, print=Print(one_way=True)), {"hang": Hang.SAME}, 1),
        (replace(PATTERNED, print=Print(half_turn=True)), {"hang": Hang.SAME}, 0),
        (PATTERNED, {"hang": Hang.SAME}, 0),
    ],
)
def test_where_no_panel_may_be_turned_it_is_refused_with_the_reason(
    cloth: Cloth, more: dict[str, object], one_way: int
) -> None:
    with refused(Code.BORDER_CANNOT_LEAD) as problems:
        lies(replace(cloth, border=Border.FAR), **more)
    assert problems[0].path == ("windows", 0, "hang")
    assert problems[0].value("one_way") == one_way


def test_run_sideways_a_border_never_leads() -> None:
    tall = replace(PLAIN, width=Fraction(118), run=Run.SIDEWAYS, border=Border.FAR)
    wide = replace(window("Bay", 84), cuts_per_panel=None, rod=Fraction(60))
    with refused(Code.BORDER_ALONG_THE_FOOT):
        resolve(job(tall, wide)).sound()


def test_a_narrow_panel_takes_a_whole_width_so_that_the_border_is_its_own() -> None:
    narrow = replace(window("Slit", 60), cuts_per_panel=None, rod=Fraction(20))
    cuts = resolve(job(replace(PLAIN, border=Border.FAR), narrow)).sound().cuts
    assert [cut.across for cut in cuts] == [(0, 54), (0, 54)]


def test_the_order_says_in_which_panels_it_leads() -> None:
    of = resolve(job(replace(PATTERNED, border=Border.NEAR), window("Bay", 84))).sound()
    assert (
        "Bay: the border along the near selvedge leads in both panels: the left one turned and the right one upright."
        in panel_lines(of)
    )
