"""What no layout can beat."""

from jobs.packing.bound import Corner, best_lines, least_shared, least_used, worth_using
from jobs.packing.rolls import Roll, Shape
from tests.jobs.packing.instances import instance_of


def roll(end, flaws=(), repeat=10, begin=0):
    return Roll(repeat, 0, begin, tuple(flaws), (), end)


def test_cuts_that_all_start_on_the_row_cover_whole_repeats_but_for_the_last():
    # Three cuts of 12 on a repeat of 10, all starting on a row: two rows each; six rows, the last at 50, end at 52.
    instance = instance_of([[Shape(12, 0)]] * 3, (roll(100),), [(0,)])
    assert best_lines(instance).covered == (2,)
    assert least_used(instance) == 52


def test_plain_cloth_needs_the_sum_and_the_squaring():
    instance = instance_of([[Shape(12, 0)]] * 3, (roll(100, repeat=0, begin=2),), [(0,)])
    assert least_used(instance) == 38


def test_between_two_flaws_only_whole_cuts_count():
    # Cuts of 12: 30 before the flaw hold two, so the third ends at 31 + 12 at the earliest.
    instance = instance_of([[Shape(12, 0)]] * 3, (roll(100, [(30, 31)], repeat=0),), [(0,)])
    assert least_used(instance) == 43


def test_between_two_flaws_there_must_be_room_for_the_shortest_cut_of_so_many_lines():
    # Cuts of 15 cover two rows each. From 13 to 32 lie the rows 20 and 30 and 19 of cloth, enough for one cut; the
    # other takes the rows 40 and 50 behind the flaw and ends 5 after them.
    cuts = instance_of([[Shape(15, 0)]] * 2, (roll(100, [(12, 13), (32, 33)], begin=1),), [(0,)])
    assert best_lines(cuts).covered == (2,)
    assert least_used(cuts) == 55
    # From 18 to 32 the same two rows, but 14 of cloth: both cuts lie behind it, the rows 40 to 70.
    narrow = instance_of([[Shape(15, 0)]] * 2, (roll(100, [(12, 18), (32, 33)], begin=1),), [(0,)])
    assert least_used(narrow) == 75


def test_cloth_behind_a_flaw_that_costs_more_than_another_roll_is_left_alone():
    # Plain cloth, 40 needed: 30 before the long flaw of the first roll and 20 on the second are enough.
    rolls = (roll(100, [(30, 60)], repeat=0), roll(20, repeat=0))
    assert worth_using(instance_of([[Shape(10, 0)]] * 4, rolls, [(0,), (1,)])) == {0: 30, 1: 20}


def test_a_second_roll_costs_its_squaring():
    instance = instance_of(
        [[Shape(12, 0)]] * 4, (roll(30, repeat=0, begin=2), roll(30, repeat=0, begin=2)), [(0,), (1,)]
    )
    assert least_used(instance) == 52


def test_a_long_cut_that_starts_late_everywhere_is_a_bound_of_its_own():
    instance = instance_of([[Shape(20, 5)]], (roll(100, [(0, 3)]),), [(0,)])
    assert least_used(instance) == 25


def test_one_staircase_is_read_exactly():
    # Runs of 3 lines at 5, 15, 25 and 2 lines at 40, 50.
    stair = [(1, 5), (3, 25), (4, 40), (5, 50)]
    assert [least_shared([stair], needed, 10) for needed in range(1, 6)] == [5, 15, 25, 40, 50]


def test_opening_a_second_roll_is_paid_whole_where_rolls_are_few():
    # 4 lines of steps of 10: from the first 5 + 20 for three; the fourth opens the second roll at 12.
    first, second = [Corner(1, 5), Corner(3, 25)], [Corner(1, 12), Corner(9, 92)]
    assert least_shared([first, second], 4, 10) == 37
    assert least_shared([first, second], 9, 10) == min(12 + 80, 25 + 12 + 50)


def test_cuts_that_cover_no_line_bound_nothing():
    assert least_shared([[Corner(1, 5), Corner(3, 25)], [Corner(1, 12), Corner(9, 92)]], 0, 10) == 0
