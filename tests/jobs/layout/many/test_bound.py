"""What no layout can beat."""

from jobs.layout.many.bound import best_lines, least_used
from jobs.layout.many.staircase import least_shared
from jobs.layout.placing import Shape, Strip
from tests.jobs.layout.many.houses import house_of


def strip(end, flaws=(), repeat=10, begin=0):
    return Strip(repeat, 0, begin, tuple(flaws), (), end)


def test_cuts_that_all_start_on_the_row_cover_whole_repeats_but_for_the_last():
    # Three cuts of 12 on a repeat of 10, all starting on a row: two rows each; six rows, the last at 50, end at 52.
    house = house_of([[Shape(12, 0)]] * 3, (strip(100),), [(0,)])
    assert best_lines(house).covered == (2,)
    assert least_used(house) == 52


def test_plain_cloth_needs_the_sum_and_the_squaring():
    house = house_of([[Shape(12, 0)]] * 3, (strip(100, repeat=0, begin=2),), [(0,)])
    assert least_used(house) == 38


def test_between_two_flaws_only_whole_cuts_count():
    # Cuts of 12: 30 before the flaw hold two, so the third ends at 31 + 12 at the earliest.
    house = house_of([[Shape(12, 0)]] * 3, (strip(100, [(30, 31)], repeat=0),), [(0,)])
    assert least_used(house) == 43


def test_a_second_strip_costs_its_squaring():
    house = house_of([[Shape(12, 0)]] * 4, (strip(30, repeat=0, begin=2), strip(30, repeat=0, begin=2)), [(0,), (1,)])
    assert least_used(house) == 52


def test_a_long_cut_that_starts_late_everywhere_is_a_bound_of_its_own():
    house = house_of([[Shape(20, 5)]], (strip(100, [(0, 3)]),), [(0,)])
    assert least_used(house) == 25


def test_one_staircase_is_read_exactly():
    # Runs of 3 lines at 5, 15, 25 and 2 lines at 40, 50.
    stair = [(1, 5), (3, 25), (4, 40), (5, 50)]
    assert [least_shared([stair], needed, 10) for needed in range(1, 6)] == [5, 15, 25, 40, 50]


def test_opening_a_second_strip_is_paid_whole_where_strips_are_few():
    # 4 lines of steps of 10: from the first 5 + 20 for three; the fourth opens the second strip at 12.
    first, second = [(1, 5), (3, 25)], [(1, 12), (9, 92)]
    assert least_shared([first, second], 4, 10) == 37
    assert least_shared([first, second], 9, 10) == min(12 + 80, 25 + 12 + 50)


def test_cuts_that_cover_no_line_bound_nothing():
    assert least_shared([[(1, 5), (3, 25)], [(1, 12), (9, 92)]], 0, 10) == 0
