"""The projector's screen watched while at work: gone, set otherwise, back."""

from __future__ import annotations

from dataclasses import replace

import pytest

from projector.session.windows.displays import Display
from projector.session.windows.watch import MOST_RETURNS, SLEPT_S, WAKE_EVERY_S, Seen, Wakings, Watch

LAPTOP = Display(1, "desk", 1366, 768)
LAMP = Display(2, "lamp", 1920, 1080, left_px=1366)
SIZE = LAMP.size_px


def test_all_well_is_nothing() -> None:
    watch = Watch(LAMP)
    assert watch.look((LAPTOP, LAMP), SIZE) is Seen.NOTHING
    assert (watch.lost, watch.words) == (False, "")


def test_unplugged_and_back_are_each_told_once() -> None:
    watch = Watch(LAMP)
    assert watch.look((LAPTOP,), SIZE) is Seen.GONE
    assert watch.words == "The projector (lamp) is gone. See to its cable and switch it on. What is ticked is kept."
    assert watch.look((LAPTOP,), (1366, 768)) is Seen.NOTHING
    elsewhere = replace(LAMP, number=1, left_px=-1920)
    assert watch.look((elsewhere, replace(LAPTOP, number=2)), (1366, 768)) is Seen.BACK
    assert not watch.lost


def test_a_projector_set_to_another_size_is_told_and_is_well_again_when_set_back() -> None:
    watch = Watch(LAMP)
    small = replace(LAMP, width_px=1280, height_px=720)
    assert watch.look((LAPTOP, small), SIZE) is Seen.LOST
    assert "was set to 1280 x 720 pixels. Set it back to 1920 x 1080" in watch.words
    assert watch.look((LAPTOP, LAMP), (1280, 720)) is Seen.BACK


def test_a_window_with_other_pixels_than_its_screen_counts_as_well() -> None:
    watch = Watch(LAMP)
    assert watch.look((LAPTOP, LAMP), (1366, 768)) is Seen.LOST
    assert watch.look((LAPTOP, LAMP), (1366, 768)) is Seen.BACK


def test_the_light_is_not_put_back_for_ever_on_a_screen_that_does_not_take_it() -> None:
    watch = Watch(LAMP)
    seen = [watch.look((LAPTOP, LAMP), (1366, 768)) for _ in range(20)]
    assert seen.count(Seen.BACK) == MOST_RETURNS
    assert watch.lost
    assert watch.look((LAPTOP, LAMP), SIZE) is Seen.BACK
    assert watch.look((LAPTOP, LAMP), SIZE) is Seen.NOTHING
    assert not watch.lost


def test_another_screen_of_the_same_size_is_not_taken_for_the_projector() -> None:
    watch = Watch(LAMP)
    assert watch.look((LAPTOP, replace(LAMP, name="other")), SIZE) is Seen.GONE
    assert "is gone" in watch.words


def test_screens_that_lie_otherwise_are_told_until_the_windows_are_put_in_their_places() -> None:
    watch = Watch(LAMP, (LAPTOP, LAMP))
    assert watch.look((LAPTOP, LAMP), SIZE) is Seen.NOTHING
    alone = (replace(LAMP, left_px=0),)
    assert watch.look(alone, SIZE) is Seen.MOVED
    watch.layout = alone
    assert watch.look(alone, SIZE) is Seen.NOTHING
    assert watch.look((LAPTOP, LAMP), SIZE) is Seen.MOVED


def test_while_the_projector_is_away_other_screens_may_come_and_go() -> None:
    watch = Watch(LAMP, (LAPTOP, LAMP))
    assert watch.look((LAPTOP,), SIZE) is Seen.GONE
    assert watch.look((LAPTOP, replace(LAPTOP, number=2, name="other")), SIZE) is Seen.NOTHING


@pytest.mark.parametrize(
    ("steady", "wall", "slept"),
    [
        (1.0, 1.0, 0.0),
        (3.0, 3.0, 0.0),
        (1.0, 600.0, 600.0),  # the steady clock stood still in sleep
        (600.0, 600.0, 600.0),  # it ran on
        (1.0, -3600.0, 0.0),  # the wall clock was put back
        (1.0, SLEPT_S, 0.0),
    ],
)
def test_only_a_long_gap_is_a_sleep(steady: float, wall: float, slept: float) -> None:
    wakings = Wakings(50.0, 1_000_000.0)
    assert wakings.slept_s(50.0 + steady, 1_000_000.0 + wall) == slept
    # The next waking is counted from this one.
    assert wakings.slept_s(51.0 + steady, 1_000_001.0 + wall) == 0.0


def test_wakings_come_far_oftener_than_a_gap_is_long() -> None:
    assert 10 * WAKE_EVERY_S <= SLEPT_S
