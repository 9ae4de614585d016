"""What is shown after any row of presses is what a session brought there at once would show."""

import random

import numpy as np
import pytest

from projector.session.cutting.journal import not_kept
from projector.session.cutting.mode import Cutting
from projector.session.cutting.scene import stop_lit
from projector.session.keys import DEFAULT_KEYS
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import cutting_of, key
from tests.projector.session.tables import table_of

SIZE = 1280, 720
NOT_PRESSED = {"Esc"}
"""Leaving ends it."""
OFTEN = ("Right", "Left", "Up", "Shift+Down", "]", "[", "G", "T", "K", "Space", "+")


def cutting() -> Cutting:
    return cutting_of(plan_of(), table_of(*SIZE))


@pytest.mark.parametrize("seed", range(4))
def test_redrawing_what_changed_gives_the_frame_drawn_anew(seed: int) -> None:
    chance = random.Random(seed)
    names = [name for name in DEFAULT_KEYS if name not in NOT_PRESSED]
    at_work, pixels = cutting(), np.zeros(SIZE[::-1], np.uint32)
    for _ in range(30):
        key(at_work, chance.choice(OFTEN) if chance.random() < 0.7 else chance.choice(names), 10.0)
        at_work.paint(pixels)
        there = Cutting(at_work.state, not_kept)
        fresh = np.zeros(SIZE[::-1], np.uint32)
        there.paint(fresh)
        assert (pixels == fresh).all(), at_work.state.page


def test_a_press_that_changes_nothing_draws_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    at_work, pixels = cutting(), np.zeros(SIZE[::-1], np.uint32)
    key(at_work, "Space")
    at_work.paint(pixels)
    lit = pixels.copy()
    monkeypatch.setattr("projector.session.mode.draw", lambda *given, **named: pytest.fail("drawn again"))
    pixels[:] = 0  # a window that was hidden may have lost what it showed
    at_work.paint(pixels)
    assert (pixels == lit).all()
    assert lit.any()


def test_a_nudge_does_not_lay_out_the_stop_again(monkeypatch: pytest.MonkeyPatch) -> None:
    at_work = cutting()
    key(at_work, "Space")
    before = stop_lit(at_work.state)
    monkeypatch.setattr(
        "projector.session.cutting.scene.scene_of_stop", lambda *given, **named: pytest.fail("laid out again")
    )
    key(at_work, "Right")
    after = stop_lit(at_work.state)
    assert after.scene is before.scene
    assert after.marks != before.marks
