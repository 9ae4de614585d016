"""Looks: each kind of mark can be told without its colour."""

from itertools import combinations

import pytest

from projector.light.styles import STYLES, Style, recoloured
from projector.scene.marks import Kind

LETTERED_OR_FILLED = {Kind.LETTER, Kind.TOP, Kind.DONE, Kind.CROSSING, Kind.MATCH, Kind.FLAW, Kind.TARGET, Kind.PIN}
"""Kinds told by their shape: letters, chevrons, hatching, pluses, bars, zigzags, rings and ticks."""


def test_every_kind_has_a_look() -> None:
    assert set(STYLES) == set(Kind)


def test_kinds_of_line_are_told_apart_by_line_type_or_width_alone() -> None:
    lines = [kind for kind in Kind if kind not in LETTERED_OR_FILLED]
    for one, other in combinations(lines, 2):
        assert (STYLES[one].dashes_in, STYLES[one].width_in) != (STYLES[other].dashes_in, STYLES[other].width_in)
    assert len({STYLES[kind].dashes_in for kind in lines}) == len(lines)


def test_the_cut_line_is_the_widest_and_the_only_unbroken_line_of_its_width() -> None:
    cut = STYLES[Kind.CUT]
    assert cut.dashes_in == ()
    assert cut.width_in == max(look.width_in for look in STYLES.values())
    assert [kind for kind, look in STYLES.items() if look.width_in == cut.width_in and not look.dashes_in] == [Kind.CUT]
    assert STYLES[Kind.CUT_DOUBTFUL].dashes_in
    assert STYLES[Kind.CUT_DOUBTFUL].colour == cut.colour, "a doubtful cut line is as bright as any other"


def test_rows_and_columns_are_dots() -> None:
    for kind in (Kind.ROW, Kind.COLUMN):
        assert max(STYLES[kind].dashes_in[::2]) <= 2 * STYLES[kind].width_in


def test_other_colours_leave_the_line_type_alone() -> None:
    other = recoloured(STYLES, {Kind.CUT: 0x123456})
    assert other[Kind.CUT] == Style(STYLES[Kind.CUT].width_in, (), 0x123456)
    assert other[Kind.ROW] == STYLES[Kind.ROW]


@pytest.mark.parametrize("wrong", [(0.0, (), 0), (0.1, (1.0,), 0), (0.1, (1.0, 0.0), 0), (0.1, (), 0x1000000)])
def test_a_look_that_cannot_be_drawn_is_refused(wrong: tuple[float, tuple[float, ...], int]) -> None:
    with pytest.raises(ValueError):
        Style(*wrong)
