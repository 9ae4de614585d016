"""Drawings as data, and what the SVG and PNG writers make of them."""

import xml.etree.ElementTree as ElementTree

import numpy as np
import pytest

from projector.papers.drawing import Anchor, Drawing, Path, Words, clipped, rectangle, zigzag
from projector.papers.png import image_of
from projector.papers.svg import svg_text

SVG = "{http://www.w3.org/2000/svg}"
HALF_PIXEL_IN = 0.5 / 100


def test_svg_holds_real_text_escaped():
    drawing = Drawing(4, 2, (Words('<Nook> & "stair"', (1, 1), 0.1),), title="a < b")
    root = ElementTree.fromstring(svg_text(drawing))
    assert [node.text for node in root.iter(f"{SVG}text")] == ['<Nook> & "stair"']
    assert root.find(f"{SVG}title").text == "a < b"
    assert root.get("viewBox") == "0 0 4 2"
    assert root.get("width") == "4in"


def test_characters_that_xml_forbids_do_not_break_the_file():
    root = ElementTree.fromstring(svg_text(Drawing(4, 2, (Words("a\x00b\x0bc\ud800", (1, 1), 0.1),))))
    assert root.find(f"{SVG}text").text == "a\ufffdb\ufffdc\ufffd"


@pytest.mark.parametrize("anchor", list(Anchor))
@pytest.mark.parametrize("upwards", [False, True])
def test_letters_in_the_png_stand_where_their_box_says(anchor, upwards):
    words = Words("HIGH", (1.5, 1.5), 0.3, "#000000", anchor, upwards)
    dark = np.argwhere(np.asarray(image_of(Drawing(3, 3, (words,)), 100).convert("L")) < 128)
    (top, left), (bottom, right) = dark.min(axis=0) / 100, (dark.max(axis=0) + 1) / 100
    box = words.box
    bearing = 0.04  # the first letter starts, and the last ends, a little inside its advance
    slack = bearing + HALF_PIXEL_IN
    ends = (top, bottom) if upwards else (left, right)
    assert ends == pytest.approx((box[1], box[3]) if upwards else (box[0], box[2]), abs=slack)
    caps = (left, right) if upwards else (top, bottom)
    assert caps == pytest.approx((1.35, 1.65), abs=0.012)  # a pixel, and the overshoot of round letters


def test_a_filled_rectangle_is_as_large_as_it_says():
    drawing = Drawing(3, 2, (Path(rectangle(0.5, 0.25, 2.5, 1.75), fill="#000000", closed=True),), paper="#ffffff")
    dark = 255 - np.asarray(image_of(drawing, 100).convert("L")).astype(float)
    assert dark.sum() / 255 / 100**2 == pytest.approx(3.0, abs=0.05)  # edges to a third of a pixel


def test_dashes_leave_gaps():
    line = Path(((0.5, 1.0), (2.5, 1.0)), "#000000", 0.05, dash=(0.3, 0.2))
    dark = np.asarray(image_of(Drawing(3, 2, (line,)), 100).convert("L"))[100] < 128
    assert np.count_nonzero(np.diff(dark.astype(int)) == 1) == 4


def test_a_zigzag_is_closed_around_its_rectangle():
    xs, ys = zip(*zigzag(1, 1, 3, 2, 0.2), strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((0.9, 3.1, 0.9, 2.1))


def test_clipping_keeps_the_part_inside():
    assert set(clipped(((0, 0), (4, 0), (4, 4), (0, 4)), 1, 1, 3, 9)) == {(1, 1), (3, 1), (3, 4), (1, 4)}
    assert clipped(((0, 0), (1, 0), (0, 1)), 5, 5, 6, 6) == ()
