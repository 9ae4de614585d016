"""Several measurements of one print made one."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from jobs.model.choices import Symmetry
from jobs.prints.photographs.combining import About, Disagreement, Sized, combined
from jobs.prints.photographs.finding import largest_rectangle

ONE = Sized(12.0, 0.01, 9.0, 0.02, 0.5, 0.001, (Symmetry.MIRROR, Symmetry.NONE, False), 0.8)


def test_two_equally_sure_ones_meet_in_the_middle_and_are_surer():
    both = combined([ONE, replace(ONE, along_in=12.01, confidence=0.9)])
    assert both.sized.along_in == pytest.approx(12.005)
    # One standard error over root 2, as for any mean of two.
    assert both.sized.along_error_in == pytest.approx(0.01 / 2**0.5)
    assert both.best == 1
    assert both.disagreements == ()


def test_the_surer_one_weighs_more():
    both = combined([ONE, replace(ONE, along_in=12.03, along_error_in=0.02)])
    # Weights 10,000 and 2,500: 12 + 0.03 / 5.
    assert both.sized.along_in == pytest.approx(12.006)


def test_what_disagrees_is_said_and_the_uncertainty_grows():
    both = combined([ONE, replace(ONE, along_in=12.5), replace(ONE, drop=0.0, symmetry=(Symmetry.NONE,) * 2 + (True,))])
    assert both.sized.along_error_in > 0.05
    assert Disagreement(About.ALONG, 2, 12.5) in both.disagreements
    assert Disagreement(About.DROP, 3, 0.0, 1, 0.5) in both.disagreements
    assert Disagreement(About.MIRRORS, 3, best=1) in both.disagreements


def test_the_stated_uncertainty_holds_for_nineteen_in_twenty():
    chance = np.random.default_rng(8)
    off = []
    for _ in range(400):
        doubts = chance.uniform(0.005, 0.05, 3)
        seen = [replace(ONE, along_in=12 + chance.normal(0, d), along_error_in=d) for d in doubts]
        both = combined(seen).sized
        off.append(abs(both.along_in - 12) / both.along_error_in)
    # 400 trials: 0.954 give or take 0.02.
    assert 0.93 < (np.array(off) < 2).mean() < 0.99


def test_nothing_cannot_be_combined():
    with pytest.raises(ValueError, match="nothing"):
        combined([])


def test_the_largest_rectangle_is_found_beside_holes():
    mask = np.ones((6, 9), bool)
    mask[2, 3] = mask[5, 8] = False
    # Columns 4 to 8, rows 0 to 5: 25; rows 3 to 5 and columns 0 to 8: 24; columns 4 to 8 without the last row: 25.
    left, top, right, bottom = largest_rectangle(mask)
    assert mask[top:bottom, left:right].all()
    assert (right - left) * (bottom - top) == 25
    assert largest_rectangle(np.zeros((3, 3), bool)) == (0, 0, 0, 0)
