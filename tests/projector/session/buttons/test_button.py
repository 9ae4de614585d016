"""Buttons in a strip: none over another, all of it on the screen, and a click finds the one it falls on."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from projector.light.colour import channels
from projector.session.buttons.button import Button, boxes, button_at, strip_height
from projector.session.buttons.painted import strip_pixels
from projector.session.cutting.pictures import LIT

SIZES = [(1366, 65), (800, 43), (1920, 92), (400, 40)]
TYPING = tuple(Button(letter, letter) for letter in "1234567890./-")
FEW = (Button("yes: tick it", "PageDown", main=True), Button("not yet", "PageUp"))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("buttons", [FEW, TYPING, FEW[:1]])
def test_buttons_lie_side_by_side_on_the_strip(buttons: tuple[Button, ...], size: tuple[int, int]) -> None:
    found = boxes(buttons, *size)
    assert len(found) == len(buttons)
    assert found[0][0] >= 0
    assert found[-1][2] <= size[0]
    for (_, upper, right, lower), (left, *_) in pairwise(found):
        assert right < left
        assert 0 <= upper < lower <= size[1]
    assert all(right - left >= 8 for left, _, right, _ in found)


@pytest.mark.parametrize("size", SIZES)
def test_a_click_finds_the_button_it_falls_on_and_none_beside_them(size: tuple[int, int]) -> None:
    for button, (left, upper, right, lower) in zip(TYPING, boxes(TYPING, *size), strict=True):
        assert button_at(TYPING, *size, (left, upper)) is button
        assert button_at(TYPING, *size, (right - 1, lower - 1)) is button
        assert button_at(TYPING, *size, (right, upper)) is None
        assert button_at(TYPING, *size, (left, lower)) is None
    assert button_at((), *size, (10, 10)) is None


def test_a_strip_is_never_too_low_to_be_hit() -> None:
    assert [strip_height(height) for height in (300, 768, 1080)] == [40, 65, 92]


@pytest.mark.parametrize("size", SIZES)
def test_the_strip_has_its_size_and_each_button_something_on_it(size: tuple[int, int]) -> None:
    pixels = strip_pixels(FEW, *size)
    assert pixels.shape == size[::-1]
    for left, upper, right, lower in boxes(FEW, *size):
        assert len(np.unique(pixels[upper + 4 : lower - 4, left + 4 : right - 4])) > 4
    lit = int.from_bytes(bytes(channels(LIT).astype(np.uint8).tolist()), "big")
    first, second = boxes(FEW, *size)
    assert (pixels[:, first[0] : first[2]] == lit).any()
    assert not (pixels[:, second[0] : second[2]] == lit).any()
