"""What cuts are called: a panel by hand and number, a thing that is one cut by its name alone."""

import pytest

from jobs.model.cuts import Hand, name_of_cut, which_cut


@pytest.mark.parametrize(
    ("hand", "number", "of", "which", "name"),
    [
        (Hand.LEFT, 1, 1, "left, 1 of 1", "Bay, left, 1 of 1"),
        (Hand.RIGHT, 2, 3, "right, 2 of 3", "Bay, right, 2 of 3"),
        (Hand.WHOLE, 1, 1, "", "Bay"),
        (Hand.WHOLE, 1, 2, "1 of 2", "Bay, 1 of 2"),
    ],
)
def test_a_whole_panel_is_called_by_its_number_where_it_has_several_cuts_and_else_by_its_name_alone(
    hand, number, of, which, name
):
    assert which_cut(hand, number, of) == which
    assert name_of_cut("Bay", hand, number, of) == name
