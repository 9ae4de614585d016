"""What the cut lines follow, and how much bow and skew was agreed."""

from fractions import Fraction

import pytest

from jobs.io.reader import parse_job
from jobs.model.choices import Follow
from jobs.model.job import Limits
from jobs.model.problems import Code
from tests.jobs.io.texts import only_problem_of

PATTERNED = """
job: Lock-keeper's porch
units: in
cloth: {width: 54, repeat: {along: 12, across: 13}}
windows: [{name: Porch, panels: pair, hang: same, finished_length: 70}]
"""
PLAIN = PATTERNED.replace(", repeat: {along: 12, across: 13}", "")


def test_patterned_cloth_is_cut_on_the_print_and_plain_cloth_by_the_selvedge():
    assert parse_job(PATTERNED, "porch").cloth.follow is Follow.PRINT
    assert parse_job(PLAIN, "porch").cloth.follow is Follow.SELVEDGE


def test_patterned_cloth_may_be_cut_square():
    text = PATTERNED.replace("{width: 54", "{follow: selvedge, width: 54")
    assert parse_job(text, "porch").cloth.follow is Follow.SELVEDGE


def test_plain_cloth_has_no_print_to_follow():
    assert only_problem_of(PLAIN.replace("{width: 54", "{follow: print, width: 54")).code is Code.NO_PRINT_TO_FOLLOW


def test_two_percent_of_each_is_taken_when_nothing_was_agreed():
    assert parse_job(PATTERNED, "porch").limits == Limits(Fraction(1, 50), Fraction(1, 50))


def test_agreed_limits_are_read_as_shares():
    limits = parse_job(PATTERNED + "limits: {bow: 1 1/2 %, skew: 0 %}\n", "porch").limits
    assert limits == Limits(Fraction(3, 200), Fraction(0))


@pytest.mark.parametrize("written", ["{bow: 2}", "{bow: -1 %}", "{depth: 2 %}", "2 %"])
def test_a_limit_that_is_no_share_is_refused(written):
    assert only_problem_of(PATTERNED + f"limits: {written}\n").path[0] == "limits"
