"""Picture files of every usual kind, and files that are no pictures."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image

from jobs.photo.opening import open_photo
from jobs.photo.refusals import PhotoRefused

STEP = 2 / 255
"""A level and a half of eight bits."""


def ramp(wide=80, high=60):
    y, x = np.mgrid[:high, :wide]
    return np.stack([x * 3, y * 4, x + y], -1).astype(np.uint8)


@pytest.mark.parametrize("ending", ["png", "tif", "webp"])
def test_lossless_kinds_give_the_pixels_of_the_file(tmp_path, ending):
    Image.fromarray(ramp()).save(tmp_path / f"a.{ending}", lossless=True)
    photo = open_photo(tmp_path / f"a.{ending}", 10**6)
    assert photo.size == (80, 60)
    assert np.abs(photo.pixels * 255 - ramp()).max() < 0.01


@pytest.mark.parametrize("turn", range(1, 9))
def test_a_turned_photograph_is_put_upright(tmp_path, turn):
    from PIL import ImageOps

    exif = Image.Exif()
    exif[0x0112] = turn
    Image.fromarray(ramp()).save(tmp_path / "a.png", exif=exif)
    wanted = np.asarray(ImageOps.exif_transpose(Image.open(tmp_path / "a.png")))
    photo = open_photo(tmp_path / "a.png", 10**6)
    assert photo.size == wanted.shape[1::-1]
    assert np.abs(photo.pixels * 255 - wanted).max() < 0.01


@pytest.mark.parametrize("mode", ["L", "P", "CMYK", "RGBA", "LA", "1"])
def test_other_modes_are_read_as_colour(tmp_path, mode):
    image = Image.fromarray(ramp()).convert(mode)
    image.save(tmp_path / "a.tif" if mode == "CMYK" else tmp_path / "a.png")
    photo = open_photo(tmp_path / ("a.tif" if mode == "CMYK" else "a.png"), 10**6)
    assert np.abs(photo.pixels - np.asarray(image.convert("RGB"), float) / 255).max() < STEP


def test_sixteen_bits_keep_their_tones(tmp_path):
    deep = (np.mgrid[:40, :50][1] * 1300).astype(np.uint16)
    Image.fromarray(deep).save(tmp_path / "a.png")
    assert np.abs(open_photo(tmp_path / "a.png", 10**6).pixels[..., 0] - deep / 65535).max() < 1e-5


def test_a_reduced_picture_keeps_its_places(tmp_path):
    Image.fromarray(ramp(84, 64)).save(tmp_path / "a.png")
    photo = open_photo(tmp_path / "a.png", 84 * 64 // 4)
    assert photo.reduction == (2.0, 2.0)
    assert photo.pixels[5, 7, 0] * 255 == pytest.approx(14.5 * 3, abs=0.01)


def test_of_several_pictures_the_first_is_taken_and_said(tmp_path):
    frames = [Image.fromarray(ramp()), Image.fromarray(ramp()[::-1].copy())]
    frames[0].save(tmp_path / "a.png", save_all=True, append_images=frames[1:])
    photo = open_photo(tmp_path / "a.png", 10**6)
    assert np.abs(photo.pixels * 255 - ramp()).max() < 0.01
    assert "only the first" in photo.notices[0]


def test_what_is_no_picture_is_refused_in_words(tmp_path):
    chance = np.random.default_rng(1)
    Image.fromarray(chance.integers(0, 256, (60, 80, 3), np.uint8)).save(tmp_path / "whole.png")
    whole = (tmp_path / "whole.png").read_bytes()
    (tmp_path / "torn.png").write_bytes(whole[: len(whole) // 2])
    (tmp_path / "empty.png").write_bytes(b"")
    (tmp_path / "words.png").write_text("not a picture")
    Image.new("1", (20000, 10000)).save(tmp_path / "bomb.png")
    Image.new("L", (9, 9)).save(tmp_path / "tiny.png")
    said = {
        "torn": "broken",
        "empty": "not a picture",
        "words": "not a picture",
        "bomb": "100 million",
        "tiny": "small",
    }
    for name, words in said.items():
        with pytest.raises(PhotoRefused, match=words):
            open_photo(tmp_path / f"{name}.png", 10**6)
    with pytest.raises(PhotoRefused, match="no such file"):
        open_photo(tmp_path / "none.png", 10**6)
    with pytest.raises(PhotoRefused, match="folder"):
        open_photo(tmp_path, 10**6)
