"""Keys by name, and the light moved by exact steps."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.model.choices import Unit
from projector.session.actions import NUDGES_64THS, Action
from projector.session.keys import DEFAULT_KEYS, action_for, key_name
from projector.session.state.motion import Motion
from projector.session.windows.displays import Display, NoDisplayError, UnknownDisplayError, chosen


@pytest.mark.parametrize(
    ("reported", "typed", "shift", "ctrl", "name"),
    [
        ("page down", "", False, False, "PageDown"),
        ("return", "\r", False, False, "Enter"),
        ("enter", "\r", False, False, "Enter"),
        ("space", " ", False, False, "Space"),
        ("left", "", True, False, "Shift+Left"),
        ("left", "", False, True, "Ctrl+Left"),
        ("u", "u", False, False, "U"),
        ("u", "U", True, False, "U"),
        ("=", "+", True, False, "+"),
        ("7", "/", True, False, "/"),  # where the slash is typed with Shift, as on many European keyboards
        ("c", "\x03", False, True, "Ctrl+C"),
        ("b", "", False, False, "B"),
        ("f5", "", False, False, "F5"),
        ("left shift", "", True, False, None),
    ],
)
def test_keys_are_named_by_what_they_say(reported: str, typed: str, shift: bool, ctrl: bool, name: str | None) -> None:
    assert key_name(reported, typed, shift, ctrl) == name


def test_a_key_without_a_meaning_counts_as_any_key() -> None:
    assert action_for("F5") is Action.ANY_OTHER


def test_a_remote_sends_only_next_previous_and_dark() -> None:
    remote = [DEFAULT_KEYS[key] for key in ("PageDown", "PageUp", "B", ".")]
    assert remote == [Action.NEXT_STOP, Action.PREVIOUS_STOP, Action.DARK, Action.DARK]


@given(st.lists(st.sampled_from(sorted(NUDGES_64THS)), max_size=50))
def test_nudges_in_any_order_add_up_exactly_and_can_be_walked_back(nudges: list[Action]) -> None:
    there = Motion()
    for nudge in nudges:
        there = there.shifted(*NUDGES_64THS[nudge])
    assert there.dx == sum((Fraction(NUDGES_64THS[nudge][0], 64) for nudge in nudges), Fraction(0))
    back = there
    for nudge in reversed(nudges):
        right, away = NUDGES_64THS[nudge]
        back = back.shifted(-right, -away)
    assert back.is_still


def test_a_turn_leaves_its_middle_where_it_is() -> None:
    (a, b, c), (d, e, f) = Motion(turn_steps=20).affine((30.0, 20.0))
    assert (a * 30 + b * 20 + c, d * 30 + e * 20 + f) == pytest.approx((30, 20), abs=1e-12)
    # Twenty steps of 0.05 degree are one degree: sin 1 deg = 0.0174524 (any table of sines).
    assert d == pytest.approx(0.0174524, abs=1e-7)


def test_a_motion_is_said_as_a_tape_reads() -> None:
    assert Motion().in_words(Unit.INCH) == ""
    assert Motion(-96, 4, -2).in_words(Unit.INCH) == "1 1/2 in left, 1/16 in away, turned 0.10 degrees right"


def test_a_screen_is_chosen_by_number_and_the_last_without_one() -> None:
    two = (Display(1, "desk", 1440, 900), Display(2, "table", 1920, 1080))
    assert chosen(two, None).number == 2
    assert chosen(two, 1).name == "desk"
    for wrong in (0, 3, -1):
        with pytest.raises(UnknownDisplayError, match="there are screens 1 to 2"):
            chosen(two, wrong)
    with pytest.raises(NoDisplayError):
        chosen((), None)
