"""Colours chosen for a cloth: bright enough first, then different; every eye can tell, every kind has one."""

import math
from pathlib import Path

import numpy as np
import pytest

from jobs.io.reader import read_job
from projector.light.appearance import Illumination, line_contrast, line_share
from projector.light.choosing import ALIKE, FLOOR, contrasts, differences, ranked_choices, room_to_reach, share_of
from projector.light.colour import COLOUR_VISIONS, LUMINANCE, as_seen, channels, ciede2000, decoded, lab
from projector.light.styles import CANDIDATES, CUTS, GROUPS, LETTERS, STYLES, UNUSUAL, WHITE, name_of_colour
from projector.scene.marks import Kind
from tests.projector.light.cloths import ROOMS_LX, cloths

PLUM = ("#e9e2cf", "#4c3b5a")
DUSK = ("#5d2f4f", "#e2cfa8")
"""Dark purple with pale motifs: by difference of colour alone blue comes before white here."""
EXAMPLES = sorted((Path(__file__).parents[3] / "jobs" / "examples").glob("*.yaml"))


def lux(colour: int, light: Illumination, share: float) -> np.ndarray:
    """What falls in the middle of a line, worked out anew."""
    full = light.room_lx + light.projector_lx * (decoded(channels(colour)) * (1 - 1 / light.native) + 1 / light.native)
    unlit = light.room_lx + light.projector_lx / light.native
    return unlit + share * (full - unlit)


def contrast_on(surface: str, colour: int, light: Illumination, share: float) -> float:
    """(L1 + 0.05 W) / (L2 + 0.05 W), W being white paper beside the line, one step after the other."""
    cloth, unlit = decoded(channels(surface)), light.room_lx + light.projector_lx / light.native
    lit, dark = (float((cloth * fallen) @ LUMINANCE) for fallen in (lux(colour, light, share), lux(0, light, 0.0)))
    return (lit + 0.05 * unlit) / (dark + 0.05 * unlit)


def seen(surface: str, colour: int, light: Illumination, eye: str, share: float) -> np.ndarray:
    """L*a*b* of the middle of a line on one surface."""
    return lab(as_seen(decoded(channels(surface)) * lux(colour, light, share) / light.most_lx, eye))


def test_the_contrast_of_a_white_line_on_dark_purple_as_worked_by_hand() -> None:
    """Room 300 lx, white 2000 lx, black 2 lx. #5d2f4f reflects 0.1095, 0.0284, 0.0782 (sRGB), luminance 0.04924.

    Unlit 0.04924 x 302 = 14.87. A line that keeps half its light: 302 + (2300 - 302) / 2 = 1301 lx, 64.06. White paper
    unlit 302, 5 % of it 15.1. (64.06 + 15.1) / (14.87 + 15.1) = 2.641.
    """
    assert float(contrasts(DUSK[:1], (WHITE,), Illumination(), 0.5)[0, 0]) == pytest.approx(2.641, abs=0.002)
    # Blue lights only what the cloth gives back of blue: 0.0722 x 0.0782 x 1998 / 2 = 5.64 more.
    assert float(contrasts(DUSK[:1], (0x0000FF,), Illumination(), 0.5)[0, 0]) == pytest.approx(1.188, abs=0.002)


def test_a_line_keeps_less_of_its_light_the_thinner_it_is() -> None:
    """A bar 1.5 px wide under a normal curve of variance 1/2: erf(1.5 / sqrt(8 / 2)) = erf(0.75) = 0.7112 (tables)."""
    assert line_share(3 / 32) == pytest.approx(0.7112, abs=5e-5)
    assert line_share(3 / 64) == line_share(1 / 16) == pytest.approx(math.erf(0.5))  # none is thinner than a pixel
    assert line_share(1.0) == pytest.approx(1.0, abs=1e-9)


def test_letters_have_the_thinnest_strokes_so_that_a_room_dark_enough_for_them_is_for_all() -> None:
    assert share_of(LETTERS) == min(share_of(group) for group in GROUPS)


@pytest.mark.parametrize("colour", CANDIDATES)
def test_contrast_is_that_of_a_line_with_the_same_cloth_unlit_on_both_sides(colour: int) -> None:
    light, share = Illumination(120, 1500), share_of(CUTS)
    worked = [contrast_on(surface, colour, light, share) for surface in PLUM]
    assert contrasts(PLUM, (colour,), light, share)[0] == pytest.approx(worked, rel=1e-9)


def test_the_smallest_difference_is_over_all_surfaces_their_neighbours_and_all_eyes() -> None:
    light, share = Illumination(300), share_of(CUTS)
    worst = min(
        float(ciede2000(seen(on, 0xE69F00, light, eye, share), seen(beside, 0, light, eye, 0.0)))
        for on in PLUM
        for beside in PLUM
        for eye in COLOUR_VISIONS
    )
    assert float(differences(PLUM, (0xE69F00,), light, share)[0]) == pytest.approx(worst, abs=1e-9)


def best_of(surfaces: tuple[str, ...], light: Illumination, group: str) -> float:
    """The most contrast that any light has everywhere on a cloth."""
    share = share_of(group)
    return max(min(contrast_on(surface, one, light, share) for surface in surfaces) for one in CANDIDATES)


@pytest.mark.parametrize("room_lx", ROOMS_LX)
def test_every_mark_reaches_the_floor_where_any_light_does_and_letters_are_in_the_best(room_lx: float) -> None:
    light = Illumination(room_lx)
    for cloth in cloths(40, seed=300 + int(room_lx)):
        choices = ranked_choices(cloth[0], cloth[1:], light)
        for one in choices[0].chosen:
            least = min(contrast_on(surface, one.colour, light, share_of(one.group)) for surface in cloth)
            best = best_of(cloth, light, one.group)
            assert one.contrast == pytest.approx(least, rel=1e-9)
            assert least >= min(FLOOR, best) - 1e-9
            if one.group == LETTERS:
                assert least == pytest.approx(best, rel=1e-9)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_on_every_example_every_mark_reaches_the_floor(path: Path) -> None:
    cloth = read_job(path).cloth
    first = ranked_choices(cloth.colour, cloth.motif_colours)[0]
    assert first.least_contrast >= FLOOR


def test_blue_is_not_put_before_white_on_dark_purple() -> None:
    choices = ranked_choices(DUSK[0], DUSK[1:])
    assert choices[0].styles[Kind.CUT].colour == WHITE
    for choice in choices:
        for one in choice.chosen:
            assert one.contrast >= FLOOR


@pytest.mark.parametrize("room_lx", ROOMS_LX)
def test_of_what_reaches_the_floor_the_first_is_as_different_as_any_to_the_stated_share(room_lx: float) -> None:
    light, share = Illumination(room_lx), share_of(CUTS)
    for cloth in cloths(30):
        reach = contrasts(cloth, CANDIDATES, light, share).min(axis=1) >= FLOOR
        if reach.any():
            most = differences(cloth, CANDIDATES, light, share)[reach].max()
            assert ranked_choices(cloth[0], cloth[1:], light)[0].smallest >= (1 - ALIKE) * most


@pytest.mark.parametrize("eye", COLOUR_VISIONS)
def test_every_kind_of_eye_sees_the_chosen_cut_line_as_different_as_is_said(eye: str) -> None:
    light, share = Illumination(50), share_of(CUTS)
    for cloth in cloths(12):
        choice = ranked_choices(cloth[0], cloth[1:], light)[0]
        cut = choice.chosen[0].colour
        shown = [
            float(ciede2000(seen(on, cut, light, eye, share), seen(beside, 0, light, eye, 0.0)))
            for on in cloth
            for beside in cloth
        ]
        assert min(shown) >= choice.smallest - 1e-9


def test_red_and_green_of_one_brightness_are_alike_to_a_deutan_eye_and_not_to_the_usual_one() -> None:
    red, green = decoded(channels("#b05a2a")), decoded(channels("#7f7a2c"))
    apart = {eye: float(ciede2000(lab(as_seen(red, eye)), lab(as_seen(green, eye)))) for eye in COLOUR_VISIONS}
    assert apart["usual"] > 25
    assert apart["deutan"] < apart["usual"] / 2


@pytest.mark.parametrize("eye", COLOUR_VISIONS)
def test_grey_stays_grey_to_every_eye(eye: str) -> None:
    # Rows of the published matrices sum to one, but for the last of their six places.
    assert as_seen([0.4, 0.4, 0.4], eye) == pytest.approx(np.full(3, 0.4), abs=2e-6)


def test_dark_marks_on_lit_cloth_would_wash_out_in_any_room() -> None:
    """Why nothing is lit all over: light spreads over a dark line from both sides. Of the thinnest, 1 px wide, half a
    dark line is light, so that even in a room without light the ratio is under 1 / (1 - erf(0.5)) = 2.1.
    """
    share = share_of(LETTERS)
    assert 1 / (1 - share) < FLOOR
    # The same line lit on unlit cloth, in a usual room: pale cloth, worked with the same figures.
    assert float(line_contrast(decoded(channels("#e9e2cf")), np.ones(3), Illumination(), share)) > FLOOR


def test_a_room_as_dark_as_is_said_lets_letters_reach_the_floor_and_a_brighter_one_does_not() -> None:
    black = ("#202428",)
    room = room_to_reach(black, Illumination())
    assert room is not None
    assert ranked_choices(*black, (), Illumination(room))[0].least_contrast >= FLOOR
    assert ranked_choices(*black, (), Illumination(room + 2))[0].least_contrast < FLOOR


def test_no_room_is_named_where_none_is_needed_or_none_would_do() -> None:
    assert room_to_reach(DUSK, Illumination()) is None
    assert room_to_reach(("#000000",), Illumination()) is None


def test_groups_hold_every_kind_once_and_line_types_stay() -> None:
    kinds = [kind for group in GROUPS.values() for kind in group]
    assert sorted(kinds) == sorted(Kind)
    for choice in ranked_choices("#8d8f92", ("#e8dcc0", "#2f3b45")):
        for kind, style in choice.styles.items():
            assert (style.dashes_in, style.width_in) == (STYLES[kind].dashes_in, STYLES[kind].width_in)


@pytest.mark.parametrize("cloth", [("#8d8f92", "#e8dcc0"), ("#0d0d0d",), DUSK])
def test_each_press_of_the_key_brings_another_cut_line_that_shows(cloth: tuple[str, ...]) -> None:
    choices = ranked_choices(cloth[0], cloth[1:])
    cuts = [one.styles[Kind.CUT].colour for one in choices]
    assert len(set(cuts)) == len(cuts) >= 3
    # Where some reach the floor, no press leads to one that does not.
    assert choices[0].contrast < FLOOR or all(one.contrast >= FLOOR for one in choices)


def test_the_colours_have_names() -> None:
    named = {name_of_colour(colour) for colour in CANDIDATES}
    assert len(named) == len(set(CANDIDATES)) == len(CANDIDATES)
    assert set(CANDIDATES) > UNUSUAL
