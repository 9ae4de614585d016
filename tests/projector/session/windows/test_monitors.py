"""Screens as the X server lights them: dark ones left out, moved ones where they lie, the rest as SDL has them."""

from __future__ import annotations

from dataclasses import replace

from projector.session.windows.displays import Display
from projector.session.windows.monitors import as_lit, matched

DESK = Display(1, "desk", 1366, 768)
LAMP = Display(2, "lamp", 1920, 1080, left_px=1366)
BOTH = (DESK, LAMP)
LIT = {71: (0, 0, 1366, 768), 72: (1366, 0, 1920, 1080)}
OWN = {"desk": 71, "lamp": 72}


def test_each_display_is_matched_with_the_monitor_that_lies_there() -> None:
    assert matched(BOTH, LIT) == OWN
    assert matched(BOTH, {71: (0, 0, 1366, 768), 72: (1366, 0, 1536, 864)}) == {"desk": 71}
    assert matched(BOTH, None) == {}


def test_a_screen_that_is_dark_is_left_out() -> None:
    assert as_lit(BOTH, LIT, OWN) == BOTH
    assert as_lit(BOTH, {71: LIT[71]}, OWN) == (DESK,)


def test_a_screen_that_was_moved_or_set_otherwise_is_told_as_it_is_now() -> None:
    assert as_lit(BOTH, {72: (0, 0, 1920, 1080)}, OWN) == (replace(LAMP, left_px=0),)
    set_to = as_lit(BOTH, {**LIT, 72: (1366, 0, 1280, 720)}, OWN)
    assert set_to == (DESK, replace(LAMP, width_px=1280, height_px=720))


def test_a_screen_that_was_never_matched_is_left_as_it_is() -> None:
    """A scaled one may be told of in two ways; it must not be taken for a dark one."""
    assert as_lit(BOTH, {71: LIT[71]}, {"desk": 71}) == BOTH
    assert as_lit(BOTH, None, OWN) == BOTH
