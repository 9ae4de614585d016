"""What is shown after any row of presses is what a session brought there at once would show."""

import random

import numpy as np
import pytest

from projector.session.cutting.host import Cutting
from projector.session.keys import DEFAULT_KEYS
from projector.session.lighting.lighting import bench_of, stop_lit
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import table_of

SIZE = 1280, 720
NOT_PRESSED = {"Tab", "Esc"}
"""Leaving ends it; the bench screen is no light."""
OFTEN = ("Right", "Left", "Up", "Shift+Down", "]", "[", "G", "T", "K", "Space", "+")


def cutting() -> Cutting:
    return Cutting(bench_of(plan_of(), table_of(*SIZE)), table_of(*SIZE), lambda event: None)


@pytest.mark.parametrize("seed", range(4))
def test_redrawing_what_changed_gives_the_frame_drawn_anew(seed: int) -> None:
    chance = random.Random(seed)
    names = [name for name in DEFAULT_KEYS if name not in NOT_PRESSED]
    at_work, pixels = cutting(), np.zeros(SIZE[::-1], np.uint32)
    for _ in range(30):
        at_work.key(chance.choice(OFTEN) if chance.random() < 0.7 else chance.choice(names), 10.0)
        at_work.paint(pixels)
        there = cutting()
        there.session, there.bench, there.table = at_work.session, at_work.bench, at_work.table
        fresh = np.zeros(SIZE[::-1], np.uint32)
        there.paint(fresh)
        assert (pixels == fresh).all(), at_work.session.page


def test_a_press_that_changes_nothing_draws_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    at_work, pixels = cutting(), np.zeros(SIZE[::-1], np.uint32)
    at_work.key("Space", 10.0)
    at_work.paint(pixels)
    lit = pixels.copy()
    monkeypatch.setattr("projector.session.cutting.host.draw", lambda *given, **named: pytest.fail("drawn again"))
    pixels[:] = 0  # a window that was hidden may have lost what it showed
    at_work.paint(pixels)
    assert (pixels == lit).all()
    assert lit.any()


def test_a_nudge_does_not_lay_out_the_stop_again(monkeypatch: pytest.MonkeyPatch) -> None:
    at_work = cutting()
    at_work.key("Space", 10.0)
    before = stop_lit(at_work.session, at_work.bench)
    monkeypatch.setattr(
        "projector.session.lighting.planned.scene_of_stop", lambda *given, **named: pytest.fail("laid out again")
    )
    at_work.key("Right", 10.0)
    after = stop_lit(at_work.session, at_work.bench)
    assert len(after.marks) == len(before.marks)
    assert after != before
