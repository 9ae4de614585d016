"""Cuts wished somewhere lie there, on their rows, the others around them; a wish that cannot be met says why."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.model.choices import Panels, Part
from jobs.model.cuts import Hand
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece, Place
from jobs.model.plan import Plan
from jobs.model.problems import Code
from jobs.model.window import Made
from jobs.packing.wished import place_of_cut
from jobs.planning.planner import fits, plan_job
from projector.words.told import unmet_lines
from tests.jobs.made import below_top, cloth, cut_list, job, whole_cuts, window
from tests.jobs.packing.checker import faults_of
from tests.jobs.random_jobs import flaws, halves, jobs, with_piece

F = Fraction


def wish(made: Job, window: int, *places: Place) -> Job:
    """The job with these wishes for a window (from 0)."""
    windows = list(made.windows)
    windows[window] = replace(windows[window], places=places)
    return replace(made, windows=tuple(windows))


def starts(made: Job) -> dict[str, tuple[int, Fraction]]:
    return {one.cut.id: (one.piece, one.start) for one in plan_job(made).placements}


def whys(made: Job) -> list[Code]:
    return [one.code for one in plan_job(made).unmet]


def test_on_plain_cloth_a_cut_lies_where_it_is_wished_and_the_others_around_it():
    # 30 in at 50: 40 in go before it, from 0; 60 in only behind it, from 80.
    made = with_piece(whole_cuts(cloth(), [30, 40, 60]), 200, F(0))
    made = wish(made, 0, Place(Hand.WHOLE, F(50)))
    assert starts(made) == {"bay-1-whole": (1, 50), "bay-2-whole": (1, 0), "bay-3-whole": (1, 80)}
    assert plan_job(made).used == 140
    assert whys(made) == []


def test_on_a_print_it_goes_to_the_nearest_place_where_its_row_comes_right():
    # Rows lie at 3, 13, 23 ... and stand 2 in below the top (no heading): it may begin at 1, 11, 21 ... 51.
    made = with_piece(job(cloth(10), window("Bay", 30, Panels.WHOLE, row=below_top(2))), 100, F(3))
    for near, found in ((F(0), 1), (F(5), 1), (F(13, 2), 11), (F(47), 51), (F(1000), 61)):
        assert starts(wish(made, 0, Place(Hand.WHOLE, near))) == {"bay-whole": (1, found)}


def test_a_wish_keeps_clear_of_flaws_and_of_the_squaring():
    # A flaw from 40 to 42: 30 in that shall begin near 30 end at 40 (from 10) or begin at 42; 42 is nearer to 30.
    made = with_piece(whole_cuts(cloth(), [30]), 200, F(0), (Flaw(F(40), F(42)),))
    made = replace(made, allowances=replace(made.allowances, squaring=F(2)))
    assert starts(wish(made, 0, Place(Hand.WHOLE, F(30))))["bay-1-whole"] == (1, 42)
    assert starts(wish(made, 0, Place(Hand.WHOLE, F(20))))["bay-1-whole"] == (1, 10)
    assert starts(wish(made, 0, Place(Hand.WHOLE, F(0))))["bay-1-whole"] == (1, 2)


def test_two_wishes_for_one_place_lie_one_beside_the_other():
    made = with_piece(whole_cuts(cloth(), [30, 30]), 200, F(0))
    made = wish(wish(made, 0, Place(Hand.WHOLE, F(50))), 1, Place(Hand.WHOLE, F(52)))
    assert starts(made) == {"bay-1-whole": (1, 50), "bay-2-whole": (1, 80)}


def test_half_cuts_that_lie_beside_each_other_are_wished_together():
    made = with_piece(job(cloth(), window("Bay", 40, Panels.PAIR)), 300, F(0))
    made = replace(made, windows=(replace(made.windows[0], cuts_per_panel=F(1, 2)),))
    placed = starts(wish(made, 0, Place(Hand.RIGHT, F(100))))
    assert set(placed.values()) == {(1, 100)}
    assert len(placed) == 2
    both = wish(made, 0, Place(Hand.RIGHT, F(100)), Place(Hand.LEFT, F(10)))
    assert set(starts(both).values()) == {(1, 100)}
    assert whys(both) == []


def test_what_cannot_be_met_says_why_and_the_plan_is_as_without_it():
    free = with_piece(whole_cuts(cloth(), [30, 40]), 80, F(0))
    for place, why in (
        (Place(Hand.LEFT, F(0)), Code.WISH_FOR_NO_CUT),
        (Place(Hand.WHOLE, F(0), 2), Code.WISH_FOR_NO_CUT),
        (Place(Hand.WHOLE, F(0), 1, 2), Code.WISH_FOR_NO_PIECE),
        (Place(Hand.WHOLE, F(20)), Code.WISH_LEAVES_NO_ROOM),
    ):
        made = wish(free, 0, place)
        assert whys(made) == [why]
        assert starts(made) == starts(free)
    spoilt = with_piece(whole_cuts(cloth(), [30]), 80, F(0), (Flaw(F(45), F(46)),))
    spoilt = replace(spoilt, cloth=replace(spoilt.cloth, pieces=(*spoilt.cloth.pieces, Piece(F(20)))))
    assert whys(wish(spoilt, 0, Place(Hand.WHOLE, F(0), 1, 2))) == [Code.WISH_FOUND_NO_PLACE]


def test_a_window_is_not_torn_between_dye_lots_by_a_wish():
    made = job(cloth(), window("Bay", 40))
    pieces = (Piece(F(100), dye_lot="A"), Piece(F(60), dye_lot="B"))
    made = replace(made, cloth=replace(made.cloth, pieces=pieces))
    # The other panel of the pair does not fit on the second piece beside it.
    assert whys(wish(made, 0, Place(Hand.LEFT, F(0), 1, 2))) == [Code.WISH_LEAVES_NO_ROOM]
    apart = wish(made, 0, Place(Hand.LEFT, F(0)), Place(Hand.RIGHT, F(0), 1, 2))
    assert whys(apart) == [Code.WISH_FROM_ANOTHER_LOT]
    assert {piece for piece, _ in starts(apart).values()} == {1}


def test_cloth_that_is_too_short_anyway_is_not_laid_to_a_wish():
    made = with_piece(whole_cuts(cloth(), [30, 40]), 60, F(0))
    plan = plan_job(wish(made, 0, Place(Hand.WHOLE, F(10))))
    assert plan.short == plan_job(made).short == 10
    assert plan.unmet == ()


def test_whether_it_fits_does_not_hang_on_wishes():
    from jobs.cutting.resolve import resolve

    made = with_piece(whole_cuts(cloth(), [30, 40]), 80, F(0))
    assert fits(resolve(wish(made, 0, Place(Hand.WHOLE, F(20)))).sound())


@settings(max_examples=60)
@given(jobs(), halves(60, 400), flaws(), st.lists(halves(0, 300), min_size=5, max_size=5))
def test_every_plan_with_wishes_is_sound_and_each_wish_is_met_or_told(made, length, spoilt, nears):
    made = with_piece(made, length, F(0), spoilt)
    hands = {Panels.PAIR: Hand.LEFT, Panels.LEFT: Hand.LEFT, Panels.RIGHT: Hand.RIGHT, Panels.WHOLE: Hand.WHOLE}
    windows = [
        replace(one, places=(Place(hands[one.panels], near),)) for one, near in zip(made.windows, nears, strict=False)
    ]
    free, plan = plan_job(made), plan_job(replace(made, windows=tuple(windows)))
    assert plan.short == free.short
    if plan.short:
        return
    assert faults_of(plan) == []
    assert plan.used >= free.bound
    told = {one.path[1] for one in plan.unmet}
    along = made.cloth.repeat.along if made.cloth.repeat else F(0)
    for number, one in enumerate(windows):
        (placed,) = [p for p in plan.placements if (p.cut.window, p.cut.hand) == (one.name, one.places[0].panel)]
        others = [p for p in plan.placements if p.cut.id != placed.cut.id]
        if number in told or len(others) != 0:
            continue
        # Alone on its piece, it lies within half a repeat of the wish, or a flaw or an end is in the way.
        off = abs(placed.start - one.places[0].near)
        assert off <= along / 2 or spoilt or not along < one.places[0].near < length - placed.cut.length - along


def planned(text: str) -> Plan:
    """The plan of the only cloth of a job with its pieces."""
    (one,) = jobs_of_cloths(parse_job(text, "job"))
    return plan_job(one.job)


THINGS = """\
job: Goods
cloth: {width: 54, pieces: [{length: 400}]}
windows: [{name: Bay, panels: left, finished_length: 80, rod: 20, tie_backs: {length: 20, width: 4%s}}]
wanted: [{name: Cushion, size: [18, 18], count: 2, backs: yes, order: yes%s}]
"""


def things(ties: str = "", cushions: str = "") -> tuple[dict[str, Fraction], list[str]]:
    """Where all begins, by what it is called, and what is told of wishes."""
    plan = planned(THINGS % (ties, cushions))
    return {one.cut.name: one.start for one in plan.placements}, list(unmet_lines(plan))


def test_of_things_alike_the_one_that_is_counted_lies_where_it_is_wished():
    ties, cushions = "{panel: whole, cut: 2, near: 250}", "{panel: whole, cut: 1, near: 350}"
    found, told = things(f", places: [{ties}]", f", places: [{cushions}]")
    assert (found["Bay tie-back 2"], found["Cushion 1"]) == (250, 350)
    assert told == []


def test_backs_are_counted_on_from_their_fronts():
    # Of two cushions with backs the third is the back of the first.
    found, told = things(cushions=", places: [{panel: whole, cut: 3, near: 300}]")
    assert found["Cushion back 1"] == 300
    assert told == []


def test_a_wish_for_more_things_than_there_are_and_one_for_another_piece_are_told_once():
    _, told = things(
        cushions=", places: [{panel: whole, cut: 5, near: 30}, {panel: whole, cut: 2, near: 30, piece: 2}]"
    )
    assert told == [
        "Cushion 1, whole, cut 5: it cannot lie near 30 in, for there is no such cut.",
        "Cushion 2: it cannot lie near 30 in, for there is no piece 2.",
    ]


def test_what_is_placed_on_leftovers_takes_no_wish():
    with pytest.raises(FileRefused) as caught:
        parse_job(THINGS.replace("order: yes", "order: no") % ("", ", places: [{panel: whole, near: 3}]"), "job")
    assert [(one.path, one.code) for one in caught.value.problems] == [
        (("wanted", 0, "places"), Code.PLACES_OF_LEFTOVERS)
    ]


def test_of_a_joined_shade_only_the_first_cut_can_be_wished_and_more_than_can_be_counted_cannot():
    first, second = cut_list(job(cloth(), window("Shade", 30, Panels.WHOLE, 2)))
    shade = Made(Part.FLAT_PANEL, "Shade", copy=3, copies=70)
    assert (place_of_cut(first, shade), place_of_cut(second, shade)) == (3, None)
    assert place_of_cut(first, replace(shade, copy=61)) is None
    assert (place_of_cut(first, None), place_of_cut(second, None)) == (1, 2)


LINED = """\
job: House
cloths:
  - {name: Face, width: 54, pieces: [{length: 700}]}
  - {name: Bump, width: 48, pieces: [{length: 600, flaws: [{from: 100, to: 104}]}]}
windows:
  - name: Bay
    panels: pair
    finished_length: 80
    rod: 70
    fullness: 2
    returns: 0
    overlap: 0
    interlining: {cloth: Bump, places: [{panel: right, near: %s}]}
allowances: {heading: 4, hem: 8, side_hem: 2, squaring: 2}
"""


@pytest.mark.parametrize(("near", "begins"), [("60", 104), ("56", 9), ("0", 2), ("590", 509)])
def test_a_lining_lies_at_the_nearest_place_past_squaring_flaw_and_end(near, begins):
    """80 - 1 shorter + 4 + 8 = 91 in of each lining. Before the flaw at 100 it begins at 9 at the latest, past it at
    104 at the earliest: 60 is 51 from the one and 44 from the other, 56 is 47 and 48. The last place is 600 - 91 =
    509."""
    bump = jobs_of_cloths(parse_job(LINED % near, "job"))[1].job
    plan = plan_job(bump)
    assert {one.cut.length for one in plan.placements} == {91}
    assert [one.start for one in plan.placements if one.cut.id == "bay-interlining-right-1"] == [begins]
    assert plan.unmet == ()
    assert faults_of(plan) == []


def test_what_lies_beside_a_wished_cut_is_not_torn_between_dye_lots() -> None:
    """A tie-back lies beside a panel, 30 in wide, in one length of 60 in. Two such lengths fit on neither piece of
    100 in, and the pieces are of two lots: the cloth is short with the wish as it is without."""
    text = """\
job: Hall
cloth: {width: 54, pieces: [{length: 100, dye_lot: A}, {length: 100, dye_lot: B}]}
windows:
  - {name: Bay, panels: pair, finished_length: 60, rod: 60, fullness: 1, returns: 0, overlap: 0}
  - {name: Door, panels: left, finished_length: 20, rod: 20, fullness: 1, returns: 0, overlap: 0, tie_backs: %s}
allowances: {heading: 0, hem: 0, side_hem: 0, seam: 0, squaring: 0, least_seam: 0}
"""
    tie_backs = "{length: 20, width: 4, pieces: 1%s}"
    ways = ("", ", places: [{panel: whole, near: 40}]")
    free, wished_for = (planned(text % (tie_backs % more)) for more in ways)
    assert free.short == wished_for.short
    assert free.short > 0
