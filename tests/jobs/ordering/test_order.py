"""How much cloth. A figure from a published source names it beside the value."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.model.choices import Panels, Unit
from jobs.model.cuts import Way
from jobs.model.lengths import CENTIMETRE
from tests.jobs.made import MIRROR_DOWN, cloth, cut_list, job, ordered, whole_cuts, window
from tests.jobs.random_jobs import jobs, least_used, with_piece


def test_one_repeat_more_on_the_whole_order():
    # Figuring Pattern Repeats, DIY Ideas: raw cut 96, repeat 27: 108 a cut, one repeat more on the whole order.
    assert ordered(whole_cuts(cloth(27), [96])).handbook == 108 + 27
    assert ordered(whole_cuts(cloth(27), [96, 96, 96])).handbook == 3 * 108 + 27


def test_two_cuts_rounded_up_not_a_repeat_on_each():
    # Olde Worlde Lace, pattern repeat: raw 100, repeat 26, 2 cuts; rounding up 104 each, 208 in (computed).
    assert ordered(whole_cuts(cloth(26), [100, 100])).handbook == 208 + 26


def test_one_cut_is_bought_safely_with_one_repeat_more():
    # Common practice, no source: one cut of 90 and a 10 repeat, 100 buys it safely (V + L).
    assert ordered(whole_cuts(cloth(10), [90])).guaranteed == 100


def test_two_upright_cuts_of_58_on_a_repeat_of_11_1_4():
    # Common practice, no source: 4 yd is bought; handbook 6 repeats each, 135; guaranteed upright 136 3/4.
    found = ordered(whole_cuts(cloth("45/4", sold_by=Fraction(36)), [58, 58]))
    assert found.handbook == 135 + Fraction(45, 4)
    assert found.guaranteed == Fraction(547, 4)
    assert found.buy == 4 * 36


def test_one_of_two_turned_on_a_mirror_row_needs_less():
    # Common practice, no source: one of them turned (t = 0): 125 1/2 guaranteed, that is 3 1/2 yd.
    made = job(cloth("45/4", print=MIRROR_DOWN, sold_by=Fraction(9)), window("Bay", 58))
    found = ordered(made)
    assert [cut.way for cut in cut_list(made)] == [Way.UPRIGHT, Way.TURNED]
    assert found.guaranteed == Fraction(251, 2)
    assert found.buy == Fraction(7, 2) * 36


@pytest.mark.parametrize(("count", "length", "repeat"), [(1, 90, 10), (4, 90, 10), (3, 91, 10), (5, 58, "45/4")])
def test_equal_upright_cuts_follow_the_closed_form(count, length, repeat):
    # V + (n - 1) ceil(L / V) V + L, derived by hand: the first cut waits up to a repeat, the next ones whole repeats.
    along = Fraction(repeat)
    expected = along + (count - 1) * -(-length // along) * along + length
    assert ordered(whole_cuts(cloth(repeat), [length] * count)).guaranteed == expected


def test_plain_cloth_needs_the_sum_of_its_cuts():
    # Barkcloth Hawaii, measuring for drapes: 15.376 yd is bought as 15 1/2.
    length = Fraction(15376, 1000) * 36
    found = ordered(whole_cuts(cloth(sold_by=Fraction(18)), [length]))
    assert found.handbook == found.guaranteed == length
    assert found.buy == Fraction(31, 2) * 36


def test_where_it_is_not_said_cloth_is_sold_by_a_quarter_yard_or_ten_centimetres():
    inches, metric = (
        ordered(job(cloth(), window("Bay", 91, Panels.WHOLE), unit=unit)) for unit in (Unit.INCH, Unit.CENTIMETRE)
    )
    assert inches.buy == 99
    assert metric.buy == 240 * CENTIMETRE  # 91 in is 231.14 cm


def test_squaring_is_added_before_rounding_up():
    bay = window("Bay", 90, Panels.WHOLE)
    assert ordered(job(cloth(sold_by=Fraction(9)), bay)).buy == 90
    assert ordered(job(cloth(sold_by=Fraction(9)), bay, squaring=1)).buy == 99


@settings(max_examples=60)
@given(jobs(), st.fractions(0, 40, max_denominator=8))
def test_the_guaranteed_length_always_suffices(made, first_row):
    found = ordered(made)
    assert least_used(with_piece(made, 10_000, first_row)) <= found.guaranteed + made.allowances.squaring


@settings(max_examples=40)
@given(jobs())
def test_nothing_less_than_the_guaranteed_length_always_suffices(made):
    # Every length of these jobs is a multiple of 1/2, so the worst first rows lie just before multiples of 1/2.
    short_by = Fraction(1, 1000)
    repeat = made.cloth.repeat
    rows = (
        [Fraction(number, 2) - short_by for number in range(1, int(2 * repeat.along) + 1)] if repeat else [Fraction(0)]
    )
    worst = max(least_used(with_piece(made, 10_000, row)) for row in rows)
    assert worst == ordered(made).guaranteed + made.allowances.squaring - (short_by if repeat else 0)


@settings(max_examples=60)
@given(jobs(), st.randoms(use_true_random=False))
def test_the_order_of_the_windows_changes_no_quantity(made, random):
    windows = list(made.windows)
    random.shuffle(windows)
    first, second = ordered(made), ordered(replace(made, windows=tuple(windows)))
    assert (first.handbook, first.guaranteed, first.buy) == (second.handbook, second.guaranteed, second.buy)


@settings(max_examples=60)
@given(jobs(), st.integers(10, 60))
def test_one_more_window_never_lowers_the_order(made, finished):
    more = replace(made, windows=(*made.windows, window("One more", finished, Panels.WHOLE)))
    first, second = ordered(made), ordered(more)
    assert first.guaranteed <= second.guaranteed
    assert first.handbook <= second.handbook
    assert first.buy <= second.buy
