"""Words in place of the light: all of them in the window, whatever its size, in colours that can be read."""

from __future__ import annotations

import numpy as np
import pytest

from projector.light.colour import channels
from projector.session.cutting.pictures import BAD, INK, PAPER
from projector.session.windows.notice import HEIGHTS_IN, WIDE_IN, notice_pixels

WORDS = (
    "The projector (Lamp HDMI) was set to 1280 x 720 pixels. Set it back to 1920 x 1080. What is ticked is kept. "
    "Esc, pressed twice, leaves."
)


def packed(colour: str) -> int:
    return int.from_bytes(bytes(channels(colour).astype(np.uint8).tolist()), "big")


@pytest.mark.parametrize("size", [(1366, 768), (1920, 1080), (800, 600), (600, 1000), (1500, 420)])
def test_all_of_it_stands_in_the_window_and_nothing_is_cut_off(size: tuple[int, int]) -> None:
    pixels = notice_pixels(WORDS, size)
    assert pixels.shape == size[::-1]
    for colour in (BAD, INK):
        assert (pixels == packed(colour)).any()
    for rim in (pixels[:4], pixels[-4:], pixels[:, :4], pixels[:, -4:]):
        assert (rim == packed(PAPER)).all()


def test_on_a_laptop_it_is_read_from_two_metres() -> None:
    """2 x 2000 mm x tan(20' / 2) = 11.6 mm (NUREG-0700: 15 to 20'), a screen 286 mm wide."""
    lit = (notice_pixels(WORDS, (1366, 768)) == packed(BAD)).any(axis=1)
    # The first run of lit rows is one line: its tallest sign, a bracket, is taller than a capital.
    first = np.flatnonzero(lit)[0]
    tall_mm = np.flatnonzero(~lit[first:])[0] * 286 / 1366
    assert tall_mm >= 11.6
    assert HEIGHTS_IN[1] * 286 / WIDE_IN >= 11.6
