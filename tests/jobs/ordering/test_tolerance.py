"""A repeat that is longer than the ticket says, and which of the two figures is bought."""

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.resolve import resolve
from jobs.model.choices import Hang, OrderBy, Panels
from jobs.model.job import Job
from jobs.model.print import Repeat
from jobs.ordering import if_longer
from projector.words.arithmetic import order_lines
from tests.jobs.made import MIRROR_DOWN, below_top, cloth, job, ordered, window

F = Fraction


def sixteen(**more: object) -> Job:
    """Sixteen equal cuts of 90 on a repeat of 25."""
    bays = [window(f"Bay {n}", 90, Panels.WHOLE, hang=Hang.SAME, row=below_top(5)) for n in range(16)]
    return job(replace(cloth(25), sold_by=F(1, 4), **more), *bays)


def lines(made: Job) -> list[str]:
    return list(order_lines(resolve(made).sound(), ordered(made)))


def test_sixteen_cuts_on_a_repeat_one_percent_longer_need_that_much_more():
    # V + 15 ceil(90/V) V + 90: with 25 it is 25 + 1500 + 90, with 25 1/4 in 25 1/4 + 15 x 101 + 90.
    made = sixteen()
    assert ordered(made).guaranteed == 1615
    assert if_longer(made, ordered(made), F(1, 100)) == F(101, 4) + 1515 + 90
    assert ordered(made).buy == 1615
    assert any(
        "a repeat 1 % longer, 25 1/4 in, it would be 1630 1/4 in in one piece, 15 1/4 in more" in s for s in lines(made)
    )


def test_a_tolerance_is_bought_with():
    made = sixteen(repeat_tolerance=F(2, 100))
    # 25 1/2 + 15 x 102 + 90.
    found = ordered(made)
    assert (found.guaranteed, found.needed, found.buy) == (1615, F(51, 2) + 1530 + 90, F("1645.5"))
    assert any("With a repeat 2 % longer" in step and "reckoned with" in step for step in lines(made))


def test_the_handbook_length_may_be_bought():
    made = sixteen(order_by=OrderBy.HANDBOOK)
    found = ordered(made)
    # 16 x 100 + 25.
    assert (found.handbook, found.needed, found.buy) == (1625, 1625, 1625)
    assert "Bought is the handbook length, 1625 in (`order_by`)." in lines(made)


def test_the_guaranteed_length_is_taken_apart():
    said = "That is 25 in, at most, to wait for the first row + 15 x 100 in, whole repeats from cut to cut, + the last"
    assert f"{said} cut of 90 in." in lines(sixteen())
    # Two cuts of 58 on 11 1/4, one turned on its row: 116 of cuts in 125 1/2 (common practice, no source).
    two = job(cloth("45/4", print=MIRROR_DOWN), window("Bay", 58))
    assert "That is 116 in of cuts + 9 1/2 in, at worst, to wait for the first row and from cut to cut." in lines(two)


def test_rows_stay_where_they_are_asked_for_on_the_longer_repeat():
    # A row 5 below the top of 90, and one 30 below: on a repeat of 25 both are 5, on 25 1/4 they are 5 and 4 3/4.
    bays = [window(name, 90, Panels.WHOLE, row=below_top(at)) for name, at in (("Bay", 5), ("Nook", 30))]
    made = job(cloth(25), *bays)
    assert len({cut.phase for cut in resolve(made).cuts}) == 1
    # With 25 1/4 the cuts of 90 differ by 1/4: 101 from the first to the second is 100 3/4 or 101 1/4.
    assert if_longer(made, ordered(made), F(1, 100)) == F(101, 4) + F(403, 4) + 90


@pytest.mark.parametrize("share", [F(1, 100), F(1, 50)])
def test_plain_cloth_has_no_repeat_to_be_longer(share):
    made = job(cloth(), window("Bay", 90))
    assert if_longer(made, ordered(made), share) is None
    assert not any("longer" in step for step in lines(made))


def test_of_an_order_in_several_pieces_each_needs_more():
    """Bays of 90 in pieces of 300 at most: for three 25 + 2 x 100 + 90 = 315, so two, 25 + 100 + 90 = 215. With 25 1/4
    it is 216 1/4. All in one piece 1630 1/4 were said, "no more" than 8 x 215."""
    made = sixteen(longest_piece=F(300))
    found = ordered(made)
    assert (found.guaranteed, len(found.pieces)) == (8 * 215, 8)
    assert if_longer(made, found, F(1, 100)) == 8 * F(865, 4)
    assert any("it would be 1730 in in 8 pieces, 10 in more" in said for said in lines(made))


def test_who_buys_by_the_handbook_is_not_told_to():
    said = next(said for said in lines(sixteen(order_by=OrderBy.HANDBOOK)) if "1 % longer" in said)
    # 1630 1/4 against 1625.
    assert "the handbook length is too little for that" in said
    assert "buy by the handbook" not in said
    # Four of them: 25 1/4 + 3 x 101 + 90 = 418 1/4 against 425.
    few = sixteen(order_by=OrderBy.HANDBOOK)
    few = replace(few, windows=few.windows[:4])
    assert any("the handbook length is enough for that" in said for said in lines(few))


def test_a_repeat_within_the_tolerance_may_be_worse_than_the_longest():
    """Sixteen cuts of 100 on a repeat of 24 3/4 take five repeats each: 24 3/4 + 15 x 123 3/4 + 100 = 1981. 2 % longer
    it is 25.245, and they take four: 25.245 x 61 + 100. But just below 25 they still take five: 25 + 15 x 125 + 100 =
    2000."""
    made = sixteen(repeat_tolerance=F(2, 100))
    bays = tuple(replace(one, finished_length=F(100)) for one in made.windows)
    made = replace(made, windows=bays, cloth=replace(made.cloth, repeat=Repeat(F(99, 4))))
    found = ordered(made)
    assert found.guaranteed == 1981
    assert if_longer(made, found, F(2, 100)) == F("25.245") * 61 + 100
    # Looked through in steps of 1/2 % it is no less than that, and no more than a step of 16 x 5 - 4 repeats above.
    assert 2000 <= found.needed <= 2000 + 76 * F(99, 4) * F(1, 200)
    assert any("with one in between: that is reckoned with" in said for said in lines(made))
