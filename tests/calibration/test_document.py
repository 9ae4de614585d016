"""The figures in the document on calibration are the program's own."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np

from calibration.advice import first_targets, lens_uncertainty, next_mark
from calibration.table import fit_table
from calibration.uncertainty import Uncertainty
from projector.words.findings import format_spot
from projector.words.measures import format_error
from tests.calibration.rigs import HEIGHT_PX, WIDTH_PX, marks_at

TEXT = (Path(__file__).parents[2] / "docs" / "calibration.md").read_text(encoding="utf-8")
SQUARE_ON = np.array([[20.0, 0, 0], [0, -20, 1080], [0, 0, 1]])  # 96 x 54 in lit by 1920 x 1080


def spread(count: int) -> Uncertainty:
    """The light of the document with ``count`` marks near corners, at mid-edges, in the middle."""
    marks = marks_at(SQUARE_ON, first_targets(WIDTH_PX, HEIGHT_PX, count))
    return Uncertainty(fit_table(marks, WIDTH_PX, HEIGHT_PX))


def test_the_table_of_expected_errors_is_what_the_program_says() -> None:
    rows = re.findall(r"^\| (\d) \| (.+?) \| (.+?) \| (.+?) \| (.+?) \|$", TEXT, re.MULTILINE)
    assert [int(row[0]) for row in rows] == [4, 5, 6, 8, 9]
    for count, *figures in rows:
        made = spread(int(count))
        doubt = lens_uncertainty(made)
        assert doubt is not None
        found = made.everywhere_in(), made.worst().error_in, float(made.error_in([(48, 27)])[0]), doubt.error_in
        assert [format_error(value) for value in found] == figures


def test_the_advice_in_the_document_is_what_the_program_gives() -> None:
    marks = marks_at(SQUARE_ON, np.array([(150.0, 950), (900, 950), (900, 130), (150, 130)]))
    advice = next_mark(fit_table(marks, WIDTH_PX, HEIGHT_PX))
    assert advice is not None
    before, after = format_error(advice.before_in), format_error(advice.after_in)
    where = format_spot(advice.at_in, [(0, 0), (96, 0), (96, 54), (0, 54)])
    text = " ".join(TEXT.split())
    assert f"leave {before}; one more mark {where} brings that to {after}." in text


def whole(count: int, tolerance_in: float = 1 / 16) -> float:
    """The share of cut lines, along and across the light of the document, that are lit whole."""
    made = spread(count)
    lines = [made.along_line((x, 2.0), (x, 52.0)) for x in (3.0, 25.0, 48.0, 70.0, 93.0)]
    lines += [made.along_line((2.0, y), (94.0, y)) for y in (2.0, 15.0, 27.0, 50.0)]
    return float(np.mean([line.across_in <= tolerance_in for line in lines]))


def test_the_lines_lit_whole_are_as_many_as_the_document_says() -> None:
    assert (whole(4), whole(8), whole(9)) == (0, 1, 1)
    assert whole(5) < 0.2
    assert 0.4 < whole(6) < 0.6
    assert whole(5, 1 / 8) > 0.8
