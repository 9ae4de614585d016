"""sRGB, CIEDE2000, light on cloth and contrast against published figures."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skimage.color import deltaE_ciede2000, rgb2lab

from projector.light.appearance import Illumination, brightness, luminance_of, projector_lx, wcag_contrast
from projector.light.colour import channels, ciede2000, decoded, encoded, lab, unlab
from tests.projector.light.sharma_pairs import PAIRS

FOUR_PLACES = 0.5e-4 + 1e-9  # figures are printed to four places
LABS = st.tuples(st.floats(0, 100), st.floats(-90, 90), st.floats(-90, 90))


@pytest.mark.parametrize(("code", "light"), [(1, 0.00030353), (10, 0.00303527), (128, 0.21586), (188, 0.502886)])
def test_srgb_values_decode_as_in_iec_61966_2_1(code: int, light: float) -> None:
    digits = len(str(light).split(".")[1]) if "e" not in str(light) else 8
    assert float(decoded(code)) == pytest.approx(light, abs=0.5 * 10**-digits)


def test_every_srgb_value_comes_back() -> None:
    assert encoded(decoded(np.arange(256))) == pytest.approx(
        np.arange(256), abs=1e-3
    )  # the two branches meet inexactly


def test_lab_agrees_with_scikit_image() -> None:
    colours = np.random.default_rng(4).integers(0, 256, (500, 3))
    # Its matrix has six places where the standard has four, which is worth up to 0.02 here.
    assert lab(decoded(colours)) == pytest.approx(rgb2lab(colours / 255.0), abs=0.03)


@given(st.tuples(*[st.floats(0, 1)] * 3))
@settings(max_examples=50)
def test_lab_and_back_is_the_same_light(light: tuple[float, float, float]) -> None:
    assert unlab(lab(light)) == pytest.approx(np.array(light), abs=1e-9)


@pytest.mark.parametrize(("first", "second", "difference"), PAIRS)
def test_ciede2000_gives_the_figure_of_the_paper(first: tuple, second: tuple, difference: float) -> None:
    assert float(ciede2000(first, second)) == pytest.approx(difference, abs=FOUR_PLACES)
    assert float(ciede2000(second, first)) == pytest.approx(difference, abs=FOUR_PLACES)


def test_all_34_pairs_are_there() -> None:
    assert len(set(PAIRS)) == 34


@given(LABS, LABS)
@settings(max_examples=100)
def test_ciede2000_agrees_with_scikit_image(first: tuple, second: tuple) -> None:
    # Opposite hues are left to the paper's own pairs: there a rounding decides which mean hue is meant.
    hues = [math.atan2(b, a) for _, a, b in (first, second)]
    if abs(abs(hues[0] - hues[1]) - math.pi) > 1e-3:
        assert float(ciede2000(first, second)) == pytest.approx(
            float(deltaE_ciede2000(np.array(first), np.array(second))), abs=1e-7
        )


@pytest.mark.parametrize(
    ("first", "second", "contrast"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#767676", "#ffffff", 4.5422),
        ("#777777", "#ffffff", 4.4781),
        ("#0000ff", "#ff0000", 2.1489),
    ],
)
def test_contrast_as_in_wcag(first: str, second: str, contrast: float) -> None:
    """W3C, Web Content Accessibility Guidelines 2: relative luminance and contrast ratio."""
    ratio = wcag_contrast(decoded(channels(first)), decoded(channels(second)))
    assert ratio == pytest.approx(contrast, abs=FOUR_PLACES)
    assert ratio == wcag_contrast(decoded(channels(second)), decoded(channels(first)))


@pytest.mark.parametrize(("room_lx", "contrast"), [(500.0, 5.016), (50.0, 39.76)])
def test_3000_lumens_on_64_by_36_inches_against_the_room(room_lx: float, contrast: float) -> None:
    """Lambertian reflection, native contrast 1000:1, worked by hand: (room + 2018) / (room + 2.018)."""
    light = Illumination(room_lx, projector_lx(3000, 64, 36))
    white, black = light.on_table([1, 1, 1]), light.on_table([0, 0, 0])
    places = len(str(contrast).split(".")[1])
    assert float(brightness(white) / brightness(black)) == pytest.approx(contrast, abs=0.5 * 10**-places)


def test_a_lit_dark_motif_is_darker_than_unlit_light_ground_beside_it() -> None:
    """0.05 x (500 + 2018) / (0.80 x (500 + 2.018)) = 0.3135, worked by hand."""
    light = Illumination(500.0, projector_lx(3000, 64, 36))
    motif = luminance_of([0.05] * 3, light.on_table([1, 1, 1]))
    ground = luminance_of([0.80] * 3, light.on_table([0, 0, 0]))
    assert float(brightness(motif) / brightness(ground)) == pytest.approx(0.3135, abs=FOUR_PLACES)


def test_a_white_cloth_shows_its_light_divided_by_pi() -> None:
    assert float(brightness(luminance_of([1, 1, 1], [100, 100, 100]))) == pytest.approx(100 / math.pi)


@pytest.mark.parametrize("wrong", [(-1.0, 2000.0), (math.nan, 2000.0), (300.0, 0.0), (300.0, math.inf)])
def test_light_that_cannot_be_is_refused(wrong: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="light"):
        Illumination(*wrong)
