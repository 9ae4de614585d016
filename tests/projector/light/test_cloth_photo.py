"""Colours picked from a photograph of the cloth."""

import numpy as np
import pytest

from projector.light.cloth_photo import colours_of
from projector.light.colour import channels, ciede2000, decoded, lab


def picture(seed: int = 1) -> np.ndarray:
    """Ground over 70 %, one motif over 20 %, another over 10 %, uneven as woven cloth is."""
    rng = np.random.default_rng(seed)
    rows = [*["#5a6672"] * 70, *["#e8dcc0"] * 20, *["#d9825b"] * 10]
    flat = np.array([channels(row) for row in rows])[:, None, :].repeat(80, axis=1)
    return np.clip(flat + rng.normal(0, 6, flat.shape), 0, 255).astype(np.uint8)


def test_ground_and_motifs_come_out_with_their_shares() -> None:
    found = colours_of(picture())
    assert [one.share for one in found] == pytest.approx([0.7, 0.2, 0.1], abs=0.01)
    for one, true in zip(found, ("#5a6672", "#e8dcc0", "#d9825b"), strict=True):
        # One unit of difference is just noticeable; the mean of thousands of noisy pixels is nearer than two.
        assert float(ciede2000(lab(decoded(channels(one.colour))), lab(decoded(channels(true))))) < 2.0


def test_the_same_picture_gives_the_same_colours() -> None:
    assert colours_of(picture()) == colours_of(picture())


def test_the_order_of_rows_does_not_matter_to_the_shares() -> None:
    upside_down = colours_of(picture()[::-1])
    assert [one.share for one in upside_down] == pytest.approx([0.7, 0.2, 0.1], abs=0.01)


def test_one_flat_colour_is_one_colour() -> None:
    found = colours_of(np.full((20, 30, 3), 90, np.uint8))
    assert [(one.colour, one.share) for one in found] == [("#5a5a5a", 1.0)]


def test_no_picture_is_refused() -> None:
    with pytest.raises(ValueError, match="picture"):
        colours_of(np.zeros((0, 3, 3), np.uint8))


def test_a_colour_of_little_share_is_named_only_where_that_is_asked_for() -> None:
    rows = [*["#5a6672"] * 98, *["#d9825b"] * 2]
    flat = np.array([channels(row) for row in rows])[:, None, :].repeat(80, axis=1).astype(np.uint8)
    assert [one.colour for one in colours_of(flat)] == ["#5a6672"]
    assert [one.colour for one in colours_of(flat, 0.01)] == ["#5a6672", "#d9825b"]
