"""Rows at one height above the floor, whatever the tops and feet of the windows."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.cutting.rows import unlevel_rooms
from jobs.model.choices import Panels
from jobs.model.problems import Code
from jobs.model.window import RowRule, Window
from tests.jobs.made import above_foot, below_top, cloth, cut_list, job, window
from tests.jobs.refused import refused

F = Fraction


def level_with(name: str) -> RowRule:
    return RowRule(level_with=name)


def bay(name: str, finished: int | Fraction, top: int | Fraction | None, row: RowRule | None, **more) -> Window:
    height = None if top is None else F(top)
    return window(name, finished, Panels.WHOLE, top_height=height, row=row, **more)


def heights(made, cut, top: Fraction) -> set[Fraction]:
    """Heights of the rows above the floor, as they hang, modulo the repeat as it hangs."""
    grown = 1 - made.cloth.shrinkage
    return {(top - (cut.row - cut.heading) * grown) % (made.cloth.repeat.along * grown)}


def test_the_row_of_a_lower_window_is_that_much_nearer_its_top():
    # Top at 86, row 6 1/2 below it: the row stands at 79 1/2. In a window whose top is at 80 that is 1/2 below.
    made = job(cloth(12), bay("River", 58, 86, below_top("13/2")), bay("Wheel", 49, 80, level_with("River")), heading=4)
    assert [cut.row for cut in cut_list(made)] == [F(21, 2), F(9, 2)]


def test_a_higher_window_and_a_row_measured_from_the_foot():
    # Foot of River at 86 - 58 = 28, row 3 above it: at 31. Top at 100: 69 below, 9 of it after whole repeats.
    made = job(cloth(12), bay("River", 58, 86, above_foot(3)), bay("Attic", 40, 100, level_with("river")))
    assert [cut.row for cut in cut_list(made)] == [F(55 % 12), F(9)]


@settings(max_examples=100)
@given(
    st.lists(st.tuples(st.integers(20, 90), st.integers(60, 130)), min_size=2, max_size=5),
    st.fractions(0, 20, max_denominator=8),
    st.booleans(),
    st.sampled_from([F(0), F(3, 100)]),
    st.fractions(3, 30, max_denominator=4),
)
def test_all_rows_of_a_room_hang_at_one_height(windows, distance, from_foot, shrinkage, repeat):
    rule = above_foot(distance) if from_foot else below_top(distance)
    bays = [bay("0", *windows[0], rule)]
    # Each is level with the one before it: a chain as long as the room.
    bays += [bay(str(n), *size, level_with(str(n - 1))) for n, size in enumerate(windows[1:], 1)]
    made = job(cloth(repeat, shrinkage=shrinkage), *bays, heading="9/2", hem=8)
    found = [heights(made, cut, F(one[1])) for cut, one in zip(cut_list(made), windows, strict=True)]
    assert found == [found[0]] * len(windows)
    first, (finished, top) = cut_list(made)[0], windows[0]
    asked = F(top) - (F(finished) - distance if from_foot else distance)
    assert heights(made, first, F(top)) == {asked % (repeat * (1 - shrinkage))}


def test_the_order_of_the_windows_changes_no_row():
    windows = [
        bay("A", 58, 86, below_top(3)),
        bay("B", 49, 80, level_with("C")),
        bay("C", 70, 95, level_with("A")),
    ]
    one, other = (
        {cut.window: cut.row for cut in cut_list(job(cloth(11), *order))} for order in (windows, windows[::-1])
    )
    assert one == other


def test_windows_level_in_a_circle_are_refused_with_both_names():
    a, b = bay("A", 58, 86, level_with("B")), bay("B", 49, 80, level_with("A"))
    with refused(Code.LEVEL_IN_A_CIRCLE) as problems:
        cut_list(job(cloth(11), a, b))
    assert [(problem.path[1], problem.value("name")) for problem in problems] == [(0, "B"), (1, "A")]


def test_a_height_that_is_not_known_is_refused_with_both_names():
    a, b = bay("A", 58, None, below_top(2)), bay("B", 49, 80, level_with("A"))
    with refused(Code.HEIGHT_NOT_KNOWN) as problems:
        cut_list(job(cloth(11), a, b))
    assert [(problem.path[1], problem.value("name")) for problem in problems] == [(1, "A")]


def test_a_window_that_is_not_there_cannot_be_level():
    with refused(Code.NO_SUCH_WINDOW):
        cut_list(job(cloth(11), bay("A", 58, 86, level_with("Z"))))


def test_plain_cloth_has_no_rows_to_level():
    cuts = cut_list(job(cloth(), bay("A", 58, 86, level_with("B")), bay("B", 58, 86, level_with("A"))))
    assert [cut.row for cut in cuts] == [None, None]


def test_the_whole_motif_may_stand_at_the_foot():
    # J. W. Stephenson, Cutting and Draping, 1905 (Gutenberg 70586): the whole motif belongs at the foot. Two lengths,
    # one rule: from each finished foot up the print is the same.
    made = job(cloth(13), bay("A", 58, None, above_foot(0)), bay("B", 71, None, above_foot(0)), heading=4, hem=8)
    assert [(cut.length - cut.hem - cut.row) % 13 for cut in cut_list(made)] == [0, 0]


def room(window: Window, name: str = "Hall") -> Window:
    return replace(window, room=name)


def test_rows_of_one_room_that_hang_unlevel_are_said_with_two_ways_to_mend_it():
    # A: a row 5 below 90, at 85. B: its foot at 40, a row at 43: 42 lower, half a repeat of 12 out of level.
    hall = [
        room(bay("A", 50, 90, below_top(5))),
        room(bay("B", 52, 92, above_foot(3))),
        room(bay("C", 52, 92, level_with("A"))),
        bay("D", 52, 93, below_top(5)),
    ]
    (said,) = unlevel_rooms(job(cloth(12), *hall))
    assert said.path[:2] == ("windows", 1)
    names = ("room", "other", "window", "off", "key_name", "value")
    assert [said.value(name) for name in names] == ["Hall", "A", "B", 6, "above_foot", 9]
    # Both ways mend it.
    for rule in (level_with("A"), above_foot(9)):
        assert list(unlevel_rooms(job(cloth(12), hall[0], replace(hall[1], row=rule), *hall[2:]))) == []


def test_rows_that_meet_after_whole_repeats_of_the_shrunk_cloth_are_level():
    # A repeat of 12 hangs as 11.4 when 5 % is lost: 85 and 85 - 5 x 11.4 = 28 are level, 85 and 25 are not.
    lost = cloth(12, shrinkage=Fraction(5, 100))
    first, level = room(bay("A", 50, 90, below_top(5))), room(bay("B", 60, 80, below_top(52)))
    assert list(unlevel_rooms(job(lost, first, level))) == []
    assert len(list(unlevel_rooms(job(lost, first, replace(level, row=below_top(55)))))) == 1


def test_windows_of_two_rooms_and_heights_that_are_not_known_are_left_alone():
    a, b = room(bay("A", 50, 90, below_top(5))), bay("B", 50, 91, below_top(5))
    for other in (b, room(b, "Attic"), room(replace(b, top_height=None))):
        assert list(unlevel_rooms(job(cloth(12), a, other))) == []
