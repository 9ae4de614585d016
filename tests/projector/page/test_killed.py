"""Killed while somebody types or cuts, the program loses nothing: a few kills here, many in the benchmark."""

import pytest

from tests.benchmarks.page_kills import killed_while_cutting, killed_while_typing

# Newer versions of Python warn of a fork beside threads; what is forked here starts its own loop and uses no other.
pytestmark = pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")


def test_no_value_that_was_answered_is_lost_when_the_program_is_killed(tmp_path):
    found = killed_while_typing(tmp_path, 5)
    assert (found.kills, found.lost) == (5, ())
    assert found.answers > 0


def test_no_press_that_was_answered_is_lost_when_the_program_is_killed(tmp_path):
    found = killed_while_cutting(tmp_path, 4)
    assert (found.kills, found.lost) == (4, ())
