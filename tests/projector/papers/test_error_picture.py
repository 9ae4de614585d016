"""The picture of the expected error: marks, contours and words, and nothing off the sheet."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calibration.advice import next_mark
from calibration.marks import Mark
from calibration.table import Table, fit_table
from calibration.uncertainty import Uncertainty
from projector.demo.virtual_projector import Hung, marks_of, projector_over
from projector.papers.drawing import Path, Words
from projector.papers.error_picture import DEPTH, TINTS, WIDTH, error_picture
from projector.papers.png import image_of
from projector.papers.svg import svg_text
from projector.words.measures import format_error

CROWDED = ((0, 0), (30, 0), (30, 26), (0, 26))


def table_of(*places: tuple[float, float]) -> Table:
    projector = projector_over(72, 60, Hung(tilt_deg=14, towards_deg=65, roll_deg=1.5))
    return replace(fit_table(marks_of(projector, places or CROWDED), 1920, 1080), date="2026-03-01")


def test_it_shows_the_worst_error_the_marks_and_where_one_more_would_help() -> None:
    table = table_of()
    advice = next_mark(table)
    said = [line.text for line in error_picture(table, (Mark((15, 13), (600, 700)),), advice).words]
    assert any(format_error(Uncertainty(table).worst().error_in) in line for line in said)
    assert {"1", "2", "3", "4", "check 1"} <= set(said)
    assert any(line.startswith("ring: one more mark here brings") for line in said)


def test_contours_are_labelled_with_their_level() -> None:
    said = {line.text for line in error_picture(table_of()).words}
    # Marks crowded in one part of the light: from about 1/8 in between them to more than an inch far from them.
    assert {"1/4 in", "1/2 in", "1 in"} <= said


def test_in_centimetre_jobs_it_speaks_of_millimetres() -> None:
    said = [line.text for line in error_picture(table_of(), unit="mm").words]
    assert any("mm or less" in line for line in said)
    assert not any(line.endswith(" in") for line in said)


@pytest.mark.parametrize("places", [CROWDED, ((0, 0), (72, 0), (72, 54), (0, 54), (36, 27))])
def test_nothing_is_drawn_off_the_sheet(places: tuple[tuple[float, float], ...]) -> None:
    drawing = error_picture(table_of(*places))
    for shape in drawing.shapes:
        points = shape.points if isinstance(shape, Path) else (shape.box[:2], shape.box[2:])
        assert all(-0.01 <= x <= WIDTH + 0.01 and -0.01 <= y <= DEPTH + 0.01 for x, y in points)


def test_worse_places_have_warmer_ground() -> None:
    table = table_of()
    drawing = error_picture(table)
    image = np.asarray(image_of(drawing, 60))
    colours = [tuple(int(tint[i : i + 2], 16) for i in (1, 3, 5)) for tint in TINTS]
    seen = [index for index, colour in enumerate(colours) if (image == colour).all(axis=2).any()]
    # Bands from 1/16 in (the fourth tint, the first warm one) to over 1 in: nowhere better than 1/16 with these marks.
    assert min(seen) == 3
    assert max(seen) == len(TINTS) - 1


def test_it_can_be_written_as_a_drawing_with_lines_and_letters() -> None:
    text = svg_text(error_picture(table_of()))
    assert text.count("<polyline") > 5
    assert "1/2 in" in text
    assert isinstance(error_picture(table_of()).words[0], Words)
