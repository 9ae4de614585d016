"""Windows of one room come from one dye lot wherever one holds them."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.model.choices import Panels
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.packing.items import lots_of, mixed_rooms
from jobs.planning.planner import plan_job
from tests.jobs.made import cloth, job, window


def made(lengths: list[tuple[str, int, str]], pieces: list[tuple[int, str]]) -> Job:
    """Plain windows (name, length, room) and pieces (length, dye lot)."""
    windows = [replace(window(name, length, Panels.WHOLE), room=room) for name, length, room in lengths]
    found = job(cloth(), *windows)
    stock = tuple(Piece(Fraction(length), dye_lot=lot) for length, lot in pieces)
    return replace(found, cloth=replace(found.cloth, pieces=stock))


def lots_by_room(plan):
    pieces = plan.job.cloth.pieces
    rooms = {window.name: window.room for window in plan.job.windows}
    found = {}
    for placement in plan.placements:
        lot = pieces[placement.piece - 1].dye_lot or placement.piece
        found.setdefault(rooms[placement.cut.window], set()).add(lot)
    return found


def test_a_room_is_not_shared_out_among_dye_lots_though_the_cloth_would_be_used_alike():
    # 60 and 40 fill the first piece, 50 and 30 the second; by rooms it is 60 and 30, and 40 and 50.
    windows = [("A", 60, "parlour"), ("B", 30, "parlour"), ("C", 40, "study"), ("D", 50, "study")]
    plan = plan_job(made(windows, [(100, "7"), (100, "8")]))
    assert plan.short == 0
    assert plan.mixed_rooms == ()
    assert {room: len(lots) for room, lots in lots_by_room(plan).items()} == {"parlour": 1, "study": 1}


def test_a_room_may_take_several_pieces_of_one_lot_and_each_window_still_comes_from_one_piece():
    windows = [("A", 60, "parlour"), ("B", 50, "parlour"), ("C", 50, "")]
    plan = plan_job(made(windows, [(60, "7"), (50, "8"), (50, "7")]))
    pieces = {placement.cut.window: placement.piece for placement in plan.placements}
    assert pieces == {"A": 1, "B": 3, "C": 2}
    assert plan.mixed_rooms == plan.spread == ()


def test_a_room_that_no_lot_holds_is_named_and_still_cut():
    windows = [("A", 60, "parlour"), ("B", 50, "parlour")]
    plan = plan_job(made(windows, [(60, "7"), (50, "8")]))
    assert plan.short == 0
    assert plan.mixed_rooms == ("parlour",)


def test_pieces_yet_to_be_ordered_are_one_lot():
    windows = [("A", 60, "parlour"), ("B", 50, "parlour")]
    asked = made(windows, [])
    plan = plan_job(replace(asked, cloth=replace(asked.cloth, longest_piece=Fraction(72), sold_by=Fraction(36))))
    assert {placement.piece for placement in plan.placements} == {1, 2}
    assert plan.mixed_rooms == ()


def test_pieces_without_a_dye_lot_are_lots_of_their_own():
    assert lots_of([Piece(Fraction(9)), Piece(Fraction(9), dye_lot="7"), Piece(Fraction(9)), Piece(Fraction(9))]) == [
        (0,),
        (1,),
        (2,),
        (3,),
    ]
    assert lots_of([Piece(Fraction(9), dye_lot="7"), Piece(Fraction(9)), Piece(Fraction(9), dye_lot="7")]) == [
        (0, 2),
        (1,),
    ]


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.integers(5, 20), st.sampled_from(["", "p", "q"])), min_size=1, max_size=6),
    st.lists(st.tuples(st.integers(10, 60), st.sampled_from(["", "7", "8"])), min_size=1, max_size=4),
)
def test_the_order_of_the_windows_changes_no_length(windows, pieces):
    named = [(f"W{number}", length, room) for number, (length, room) in enumerate(windows)]
    first, second = plan_job(made(named, pieces)), plan_job(made(named[::-1], pieces))
    assert (first.used, first.bound, first.short) == (second.used, second.bound, second.short)


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.integers(5, 20), st.sampled_from(["", "p", "q"])), min_size=1, max_size=6),
    st.lists(st.tuples(st.integers(10, 60), st.sampled_from(["", "7", "8"])), min_size=1, max_size=4),
)
def test_rooms_never_cost_the_job_and_what_is_said_of_them_is_true(windows, pieces):
    named = [(f"W{number}", length, room) for number, (length, room) in enumerate(windows)]
    plan = plan_job(made(named, pieces))
    without = plan_job(made([(name, length, "") for name, length, _ in named], pieces))
    assert plan.short == without.short
    if plan.short:
        return
    assert without.used <= plan.used
    assert plan.bound <= plan.used
    mixed = {room for room, lots in lots_by_room(plan).items() if room and len(lots) > 1}
    assert set(plan.mixed_rooms) == mixed == set(mixed_rooms(plan.placements, plan.job, plan.job.cloth.pieces))
    assert sorted(one.cut.id for one in plan.placements) == sorted(cut.id for cut in plan.cuts)
    for number, piece in enumerate(plan.job.cloth.pieces, 1):
        mine = [one for one in plan.placements if one.piece == number]
        assert all(one.end <= piece.length for one in mine)
        assert all(a.end <= b.start for a, b in pairwise(mine))
