"""Jobs that are too short or too large: answered with little work, and told so."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.resolve import resolve
from jobs.model.choices import Panels
from jobs.model.job import CuttingTable
from jobs.model.piece import Piece
from jobs.model.problems import Code
from jobs.packing import solve as solving
from jobs.packing.pack import MOST_FROM_SEVERAL
from jobs.planning.planner import fits, plan_job
from jobs.planning.remedies import remedies
from jobs.planning.stops import MOST_STOPS
from tests.jobs.made import below_top, cloth, job, whole_cuts, window
from tests.jobs.packing.checker import faults_of
from tests.jobs.packing.random_houses import random_job
from tests.jobs.refused import refused


def _house(windows, *pieces):
    of = cloth(18, pieces=tuple(Piece(Fraction(length), Fraction(3)) for length in pieces))
    made = [window(f"Bay {n}", 60 + Fraction(n % 97, 2), Panels.WHOLE, row=below_top(n % 12)) for n in range(windows)]
    return job(of, *made, squaring=1)


def test_three_thousand_windows_on_one_piece_are_planned_and_proved():
    plan = plan_job(_house(3000, 400_000))
    assert len(plan.placements) == 3000
    assert plan.proved_shortest


def test_more_cuts_from_several_pieces_than_can_be_packed_are_refused_with_the_most():
    with refused(Code.TOO_MANY_FROM_SEVERAL) as problems:
        plan_job(_house(MOST_FROM_SEVERAL + 1, 400_000, 400_000))
    assert [problems[0].value(name) for name in ("cuts", "pieces", "most")] == [4_001, 2, 4_000]


def test_a_table_that_takes_too_many_pulls_is_refused_with_the_most():
    # 300 cuts of 100 in on a table of 1 in: the first look and 99 pulls each.
    made = replace(whole_cuts(cloth(), [100] * 300), table=CuttingTable(Fraction(1), Fraction(60)))
    with refused(Code.TOO_MANY_STOPS) as problems:
        plan_job(made)
    assert [problems[0].value(name) for name in ("stops", "most")] == [30_000, 20_000]
    few = replace(whole_cuts(cloth(), [100] * 100), table=CuttingTable(Fraction(1), Fraction(60)))
    assert 10_000 <= len(plan_job(few).stops) <= MOST_STOPS


@pytest.fixture
def walked(monkeypatch):
    """The steps of every walk taken."""
    steps = []
    real = solving.anneal
    monkeypatch.setattr(
        solving,
        "anneal",
        lambda instance, layout, most, watch: (steps.append(most), real(instance, layout, most, watch)),
    )
    return steps


def test_remedies_of_a_house_that_is_too_short_are_searched_for_with_little_work(walked):
    # Eight windows on three pieces that hold eight tenths of what they need.
    made = random_job(5)
    short = plan_job(made).short
    assert short > 0
    walked.clear()
    found = remedies(resolve(made), short)
    assert found
    assert sum(walked) < 40 * 3_000
    assert all(plan_job(remedy.job).short == 0 for remedy in found)


def test_cloth_that_surely_does_not_suffice_is_not_searched_for_room(walked):
    made = _house(20, 500, 400)
    assert not fits(resolve(made))
    assert walked == []
    assert plan_job(made).short > 0


def test_no_remedy_is_tried_for_a_job_of_very_many_cuts(walked):
    assert remedies(resolve(_house(500, 9_000)), Fraction(1)) == ()
    assert walked == []


@pytest.mark.parametrize("seed", [5, 28, 31, 44])
def test_what_fits_with_little_work_fits_with_more(seed):
    made = random_job(seed)
    if fits(resolve(made)):
        plan = plan_job(made)
        assert (plan.short, faults_of(plan)) == (0, [])


def test_a_search_interrupted_before_it_knows_whether_all_fits_says_so(monkeypatch):
    def interrupted(*_):
        raise KeyboardInterrupt

    made = random_job(5)
    monkeypatch.setattr(solving, "exact_layout", interrupted)
    plan = plan_job(made)
    assert plan.stopped
    assert plan.short > 0
    with pytest.raises(KeyboardInterrupt):
        fits(resolve(made))
