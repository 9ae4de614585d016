"""A cut in the other panel of its pair: the same cloth, the edge that led as its return edge."""

from dataclasses import replace

from jobs.cutting.hands import on_other_hand
from jobs.model.choices import Facing, HalfAt, Panels
from tests.jobs.cutting.test_facing import pair
from tests.jobs.made import cut_list


def test_the_cuts_of_a_pair_that_looks_the_other_way_are_those_of_the_other_hand() -> None:
    assert set(cut_list(pair(Facing.RIGHT))) == set(map(on_other_hand, cut_list(pair(Facing.LEFT))))


def test_the_cut_that_led_comes_last() -> None:
    of = pair(Facing.LEFT)
    joined = replace(of, windows=(replace(of.windows[0], name="Bay-left-2", cuts_per_panel=3),))
    led, _, last = (cut for cut in cut_list(joined) if cut.hand == "left")
    moved = on_other_hand(led)
    assert (moved.id, moved.number, moved.of, moved.panel) == ("bay-left-2-right-3", 3, 3, "Bay-left-2, right")
    assert (moved.leading_side, moved.return_side) == (led.return_side, led.leading_side)
    assert moved.leading_side.joined
    assert on_other_hand(last).id == "bay-left-2-right-1"


def test_twice_is_once_none() -> None:
    for cut in cut_list(pair(Facing.LEFT)):
        assert on_other_hand(on_other_hand(cut)) == cut


def test_a_panel_without_a_hand_has_no_other() -> None:
    of = pair(Facing.LEFT)
    (cut,) = cut_list(replace(of, windows=(replace(of.windows[0], panels=Panels.WHOLE, half_at=HalfAt.RETURN),)))
    assert on_other_hand(cut) == cut
