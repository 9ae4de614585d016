from dataclasses import replace
from fractions import Fraction

from jobs.model.choices import Motif
from jobs.model.cuts import Placement
from jobs.model.goods import Wanted
from jobs.model.piece import Flaw, Piece
from jobs.model.plan import PieceUse, Span, Unplaced
from jobs.packing.items import lanes_of
from jobs.packing.leftovers import leftovers, placed_things
from jobs.packing.order import assigned
from jobs.packing.rolls import Shape
from tests.jobs.made import cloth, cut_list, job, whole_cuts, window


def placed(length: int, start: int) -> Placement:
    (cut,) = cut_list(whole_cuts(cloth(), [length]))
    return Placement(cut, 1, Fraction(start))


def spans(*edges: tuple[int, int]) -> tuple[Span, ...]:
    return tuple(Span(Fraction(start), Fraction(end)) for start, end in edges)


def test_what_lies_between_cuts_around_flaws_and_at_the_end_is_left():
    piece = Piece(Fraction(100), flaws=(Flaw(Fraction(30), Fraction(32)), Flaw(Fraction(95), Fraction(100))))
    left = leftovers(piece, Fraction(2), [placed(20, 5), placed(40, 40)])
    assert left == spans((2, 5), (25, 30), (32, 40), (80, 95))


def test_cuts_that_touch_leave_nothing_between_them():
    assert leftovers(Piece(Fraction(60)), Fraction(0), [placed(30, 30), placed(30, 0)]) == ()


def test_a_flaw_across_the_end_or_in_the_squaring_leaves_nothing_there():
    piece = Piece(Fraction(50), flaws=(Flaw(Fraction(0), Fraction(3)), Flaw(Fraction(45), Fraction(60))))
    assert leftovers(piece, Fraction(2), []) == spans((3, 45))


def test_a_flaw_of_no_length_parts_two_leftovers():
    piece = Piece(Fraction(10), flaws=(Flaw(Fraction(4), Fraction(4)),))
    assert leftovers(piece, Fraction(0), []) == spans((0, 4), (4, 10))


def test_a_piece_no_longer_than_its_squaring_leaves_nothing():
    assert leftovers(Piece(Fraction(1)), Fraction(2), []) == ()


def test_a_thing_centred_on_a_motif_may_end_where_what_is_left_ends():
    # Rows at 5, 15, 25 and 35: about the last of them 10 in lie from 30 to 40, all that is left.
    piece = Piece(Fraction(40), Fraction(5))
    thing = Wanted("Cushion", (Fraction(10), Fraction(10)), motif=Motif.CENTRED)
    made = replace(whole_cuts(cloth(10), [20]), wanted=(thing,))
    ((placed_one,), missing) = placed_things(made, [PieceUse(1, piece, Fraction(30), spans((30, 40)))])
    assert (placed_one.start, placed_one.end, missing) == (30, 40, ())
    # A strip less, and no motif is whole on it.
    none = placed_things(made, [PieceUse(1, piece, Fraction(31), spans((31, 41)))])
    assert none == ((), (Unplaced("Cushion", 1),))


def test_equal_cuts_keep_windows_and_panels_together():
    cuts = cut_list(job(cloth(), window("A", 50, cuts=2), window("B", 50, cuts=2)))
    same = [Shape(50, 0)] * 8
    assert assigned(same, lanes_of(cuts), same) == lanes_of(cuts)


def test_partners_of_other_shapes_are_found():
    cuts = cut_list(job(cloth(), window("A", 50), window("B", 50)))
    left, right = Shape(50, 0), Shape(50, 3)
    order = assigned([right, left, left, right], lanes_of(cuts), [left, right, left, right])
    assert [cut.id for (cut,) in order] == ["a-right", "a-left", "b-left", "b-right"]
