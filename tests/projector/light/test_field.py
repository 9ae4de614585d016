"""Which pattern is lit for a photograph of cloth of given colours."""

from __future__ import annotations

import pytest

from projector.light.appearance import Illumination
from projector.light.field import DARKEST, boldness, on_white, step_of

WHITE, BLACK, GREY = "#ffffff", "#000000", "#808080"


def test_boldness_is_by_how_much_the_brightest_colour_outshines_the_darkest():
    assert boldness(GREY, ()) == 1
    # sRGB 128 is ((128 / 255 + 0.055) / 1.055) ** 2.4 = 0.2159 of the light (IEC 61966-2-1).
    assert boldness(GREY, (WHITE,)) == pytest.approx(1 / 0.2159, rel=1e-3)
    assert boldness(WHITE, (GREY, GREY)) == boldness(GREY, (WHITE,))
    assert boldness(BLACK, (WHITE,)) == pytest.approx(1 / DARKEST)


def test_hue_alone_is_not_bold():
    # Green gives back 0.7152, red 0.2126 of full light, each by itself (IEC 61966-2-1).
    assert boldness("#00ff00", ("#ff0000",)) == pytest.approx(0.7152 / 0.2126)
    assert on_white("#70141a", ("#1f2473",))


def test_a_print_bolder_than_the_step_from_dark_to_lit_has_the_whole_pattern():
    dim, bright = Illumination(300, 600), Illumination(30, 2000)
    # (300 + 600) / (300 + 600 / 1000) and (30 + 2000) / (30 + 2000 / 1000)
    assert step_of(dim) == pytest.approx(900 / 300.6)
    assert step_of(bright) == pytest.approx(2030 / 32)
    assert boldness(WHITE, (GREY,)) > step_of(dim)
    assert (on_white(WHITE, (GREY,), dim), on_white(WHITE, (GREY,), bright)) == (False, True)
    assert on_white(WHITE, (), dim)
    assert not on_white(WHITE, (BLACK,))
