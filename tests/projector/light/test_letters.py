"""Letters as outlines."""

import subprocess
import sys

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from projector.light.letters import font_path, missing, outline_of, text_width
from projector.light.raster.canvas import Canvas
from projector.light.raster.fills import Fill
from tests.projector.light.meter import NO_LINES, light_of

FINE = 8


def by_pillow(text: str, cap_px: float, width: int, height: int, left: float, baseline: int) -> np.ndarray:
    """Coverage of the same font drawn by Pillow eight times larger, where its rounding to whole pixels is small."""
    font = ImageFont.truetype(str(font_path()), FINE * cap_px / 0.729)  # the cap height of this font is 0.729 em
    image = Image.new("L", (width * FINE, height * FINE))
    ImageDraw.Draw(image).text((left * FINE, baseline * FINE), text, fill=255, font=font, anchor="ls")
    return np.asarray(image, np.float64).reshape(height, FINE, width, FINE).mean(axis=(1, 3)) / 255


def ours(text: str, cap_px: float, width: int, height: int, left: float, baseline: int) -> np.ndarray:
    outlines = outline_of(text)
    canvas = Canvas(width, height)
    points = np.array([left, baseline]) + outlines.points * np.array([cap_px, -cap_px])
    canvas.light(NO_LINES, [Fill(points, outlines.starts, 0xFFFFFF)])
    return light_of(canvas.frame)


def overlap(a: np.ndarray, b: np.ndarray) -> float:
    """Share of the light that both have in common."""
    return float(np.minimum(a, b).sum() / np.maximum(a, b).sum())


@pytest.mark.parametrize("letter", [*"TOPQRgj8&%@", "é", "½", "ß", "Ж"])
def test_each_letter_is_the_one_that_pillow_draws(letter: str) -> None:
    mine, theirs = ours(letter, 90, 200, 180, 30, 130), by_pillow(letter, 90, 200, 180, 30, 130)
    assert overlap(mine, theirs) > 0.98  # a fine pixel along the whole rim is some 2 % of a letter
    assert overlap(mine[:, ::-1], theirs) < 0.9 or letter in "TO8"


def test_top_reads_from_left_to_right() -> None:
    mine, theirs = ours("TOP", 60, 220, 100, 12, 80), by_pillow("TOP", 60, 220, 100, 12, 80)
    assert overlap(mine, theirs) > 0.95
    # Mirrored or upside down, T and O still cover most of themselves; P and the order do not.
    assert overlap(mine[:, ::-1], theirs) < 0.7
    assert overlap(mine[::-1], theirs) < 0.7


def test_letters_are_counted_in_cap_heights_from_the_baseline() -> None:
    outlines = outline_of("H")
    assert outlines.points[:, 1].min() == 0.0
    assert outlines.points[:, 1].max() == 1.0
    assert outline_of("g").points[:, 1].min() < -0.2
    # The font's own widths, from its file: H 722, T 611, O 778, P 667 of 1000, cap height 729.
    assert outlines.width == pytest.approx(722 / 729)
    assert text_width("TOP") == outline_of("TOP").width == pytest.approx((611 + 778 + 667) / 729)


def test_the_area_of_a_letter_does_not_depend_on_its_place_in_the_text() -> None:
    def area(points: np.ndarray) -> float:
        x, y = points.T
        return 0.5 * float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))

    both = outline_of("OP")
    parts = np.split(both.points, both.starts[1:])
    alone = [np.split(outline_of(letter).points, outline_of(letter).starts[1:]) for letter in "OP"]
    assert [area(part) for part in parts] == pytest.approx([area(part) for letter in alone for part in letter])
    assert list(both.glyphs) == [0, 0, 1, 1]


def test_letters_without_a_glyph_are_told_and_shown_as_an_open_box() -> None:
    assert missing("East bay, left, 1 of 2 é ½") == set()
    assert missing("窓 ⅜ a") == {"窓", "⅜"}
    box = ours("窓", 60, 100, 100, 20, 80)
    assert box[50, 28] == 1  # its left side
    assert box[50, 50] == 0  # open inside
    assert text_width("窓") == pytest.approx(0.9)


def test_accents_typed_apart_and_odd_spaces_are_no_stumbling_block() -> None:
    assert np.array_equal(outline_of("e\u0301").points, outline_of("é").points)
    assert missing("a\u00a0b\tc\u2009d") == set()
    assert outline_of("a\u2009b").width == outline_of("a b").width
    assert len(outline_of("").points) == 0
    assert outline_of("  ").width > 0


def test_reading_letters_does_not_load_the_window_library() -> None:
    code = (
        "import sys; from projector.light.letters import outline_of; outline_of('TOP'); print('pygame' in sys.modules)"
    )
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert shown.strip() == "False"
