"""The code for a phone, laid on the table: upright for the person, square on the cloth, whatever the light's way."""

from dataclasses import replace

import numpy as np
import pytest

from calibration.table import Table, fit_table
from projector.demo.virtual_projector import marks_of
from projector.session.card import QUIET, SIDE_IN, lay_card, read_card
from tests.projector.session.tables import PLACES, projector_of, table_of

CARD = ("1010", "0110", "0001", "1000")


def mirrored() -> Table:
    """The same projector by way of a mirror: its frame is the other way round."""
    marks = marks_of(projector_of(1280, 800), PLACES)
    return fit_table([replace(one, pixel=(1280 - one.pixel[0], one.pixel[1])) for one in marks], 1280, 800)


def test_rows_are_read_as_they_are_sent_and_nothing_else_is():
    assert read_card("1010/0110/0001/1000") == CARD
    for wrong in ("", "101", "10/1", "1x/01", "/".join(["1" * 178] * 178)):
        assert read_card(wrong) == ()


@pytest.mark.parametrize("table", [table_of(1280, 800), table_of(640, 400), mirrored()], ids=["", "small", "mirrored"])
def test_each_square_lies_where_it_belongs_on_the_table(table):
    pixels = np.full((table.height_px, table.width_px), 0x123456, np.uint32)
    lay_card(pixels, CARD, table)
    # The middle of the frame is the middle of the code; it has 4 squares and 4 of light at each side.
    middle = table.to_table([[table.width_px / 2, table.height_px / 2]])[0]
    square = SIDE_IN / (len(CARD) + 2 * QUIET)
    for row in range(-QUIET, len(CARD) + QUIET):
        for column in range(-QUIET, len(CARD) + QUIET):
            at = middle + np.array([column + 0.5 - 2, 2 - row - 0.5]) * square
            u, v = np.floor(table.to_frame([at])[0]).astype(int)
            inside = 0 <= row < len(CARD) and 0 <= column < len(CARD)
            dark = inside and CARD[row][column] == "1"
            assert pixels[v, u] == (0 if dark else 0xFFFFFF), (row, column)
    assert pixels[0, 0] == 0x123456
