"""Screens: chosen by number or name, found again, and their traps told."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projector.session.windows.displays import (
    SCALES_PERCENT,
    Display,
    NoDisplayError,
    UnknownDisplayError,
    UnknownNameError,
    WrongSizeError,
    chosen,
    found_again,
    scale_between,
    single,
    traps,
)

DESK = Display(1, "Desk panel", 1366, 768, modes_px=((1366, 768), (1280, 720)))
LAMP = Display(2, "Lamp HDMI", 1920, 1080, left_px=1366, modes_px=((1920, 1080),))
BOTH = (DESK, LAMP)


@pytest.mark.parametrize("name", ["Lamp HDMI", "lamp hdmi", "LAMP", " hdmi "])
def test_a_screen_is_chosen_by_its_name_or_a_part_of_it(name: str) -> None:
    assert chosen(BOTH, name) is LAMP


def test_a_screen_is_chosen_by_number_and_the_last_without_one() -> None:
    two = (Display(1, "desk", 1440, 900), Display(2, "table", 1920, 1080))
    assert chosen(two, None).number == 2
    assert chosen(two, 1).name == "desk"
    for wrong in (0, 3, -1):
        with pytest.raises(UnknownDisplayError, match="there are screens 1 to 2"):
            chosen(two, wrong)
    with pytest.raises(NoDisplayError):
        chosen((), None)


def test_a_whole_name_goes_before_a_part_of_another() -> None:
    longer = replace(LAMP, number=3, name="Desk panel (2)")
    assert chosen((*BOTH, longer), "desk panel") is DESK


def test_a_name_that_no_screen_or_several_have_is_refused_with_the_names_there_are() -> None:
    with pytest.raises(UnknownNameError, match=r"no screen called 'beam': there are 1 \(Desk panel\), 2 \(Lamp HDMI\)"):
        chosen(BOTH, "beam")
    with pytest.raises(UnknownNameError, match="2 screens have 'p' in their names"):
        chosen(BOTH, "p")
    with pytest.raises(UnknownNameError):
        chosen(BOTH, "  ")


def test_a_screen_is_found_again_wherever_it_lies_now() -> None:
    moved = replace(LAMP, number=1, left_px=-1920)
    assert found_again(LAMP, (moved, DESK)) is moved
    assert found_again(LAMP, (DESK,)) is None
    assert found_again(LAMP, (replace(LAMP, width_px=1280),)) is None


def test_screens_without_a_trap_are_passed_over_in_silence() -> None:
    assert traps(LAMP, BOTH) == ()
    assert traps(replace(LAMP, modes_px=()), BOTH) == ()


def test_mirrored_displays_are_told() -> None:
    (said,) = traps(LAMP, (replace(DESK, left_px=1366), LAMP))
    assert said.startswith("Screens 1 and 2 show the same picture: the displays are mirrored. Set them to extend")


def test_a_scaled_desktop_is_told() -> None:
    scaled = replace(LAMP, width_px=1536, height_px=864)
    (said,) = traps(scaled, (DESK, scaled))
    assert "is 1536 x 864 to programs" in said
    assert "it shows 1920 x 1080" in said
    assert "Set its scale to 100 %" in said


def test_a_single_screen_is_told_for_it_may_be_two_that_are_mirrored() -> None:
    (said,) = single((DESK,))
    assert single(BOTH) == ()
    assert "set the displays to extend" in said


@pytest.mark.parametrize(("seen", "percent"), [((1536, 864), 125), ((1280, 720), 150), ((960, 540), 200)])
def test_a_calibration_that_does_not_fit_by_a_scale_says_so(seen: tuple[int, int], percent: int) -> None:
    # 1920 / 1.25 = 1536, 1920 / 1.5 = 1280, 1920 / 2 = 960.
    shown = replace(LAMP, width_px=seen[0], height_px=seen[1])
    with pytest.raises(WrongSizeError, match=rf"seems to be scaled to {percent} %: set it to 100 %"):
        raise WrongSizeError((1920, 1080), shown)


def test_a_calibration_of_another_size_that_no_scale_explains_does_not_blame_one() -> None:
    assert "scaled" not in str(WrongSizeError((1920, 1080), DESK))


@given(st.sampled_from(SCALES_PERCENT), st.integers(800, 8000), st.integers(600, 5000))
def test_a_scale_is_found_again_from_the_two_sizes(percent: int, width: int, height: int) -> None:
    seen = (round(width * 100 / percent), round(height * 100 / percent))
    found = scale_between((width, height), seen)
    assert found is not None
    # Scales close to each other cannot be told apart on small screens; what is found explains the size.
    assert abs(width * 100 / found - seen[0]) <= 2
    assert scale_between((width, height), (width, height)) is None
