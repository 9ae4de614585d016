"""Which way a mirrored pair looks: either panel may be the one that shows the print as it lies."""

from dataclasses import replace
from fractions import Fraction

from jobs.cutting.resolve import resolve
from jobs.model.choices import Facing, Run, Symmetry
from jobs.model.cuts import Hand, Way
from jobs.model.job import Job
from jobs.model.print import Print, Repeat
from jobs.model.problems import Code
from jobs.ordering import order
from projector.words.pairs import pair_words
from projector.words.wording import sentence
from tests.jobs.made import MIRROR_DOWN, below_top, cloth, cut_list, job, window
from tests.jobs.refused import refused


def pair(facing: Facing, sheet: Print = MIRROR_DOWN, **more: object) -> Job:
    of = cloth(print=sheet, repeat=Repeat(Fraction(25), Fraction(27, 2)), **more)
    return job(of, window("Bay", 84, facing=facing, row=below_top(6)), heading=4, hem=8)


def sideways(facing: Facing, sheet: Print) -> Job:
    of = cloth(print=sheet, repeat=Repeat(Fraction(25), Fraction(27, 2)), width=Fraction(118), run=Run.SIDEWAYS)
    panel = window("Bay", 84, facing=facing, cuts_per_panel=None, rod=Fraction(40), fullness=Fraction(2))
    return job(of, panel, heading=4, hem=8)


def ways(made: Job) -> dict[Hand, Way]:
    return {cut.hand: cut.way for cut in cut_list(made)}


def test_the_other_panel_is_turned_and_the_same_selvedge_leads_in_both() -> None:
    assert ways(pair(Facing.LEFT)) == {Hand.LEFT: Way.UPRIGHT, Hand.RIGHT: Way.TURNED}
    swapped = pair(Facing.RIGHT)
    assert ways(swapped) == {Hand.LEFT: Way.TURNED, Hand.RIGHT: Way.UPRIGHT}
    assert len({cut.leading_edge for cut in cut_list(swapped)}) == 1
    assert cut_list(swapped)[0].leading_edge is not cut_list(pair(Facing.LEFT))[0].leading_edge
    assert {cut.row for cut in cut_list(swapped)} == {10}


def test_either_takes_the_same_cloth() -> None:
    # Which cut lies where differs, the cloth does not.
    first, second = (replace(order(resolve(pair(facing))), shares=()) for facing in Facing)
    assert first == second


def test_cloth_with_two_alike_faces_is_used_face_down_in_the_other_panel() -> None:
    assert ways(pair(Facing.RIGHT, Print(), faces_alike=True))[Hand.LEFT] is Way.FACE_DOWN


def test_the_words_name_the_panel_that_is_turned() -> None:
    made = pair(Facing.RIGHT)
    assert "the left panel, turned by half a turn" in pair_words(resolve(made).windows[0].choice, made)[0]


def test_a_pair_on_mirrored_columns_looks_as_its_columns_lie() -> None:
    with refused(Code.FACING_IS_FIXED):
        cut_list(pair(Facing.RIGHT, Print(side_to_side=Symmetry.MIRROR)))


def test_of_cloth_run_sideways_the_left_panel_shows_the_print_as_it_lies() -> None:
    """Which panel is turned could be chosen there as well, so where columns lie is not the reason that is given."""
    along = Print(top_to_bottom=Symmetry.NONE, side_to_side=Symmetry.MIRROR)
    with refused(Code.FACING_OF_SIDEWAYS) as said:
        cut_list(sideways(Facing.RIGHT, along))
    assert said[0].path == ("windows", 0, "facing")
    assert sentence(said[0]) == (
        "of cloth run sideways the left panel of a pair shows the print as it lies; leave `facing` out, or let the "
        "cloth run up (write `run: up`)"
    )
    assert {cut.hand: cut.way for cut in cut_list(sideways(Facing.LEFT, along))} == {
        Hand.LEFT: Way.UPRIGHT,
        Hand.RIGHT: Way.TURNED,
    }


def test_a_pair_run_sideways_that_is_its_own_image_looks_as_its_columns_lie() -> None:
    both = Print(top_to_bottom=Symmetry.MIRROR, side_to_side=Symmetry.MIRROR)
    with refused(Code.FACING_IS_FIXED):
        cut_list(sideways(Facing.RIGHT, both))
