"""Colours chosen for a cloth: the best one is taken, every eye can tell, every kind has one."""

import numpy as np
import pytest

from projector.light.appearance import Illumination
from projector.light.candidates import BLACK, FULL, GROUPS, OKABE_ITO, WHITE, name_of_colour
from projector.light.choosing import ALIKE, DARK_IN, DARK_WIDER, LIGHTING, differences, ranked_choices
from projector.light.ciede2000 import ciede2000
from projector.light.eyes import EYES, as_seen
from projector.light.looks import LOOKS
from projector.light.srgb import channels, decoded, lab
from projector.scene.marks import Kind
from tests.projector.light.cloths import MARGIN, ROOMS_LX, chosen_and_white, cloths

PLUM = ("#e9e2cf", "#4c3b5a")


def seen(surface: str, colour: int, light: Illumination, eye: str) -> np.ndarray:
    """L*a*b* of one light on one surface, worked out anew, one step after the other."""
    red_green_blue = decoded(channels(surface)) * light.on_table(decoded(channels(colour))) / light.most_lx
    return lab(as_seen(red_green_blue, eye))


@pytest.mark.parametrize("field", [BLACK, WHITE])
def test_the_smallest_difference_is_over_all_surfaces_their_neighbours_and_all_eyes(field: int) -> None:
    light = Illumination(300)
    worst = min(
        float(ciede2000(seen(on, 0xE69F00, light, eye), seen(beside, field, light, eye)))
        for on in PLUM
        for beside in PLUM
        for eye in EYES
    )
    assert float(differences(PLUM, field, (0xE69F00,), light)[0]) == pytest.approx(worst, abs=1e-9)


@pytest.mark.parametrize("room_lx", ROOMS_LX)
def test_on_every_cloth_the_first_choice_is_as_good_as_any_to_the_stated_share(room_lx: float) -> None:
    light = Illumination(room_lx)
    for cloth in cloths(12):
        best = ranked_choices(cloth[0], cloth[1:], light)[0].smallest
        lit = [differences(cloth, field, (*OKABE_ITO, *FULL, BLACK), light).max() for field in (BLACK, WHITE)]
        assert best >= (1 - ALIKE - LIGHTING) * max(lit)


def test_on_a_wall_of_cloth_the_chosen_light_beats_white_alone() -> None:
    found = np.array([chosen_and_white(cloth, room) for cloth in cloths(20) for room in ROOMS_LX])
    best, _, white = found.T
    # The whole wall of 200 cloths is told by the benchmark; these are the first twenty of it.
    assert (best >= white).all()
    assert best.mean() > MARGIN * white.mean()


@pytest.mark.parametrize("eye", EYES)
def test_every_kind_of_eye_sees_the_chosen_cut_line(eye: str) -> None:
    for cloth in cloths(12):
        choice = ranked_choices(cloth[0], cloth[1:], Illumination(50))[0]
        light = Illumination(50)
        cut = choice.chosen[0].colour
        shown = [
            float(ciede2000(seen(on, cut, light, eye), seen(beside, choice.field, light, eye)))
            for on in cloth
            for beside in cloth
        ]
        assert min(shown) >= choice.smallest - 1e-9


def test_red_and_green_of_one_brightness_are_alike_to_a_deutan_eye_and_not_to_the_usual_one() -> None:
    red, green = decoded(channels("#b05a2a")), decoded(channels("#7f7a2c"))
    apart = {eye: float(ciede2000(lab(as_seen(red, eye)), lab(as_seen(green, eye)))) for eye in EYES}
    assert apart["usual"] > 25
    assert apart["deutan"] < apart["usual"] / 2


@pytest.mark.parametrize("eye", EYES)
def test_grey_stays_grey_to_every_eye(eye: str) -> None:
    # Rows of the published matrices sum to one, but for the last of their six places.
    assert as_seen([0.4, 0.4, 0.4], eye) == pytest.approx(np.full(3, 0.4), abs=2e-6)


def test_a_light_ground_with_dark_motifs_is_lit_all_over() -> None:
    first = ranked_choices("#e9e2cf", ("#4c5b3a", "#7a4a2b"))[0]
    assert first.field == WHITE


def test_dark_plain_cloth_is_not_lit_all_over() -> None:
    assert ranked_choices("#5a6672")[0].field == BLACK


def test_groups_hold_every_kind_once_and_line_types_stay() -> None:
    kinds = [kind for group in GROUPS.values() for kind in group]
    assert sorted(kinds) == sorted(Kind)
    choices = ranked_choices("#8d8f92", ("#e8dcc0", "#2f3b45"))
    assert {choice.field for choice in choices} == {BLACK, WHITE}
    for choice in choices:
        for kind, look in choice.looks.items():
            assert look.dashes_in == LOOKS[kind].dashes_in
            wider = look.width_in / LOOKS[kind].width_in
            assert wider == 1 if choice.field == BLACK else wider >= DARK_WIDER
            assert choice.field == BLACK or look.width_in >= DARK_IN


def test_each_press_of_the_key_brings_another_cut_line_that_shows() -> None:
    choices = ranked_choices("#8d8f92", ("#e8dcc0",), fields=(BLACK,))
    cuts = [one.looks[Kind.CUT].colour for one in choices]
    assert len(set(cuts)) == len(cuts) >= 3
    assert BLACK not in cuts


def test_the_colours_have_names() -> None:
    named = {name_of_colour(colour) for colour in (*OKABE_ITO, *FULL, BLACK)}
    assert len(named) == len({*OKABE_ITO, *FULL, BLACK})
