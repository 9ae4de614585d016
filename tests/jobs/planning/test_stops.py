from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.model.choices import Panels, Unit
from jobs.model.lengths import CENTIMETRE, show_length
from jobs.model.problems import Code
from jobs.planning.planner import plan_job
from jobs.planning.stops import pull_said
from tests.jobs.made import below_top, cloth, job, window
from tests.jobs.random_jobs import jobs, with_piece
from tests.jobs.refused import refused


def stops_of(repeat, length, table, first_row=0, piece=600, **more):
    made = job(cloth(repeat), window("Bay", length, Panels.WHOLE), squaring=10, **more)
    return plan_job(with_piece(made, piece, Fraction(first_row)), table and Fraction(table)).stops


def test_a_cut_that_fits_is_one_stop_with_a_margin_before_it():
    (stop,) = stops_of(None, 90, 120)
    assert (stop.cloth_at_left, stop.lit_from, stop.lit_to) == (7, 7, 127)
    assert (stop.number, stop.pull, stop.shows) == (1, 0, ("top", "foot"))


def test_a_cut_as_long_as_the_table_is_still_one_stop():
    (stop,) = stops_of(None, 120, 120)
    assert (stop.cloth_at_left, stop.lit_to) == (10, 130)
    assert stop.shows == ("top", "foot")


def test_a_margin_shrinks_where_the_table_leaves_little():
    (stop,) = stops_of(None, 118, 120)
    assert stop.cloth_at_left == 9


def test_a_longer_cut_is_pulled_by_whole_repeats():
    # 57 in leave room for 3 repeats of 18 3/4 (56 1/4) beside the margin of 3; the cut ends at 18 3/4 + 150.
    found = stops_of("75/4", 150, 60)
    assert [stop.pull for stop in found] == [0, 1, 2]
    assert [later.cloth_at_left - sooner.cloth_at_left for sooner, later in pairwise(found)] == [Fraction(225, 4)] * 2
    assert [stop.shows for stop in found] == [("top",), (), ("foot",)]


def test_a_row_lies_in_view_outside_every_edge_where_the_table_has_room():
    # Rows every 12 from 4: the cut of 93 with a row 5 below its top starts at 11 and ends at 104; rows at 4 and 112.
    made = job(cloth(12), window("Bay", 93, Panels.WHOLE, row=below_top(5)), squaring=10)
    made = with_piece(made, 600, Fraction(4))
    (stop,) = plan_job(made, Fraction(120)).stops
    assert (stop.placement.start, stop.placement.end) == (11, 104)
    assert stop.lit_from < 4
    assert stop.lit_to > 112
    first, *_, last = plan_job(made, Fraction(60)).stops
    assert first.lit_from < 4
    assert last.lit_to > 112


def test_plain_cloth_is_pulled_by_whole_inches_or_centimetres():
    inches = stops_of(None, 150, "121/2")
    assert inches[1].cloth_at_left - inches[0].cloth_at_left == 57
    metric = stops_of(None, 150, "121/2", unit=Unit.CENTIMETRE)
    pulled = metric[1].cloth_at_left - metric[0].cloth_at_left
    assert (pulled / CENTIMETRE).denominator == 1
    assert 56 < pulled <= Fraction(115, 2)


def test_a_table_shorter_than_a_repeat_is_refused_with_advice():
    with refused(Code.TABLE_TOO_SHORT) as problems:
        stops_of(25, 60, 24)
    assert problems[0].value("pull") == 25


def test_a_short_table_does_for_cuts_that_fit_on_it():
    (stop,) = stops_of(25, 20, 24)
    assert stop.shows == ("top", "foot")


def test_a_table_of_just_one_repeat_is_enough():
    found = stops_of(25, 60, 25)
    assert {edge for stop in found for edge in stop.shows} == {"top", "foot"}


def test_the_margin_gives_way_on_a_very_short_table():
    found = stops_of(1, 10, 2)
    assert found[0].shows == ("top",)
    assert found[0].cloth_at_left == 10 - Fraction(1, 2)
    assert found[-1].shows == ("foot",)


def test_nothing_is_lit_beyond_the_piece():
    (stop,) = stops_of(None, 90, 120, piece=104)
    assert stop.lit_to == 104


def test_without_a_table_each_cut_is_one_whole_stop():
    (stop,) = stops_of(None, 300, None)
    assert stop.shows == ("top", "foot")
    assert (stop.lit_from, stop.lit_to) == (7, 313)


@settings(max_examples=80)
@given(jobs(), st.fractions(10, 40, max_denominator=4))
def test_every_edge_is_lit_and_every_pull_is_whole(made, table):
    plan = plan_job(with_piece(made, 10_000, Fraction(0)), table)
    assert [stop.number for stop in plan.stops] == list(range(1, len(plan.stops) + 1))
    for placement in plan.placements:
        own = [stop for stop in plan.stops if stop.placement == placement]
        assert [stop.pull for stop in own] == list(range(len(own)))
        assert {edge for stop in own for edge in stop.shows} == {"top", "foot"}
        assert own[0].lit_from <= placement.start
        assert own[-1].lit_to >= placement.end
        assert (len(own) == 1) is (placement.cut.length <= table)
        for sooner, later in pairwise(own):
            assert later.lit_from <= sooner.lit_to
            grain = made.cloth.repeat.along if made.cloth.repeat else 1
            assert ((later.cloth_at_left - sooner.cloth_at_left) / grain).denominator == 1


F = Fraction
REPEAT_25 = job(cloth(25), window("Bay", 102, Panels.WHOLE))


def stop_at(at_left, start, length, name="one", piece=1):
    """A stop of a cut by hand, both its edges lit."""
    (made,) = stops_of(25, 102, 120)
    cut = replace(made.placement.cut, id=name, length=F(length))
    return replace(
        made, placement=replace(made.placement, cut=cut, start=F(start), piece=piece), cloth_at_left=F(at_left)
    )


def said(before, now):
    return pull_said(before, now, REPEAT_25, lambda value: show_length(value, Unit.INCH))


def test_a_pull_within_a_cut_is_said_in_inches_and_repeats():
    before = stop_at(0, 0, 100)
    now = replace(before, cloth_at_left=F(50), pull=1)
    assert said(before, now) == ("Pull the cloth 50 in to the left: 2 repeats",)
    assert said(now, before) == ("Pull the cloth 50 in to the right: 2 repeats",)


def test_between_two_cuts_it_is_measured_at_the_edge_lit_last():
    # From 6 1/2 to 116 lie 109 1/2 in: four repeats of 25 in and 9 1/2. From the edge at 111 1/2 to 119 lie 7 1/2.
    before = stop_at(F(13, 2), F(19, 2), 102)
    now = stop_at(116, 119, 102, name="other")
    assert said(before, now) == (
        "Pull the cloth 109 1/2 in to the left: 4 repeats and 9 1/2 in",
        "Measure it at the edge lit last; the next one lies 7 1/2 in beyond it",
    )
    near = stop_at(F(31, 2), F(223, 2), 102, name="other")
    assert said(before, near) == (
        "Pull the cloth 9 in to the left",
        "Measure it at the edge lit last; it is the next one too",
    )


def test_cuts_side_by_side_need_no_pull_and_another_piece_is_laid():
    before = stop_at(10, 13, 54)
    beside = stop_at(10, 13, 54, name="beside")
    assert said(before, beside) == ()
    other = stop_at(3, 6, 54, name="other", piece=2)
    assert said(before, other) == ("Lay piece 2 with its first end 3 in beyond the left end of the light",)
