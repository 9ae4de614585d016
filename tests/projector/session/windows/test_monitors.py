"""A screen that is switched off is left out, where the X server can be asked; otherwise every screen counts."""

from __future__ import annotations

from projector.session.displays import Display
from projector.session.windows.monitors import without_the_dark

DESK = Display(1, "desk", 1366, 768)
LAMP = Display(2, "lamp", 1920, 1080, left_px=1366)
BOTH = (DESK, LAMP)


def test_only_screens_that_a_monitor_shows_are_kept() -> None:
    assert without_the_dark(BOTH, frozenset({(0, 0, 1366, 768), (1366, 0, 1920, 1080)})) == BOTH
    assert without_the_dark(BOTH, frozenset({(0, 0, 1366, 768)})) == (DESK,)
    assert without_the_dark(BOTH, frozenset({(0, 0, 1366, 768), (1366, 0, 1280, 720)})) == (DESK,)


def test_where_nobody_can_tell_all_are_kept() -> None:
    assert without_the_dark(BOTH, None) == BOTH
