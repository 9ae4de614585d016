"""Prints of many kinds under light that is not even; five hundred are measured by tests/benchmarks/photo_prints.py."""

import numpy as np
import pytest

from jobs.prints.photographs.multiples import Multiple
from tests.benchmarks.photo_prints import outcome
from tests.jobs.prints.photographs.random_prints import KINDS, random_print


@pytest.mark.parametrize("kind", KINDS)
def test_a_print_in_light_that_falls_off_by_a_quarter_or_more_is_read_rightly_or_not_surely(kind):
    which, said = outcome(random_print(40 + KINDS.index(kind), kind=kind, light="falls off"))
    assert which != "wrong and sure", said


def difference(share: float, periods: float) -> Multiple:
    return Multiple(3, 30.0, share, np.diag([1.0, 3.0]), 1.0, periods)


def test_motifs_that_differ_hardly_more_than_a_camera_makes_leave_the_smaller_repeat():
    # Of six columns in light that falls off by a quarter, the third, ... seemed to differ by 5 % of the contrast.
    hardly, plainly = difference(0.05, 3.0), difference(0.15, 3.0)
    assert (hardly.sure, hardly.near) == (False, True)
    assert plainly.sure


def test_a_difference_that_comes_again_twice_only_must_be_more_than_light_makes():
    assert not difference(0.08, 2.0).sure
    assert difference(0.08, 3.0).sure
    assert difference(0.15, 2.0).sure
