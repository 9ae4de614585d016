"""Picture files of every usual kind, and files that are no pictures."""

from __future__ import annotations

import ast
import os
import struct
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageOps

import jobs
from jobs.model.problems import Code
from jobs.prints.photographs import from_file
from jobs.prints.photographs.opening import open_photo
from jobs.prints.photographs.picture_file import MOST_SCANS
from jobs.prints.photographs.problems import NoPrint, PhotoCode, PhotoRefused

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
    assert [notice.code for notice in photo.notices] == [PhotoCode.FIRST_OF_SEVERAL]


def test_what_is_no_picture_is_refused(tmp_path):
    chance = np.random.default_rng(1)
    Image.fromarray(chance.integers(0, 256, (60, 80, 3), np.uint8)).save(tmp_path / "whole.png")
    whole = (tmp_path / "whole.png").read_bytes()
    (tmp_path / "torn.png").write_bytes(whole[: len(whole) // 2])
    (tmp_path / "empty.png").write_bytes(b"")
    (tmp_path / "words.png").write_text("not a picture")
    Image.new("1", (20000, 10000)).save(tmp_path / "bomb.png")
    Image.new("L", (9, 9)).save(tmp_path / "tiny.png")
    said = {
        "torn": PhotoCode.BROKEN_PICTURE,
        "empty": PhotoCode.EMPTY_PICTURE,
        "words": PhotoCode.NOT_A_PICTURE,
        "bomb": PhotoCode.TOO_MANY_PIXELS,
        "tiny": PhotoCode.TOO_SMALL_FOR_A_PRINT,
        "none": Code.NO_SUCH_FILE,
    }
    for name, code in said.items():
        assert refused(tmp_path / f"{name}.png") is code
    assert refused(tmp_path) is PhotoCode.FOLDER


def refused(path, most_pixels=10**6):
    with pytest.raises(PhotoRefused) as raised:
        open_photo(path, most_pixels)
    (problem,) = raised.value.problems
    return problem.code


EPS = b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 99 99\n%%EndComments\n{} loop\n"


@pytest.mark.parametrize("ending", ["jpg", "png", "eps"])
def test_what_another_program_would_be_run_for_is_no_picture_whatever_its_name(tmp_path, ending):
    (tmp_path / f"a.{ending}").write_bytes(EPS)
    assert refused(tmp_path / f"a.{ending}") is PhotoCode.NOT_A_PICTURE


@pytest.mark.parametrize("kind", ["GIF", "BMP", "PPM", "TGA", "ICO"])
def test_other_kinds_are_not_read_even_under_a_known_name(tmp_path, kind):
    Image.fromarray(ramp()).save(tmp_path / "a.png", format=kind)
    assert refused(tmp_path / "a.png") is PhotoCode.NOT_A_PICTURE


def test_a_known_kind_under_another_name_is_read(tmp_path):
    Image.fromarray(ramp()).save(tmp_path / "a.jpg", format="PNG")
    assert np.abs(open_photo(tmp_path / "a.jpg", 10**6).pixels * 255 - ramp()).max() < 0.01


def test_a_pipe_or_a_device_is_refused_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.jpg")
    assert refused(tmp_path / "pipe.jpg") is PhotoCode.PIPE
    assert refused(Path("/dev/zero")) is PhotoCode.PIPE


def test_a_file_of_many_gigabytes_is_refused_unread(tmp_path):
    with (tmp_path / "a.png").open("wb") as file:
        file.truncate((1 << 30) + 1)
    assert refused(tmp_path / "a.png") is PhotoCode.OVER_A_GIGABYTE


def test_a_webp_that_says_it_is_huge_is_refused_before_memory_is_set_aside_for_it(tmp_path):
    # RFC 9649, 2.7: a canvas of 16384 x 16384, sides less one in three bytes each.
    head = b"RIFF" + struct.pack("<I", 22) + b"WEBPVP8X" + struct.pack("<I", 10) + bytes(4) + b"\xff\x3f\x00" * 2
    (tmp_path / "a.webp").write_bytes(head)
    assert refused(tmp_path / "a.webp") is PhotoCode.TOO_MANY_FOR_WEBP


def test_a_webp_with_a_clear_part_has_the_size_that_its_first_chunk_says(tmp_path):
    # Lossy with a channel of its own for what is clear: the extended layout, whose next chunk begins behind the size.
    pixels = np.dstack([ramp(), ramp()[:, :, :1]])
    Image.fromarray(pixels).save(tmp_path / "a.webp", quality=80)
    head = (tmp_path / "a.webp").read_bytes()[:32]
    assert (head[12:16], head[30:]) == (b"VP8X", b"AL")
    assert tuple(open_photo(tmp_path / "a.webp", 10**6).size) == (80, 60)


def test_a_print_too_fine_for_the_whole_is_looked_for_in_the_middle_of_the_crop(monkeypatch):
    # Seen six times smaller and not found: again only three times smaller, in the middle third of each side.
    asked = []

    class Smaller:
        reduction = (6.0, 6.0)
        size = (4000, 3000)

    def opened(path, most_pixels, crop=None):
        asked.append(crop)
        return Smaller

    def found(photo, level):
        if len(asked) == 1:
            raise NoPrint(PhotoCode.NOT_A_PICTURE)
        return "the print"

    monkeypatch.setattr(from_file, "open_photo", opened)
    monkeypatch.setattr(from_file, "measure", found)
    assert from_file.measure_file(Path("a.png"), crop=(1000, 600, 3400, 2400)) == "the print"
    # Its middle is (2200, 1500); a third of its sides is 800 and 600.
    assert asked[1] == (1800, 1200, 2600, 1800)


def test_a_jpeg_of_very_many_layers_is_refused(tmp_path):
    Image.fromarray(ramp()).save(tmp_path / "a.jpg")
    whole = (tmp_path / "a.jpg").read_bytes()
    (tmp_path / "a.jpg").write_bytes(whole + b"\xff\xda" * MOST_SCANS)
    assert refused(tmp_path / "a.jpg") is PhotoCode.TOO_MANY_LAYERS


@pytest.mark.parametrize(("top", "white"), [(1.0, 1.0), (200.0, 255.0), (60000.0, 65535.0)])
def test_floats_are_read_by_what_their_brightest_can_stand_for(tmp_path, top, white):
    # The upper half is dark: a strip's own brightest would make it bright.
    floats = np.full((1200, 40), top / 10, np.float32)
    floats[600:] = top
    Image.fromarray(floats).save(tmp_path / "a.tif")
    pixels = open_photo(tmp_path / "a.tif", 10**6).pixels[..., 0]
    assert pixels[0, 0] == pytest.approx(top / 10 / white, abs=1e-6)
    assert pixels[-1, 0] == pytest.approx(top / white, abs=1e-6)


@pytest.mark.parametrize("wrong", [np.nan, np.inf])
def test_floats_that_are_no_brightness_are_refused(tmp_path, wrong):
    floats = np.full((60, 40), 0.5, np.float32)
    floats[30, 20] = wrong
    Image.fromarray(floats).save(tmp_path / "a.tif")
    assert refused(tmp_path / "a.tif") is PhotoCode.NO_BRIGHTNESS


def test_colours_of_sixteen_bits_are_read(tmp_path):
    # Pillow writes none: a TIFF 6.0 of 40 x 40, RGB, 16 bits each, one strip, red 40000, green 20000, blue 10000.
    pixels = struct.pack("<3H", 40000, 20000, 10000) * 1600
    entries = [(256, 3, 1, 40), (257, 3, 1, 40), (258, 3, 3, 134), (259, 3, 1, 1), (262, 3, 1, 2), (273, 4, 1, 140),
               (277, 3, 1, 3), (278, 3, 1, 40), (279, 4, 1, len(pixels))]  # fmt: skip
    table = b"".join(struct.pack("<HHII", *entry) for entry in entries)
    head = b"II*\0" + struct.pack("<IH", 8, len(entries)) + table + bytes(4)
    head = head.ljust(134, b"\0") + struct.pack("<3H", 16, 16, 16)
    (tmp_path / "a.tif").write_bytes(head + pixels)
    found = open_photo(tmp_path / "a.tif", 10**6).pixels
    assert np.abs(found[0, 0] - np.array([40000, 20000, 10000]) / 65535).max() < STEP


@pytest.mark.parametrize("turn", range(1, 9))
@pytest.mark.parametrize("ending", ["png", "jpg"])
def test_a_part_of_a_turned_and_reduced_picture_lies_where_it_says(tmp_path, turn, ending):
    # Red and green of the ramp tell the place: a quarter of each, plus the middle of a pixel.
    exif = Image.Exif()
    exif[0x0112] = turn
    y, x = np.mgrid[:203, :205]
    Image.fromarray(np.stack([x, y, x * 0], -1).astype(np.uint8)).save(tmp_path / f"a.{ending}", exif=exif, quality=98)
    with Image.open(tmp_path / f"a.{ending}") as image:
        upright = np.asarray(ImageOps.exif_transpose(image), float)
    photo = open_photo(tmp_path / f"a.{ending}", 2000, crop=(13, 30, 152, 151))
    assert photo.reduction[0] > 1
    high, wide = photo.pixels.shape[:2]
    for row, column in ((0, 0), (0, wide - 1), (high - 1, wide - 1)):
        left, top = np.array(photo.origin) + np.array([column, row]) * photo.reduction
        step = photo.reduction[0]
        mean = upright[round(top) : round(top + step), round(left) : round(left + step)].mean((0, 1))
        assert np.abs(photo.pixels[row, column] * 255 - mean).max() < (0.01 if ending == "png" else 4)


def test_no_library_writes_to_the_screen_about_a_spoilt_picture(tmp_path, capfd):
    chance = np.random.default_rng(3)
    Image.fromarray(ramp()).save(tmp_path / "a.tif", compression="tiff_lzw")
    Image.fromarray(ramp()).save(tmp_path / "a.jpg")
    for name in ("a.tif", "a.jpg"):
        whole = (tmp_path / name).read_bytes()
        for _ in range(60):
            spoilt = bytearray(whole)
            for at in chance.integers(3, len(whole), 4):
                spoilt[at] = chance.integers(256)
            (tmp_path / name).write_bytes(spoilt)
            try:
                open_photo(tmp_path / name, 10**6)
            except PhotoRefused:
                continue
    assert capfd.readouterr() == ("", "")


def test_pictures_are_opened_in_one_place_only():
    # Three more decode what the program itself has just drawn or lit.
    root = Path(jobs.__file__).parents[1]
    found = []
    for package in ("calibration", "jobs", "projector"):
        for path in sorted((root / package).rglob("*.py")):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                asked = isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "open"
                if asked and isinstance(node.func.value, ast.Name) and node.func.value.id == "Image":
                    found.append((path.relative_to(root).as_posix(), ast.unparse(node.args[0])))
    assert found == [
        ("jobs/prints/photographs/picture_file.py", "file"),
        ("projector/demo/virtual_camera.py", "io.BytesIO(jpeg_bytes(camera, table, taking))"),
        ("projector/page/work/taking.py", "frame"),
        ("projector/papers/png.py", "io.BytesIO(raster.png)"),
    ]
