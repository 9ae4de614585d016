"""The arithmetic of an order in words: widths, seams, trims, shared lengths, ways, and what is bought."""

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.columns import seams
from jobs.cutting.resolve import resolve
from jobs.cutting.widths import reached
from jobs.model.choices import Hang, Panels, ReturnsAdded, Run, Symmetry, Unit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Hand
from jobs.model.job import Job
from jobs.model.print import Print, Repeat
from jobs.model.schema import EachSide
from projector.words.arithmetic import order_lines, panel_lines
from tests.jobs.cutting.hanging import far, near
from tests.jobs.made import MIRROR_DOWN, below_top, cloth, cut_list, job, ordered, window

F = Fraction
REEDS = Cloth("Reeds", F(55), F(3, 4), Repeat(F(75, 4), F(27, 2)))
KIND = {"hang": Hang.SAME, "cuts_per_panel": None}


def steps(made: Job) -> tuple[str, ...]:
    return panel_lines(resolve(made).sound())


def lines(made: Job) -> tuple[str, ...]:
    return order_lines(resolve(made).sound(), ordered(made))


def sideways(along: int | None, panels: Panels, finished: int) -> Job:
    """Cloth 118 in wide, selvedges of 1 in, its selvedges along top and foot."""
    repeat = Repeat(F(along), F(10)) if along else None
    of = cloth(width=F(118), selvedge=F(1), run=Run.SIDEWAYS, repeat=repeat)
    bay = window("Bay", finished, panels, cuts_per_panel=None, rod=F(60))
    return job(of, bay, heading=8, hem=10, side_hem=3, squaring=1)


def test_panels_of_one_cut_need_no_words():
    assert steps(job(cloth(10), window("Bay", 80, hang=Hang.SAME))) == ()


def test_every_figure_from_rod_to_cuts_is_said():
    # M.Y.L. workroom, commonly used formulas: overall 141, flat 352.5, 8 cuts of cloth 48 wide.
    bay = window("Bay", 90, rod=F(125), overlap=F(4), returns=F(6), fullness=F(5, 2), **KIND)
    made = job(cloth(width=F(48)), bay, heading=8, hem=8)
    assert steps(made) == (
        "Bay: rod 125 in + overlap 4 in + 2 returns of 6 in = 141 in over all.",
        "Bay: 141 in x 2 1/2 = 352 1/2 in flat (returns added before fullness), 176 1/4 in for each panel.",
        "Bay: 176 1/4 in to a panel; 4 cuts seamed 48 in apart, counted to the outer printed edges, give 192 in, 8 "
        "cuts for the pair.",
    )
    assert lines(made)[:3] == steps(made)


def test_the_order_of_adding_returns_is_said():
    bay = window("Bay", 90, Panels.LEFT, rod=F(40), returns=F(6), cuts_per_panel=None)
    after = replace(job(cloth(), bay), returns_added=ReturnsAdded.AFTER)
    # A rod with nothing added to it is not added up.
    assert steps(after)[0] == "Bay: rod 40 in x 2 + return 6 in = 86 in flat (returns added after fullness)."


def test_seams_what_is_trimmed_and_what_is_left_are_said():
    bay = window("Bay", 90, Panels.WHOLE, rod=F(50), cuts_per_panel=None)
    # 53 1/2 of print, three columns of 13 1/2: 26 3/4 + 2 x 40 1/2. Seams at 7 1/4, of which 1/2 stays.
    assert steps(job(REEDS, bay, side_hem=2, seam="1/2"))[1:] == (
        "Bay: 104 in to a panel; 2 1/2 cuts seamed 40 1/2 in apart, counted to the outer printed edges, give 107 "
        "3/4 in.",
        "Seams: 7 1/4 in and 47 3/4 in from the near selvedge edge, 3 columns apart, so that the print runs on; 6 3/4 "
        "in is trimmed beyond them and 1/2 in is left as seam allowance, selvedge and all. Match each length to the "
        "one before it before you cut it.",
    )


def seam_lines(of: Cloth, seam: str = "1/2") -> tuple[str, ...]:
    return steps(job(of, window("Bay", 90, Panels.WHOLE, cuts=2), seam=seam))[1:]


def test_a_selvedge_that_is_the_seam_allowance_is_said_to_be_it():
    (said,) = seam_lines(Cloth("Reeds", F(55), F(1, 2), Repeat(F(25), F(27))))
    assert "1/2 in and 54 1/2 in from the near selvedge edge, 2 columns apart" in said
    assert "nothing is trimmed beyond them and 1/2 in is left as seam allowance, selvedge and all. Match" in said


def test_less_than_a_seam_is_to_have_is_said():
    (said,) = seam_lines(Cloth("Reeds", F("54.75"), F(3, 8), Repeat(F(25), F(27))))
    assert "3/8 in is left as seam allowance, selvedge and all, less than the 1/2 in that a seam is to have." in said


def test_a_column_given_up_for_the_seam_is_said():
    *_, said = seam_lines(Cloth("Reeds", F(54), F(0), Repeat(F(25), F(27, 2))))
    assert said == (
        "One column more is printed; seams 54 in apart would leave 0 in outside each, less than the least seam of 3/8 "
        "in (`least_seam`)."
    )


def test_unlike_selvedges_are_said_side_by_side():
    (said,) = seam_lines(Cloth("Reeds", F("55.25"), EachSide(F(1, 2), F(3, 4)), Repeat(F(25), F(27))))
    assert "1/2 in at the near and 3/4 in at the far side is left as seam allowance" in said


@pytest.mark.parametrize(
    ("across", "drop", "rows"),
    [("60", "0", "their rows level"), ("109/2", "1/2", "the rows of the next one a column on")],
)
def test_a_repeat_wider_than_the_print_asks_for_a_look(across, drop, rows):
    *_, said = seam_lines(Cloth("Reeds", F(55), F(1, 2), Repeat(F(25), F(across)), F(drop)))
    assert f"a whole repeat spans joined cuts. They are joined where the print ends, {rows}. Lay two lengths" in said


@pytest.mark.parametrize("cuts", ["3/2", "2", "5/2", "4"])
def test_cuts_reach_what_their_seams_and_folds_enclose(cuts):
    made = job(REEDS, window("Bay", 90, Panels.LEFT, cuts_per_panel=F(cuts)), side_hem=2, seam="1/2")
    enclosed = sum(far(cut).line - near(cut).line for cut in cut_list(made))
    assert enclosed + 2 * 2 == reached(F(cuts), made.cloth, seams(made.cloth, made.allowances))


def test_trims_and_shared_lengths_are_said():
    sheet = Print(top_to_bottom=Symmetry.GLIDE)
    trimmed = job(replace(REEDS, print=sheet), window("Bay", 90))
    assert steps(trimmed) == (
        "Bay: so that the pair mirrors, 6 3/4 in is trimmed from the leading edge of the right panel and 6 3/4 in from "
        "the return edge of the left one, before they are hemmed.",
    )
    shared = job(cloth(), window("Bay", 90, hang=Hang.SAME, cuts_per_panel=F(3, 2)))
    assert steps(shared) == (
        "Bay: 1 1/2 cuts to a panel, as written.",
        "Side by side in one length of 90 in: Bay, left, 2 of 2 and Bay, right, 2 of 2.",
    )


def test_a_seam_where_no_column_is_known_is_warned_of():
    made = job(cloth(10), window("Bay", 90, Panels.WHOLE, cuts=2))
    assert "may not run on" in steps(made)[2]


def test_the_panel_named_for_a_trim_is_the_one_that_is_trimmed():
    # Columns begin 2 in: centred they would begin at 14 (W = 13 1/2), so the pair is 3 off, mended at one leading edge.
    sheet = replace(REEDS, first_column=F(2), print=Print(side_to_side=Symmetry.MIRROR))
    made = job(sheet, window("Bay", 90))
    (said,) = steps(made)
    for cut in cut_list(made):
        leading = near(cut) if cut.leading_edge == "near" else far(cut)
        assert (leading.trim is not None) is (f"leading edge of the {cut.hand} panel" in said)
    assert {cut.hand for cut in cut_list(made)} == {Hand.LEFT, Hand.RIGHT}


def test_every_figure_of_the_order_stands_in_its_steps():
    found = lines(job(cloth("45/4", print=MIRROR_DOWN, sold_by=F(9)), window("Bay", 50), heading=4, hem=4, squaring=1))
    assert found == (
        "Bay: 50 in finished + 4 in heading + 4 in hem = 58 in to cut.",
        "Repeats of 11 1/4 in: 58 in takes 6 repeats (rounded up, 9 1/2 in over) = 67 1/2 in for a handbook cut.",
        "Pairs: the print mirrors from top to bottom, so the right panel, turned by half a turn, is the mirror image "
        "of the left; the same selvedge leads in both panels.",
        "Handbook: 2 cuts of 67 1/2 in + one repeat of 11 1/4 in so that the first cut can be placed = 146 1/4 in.",
        "Guaranteed: cut in the shortest order, 125 1/2 in is enough wherever in the repeat the piece begins, "
        "20 3/4 in less than by the handbook.",
        "That is 116 in of cuts + 9 1/2 in, at worst, to wait for the first row and from cut to cut.",
        "With a repeat 1 % longer, about 11 3/8 in, it would be about 126 3/16 in in one piece, about 11/16 in more. "
        "Measure it, say how much longer it may be (`repeat_tolerance`), or buy by the handbook (`order_by: "
        "handbook`).",
        "Squaring the first end: 125 1/2 in + 1 in = 126 1/2 in.",
        "Sold by 1/4 yd: rounded up, buy 3 3/4 yd, that is 135 in. Nothing is added for flaws: look the cloth over "
        "before the first cut.",
    )


def test_shrinkage_has_a_step_of_its_own():
    found = lines(job(cloth(shrinkage=F(3, 100)), window("Bay", 97, Panels.WHOLE)))
    assert "The cloth shrinks by 3 %: 97 in / (1 - 3 %) = 100 in to cut." in found


def test_cuts_of_one_length_share_a_sentence():
    found = lines(job(cloth(10, print=Print()), *(window(name, 88, hang=Hang.SAME) for name in "AB"), hem=2))
    assert found[0] == "A, B: 88 in finished + 2 in hem = 90 in to cut."
    assert "9 repeats (exactly, nothing is added) = 90 in" in found[1]


def test_what_is_sold_by_is_said_where_it_is_assumed():
    for unit in (Unit.INCH, Unit.CENTIMETRE):
        assert any("assumed" in step for step in lines(job(cloth(), window("Bay", 91, Panels.WHOLE), unit=unit)))


def test_the_steps_say_how_tall_and_how_long_and_what_to_look_at():
    one = sideways(24, Panels.WHOLE, 90)
    said = steps(one)
    assert "Bay: rod 60 in x 2 = 120 in flat; with 2 side hems of 3 in a panel takes 126 in." in said
    assert any("90 in finished + 8 in heading + 10 in hem = 108 in lie across, of 116 in" in step for step in said)
    assert any("taken as it lies: 0 in below the top" in step for step in said)
    assert any(step.startswith("Look out: Run sideways") for step in said)


def test_it_is_said_which_panels_lie_above_each_other():
    one = sideways(None, Panels.PAIR, 40)
    said = steps(one)
    assert (
        "One above the other across the cloth in one length of 66 in: Bay, left, 1 of 1 and Bay, right, 1 of 1." in said
    )
    assert "Bay: the tops lie towards the far selvedge, 117 in and 59 in from the near selvedge edge." in said


def test_each_length_is_to_be_matched_before_it_is_cut():
    # J. W. Stephenson, Cutting and Draping, 1905 (Gutenberg 70586): the second length is matched before it is cut.
    made = job(
        Cloth("Steps", F(54), repeat=Repeat(F(27), F(53, 4)), drop=F(1, 2)), window("Bay", 100, Panels.LEFT, cuts=3)
    )
    assert any("Match each length to the one before it before you cut it" in step for step in steps(made))


def test_the_guaranteed_length_counts_what_lies_side_by_side_as_one_length():
    # A right panel of 1 1/2 cuts of 100 and a left one of 1 1/2 cuts of 96, whose row hangs 5 lower: beside each other
    # on their rows the halves take 5 + 100, so that there are 100 + 96 + 105 = 301 of cuts.
    of = cloth(selvedge=F(1, 2), repeat=Repeat(F(20), F(53, 2)))
    kind = {"hang": Hang.SAME, "cuts_per_panel": F(3, 2)}
    east = window("East", 100, Panels.RIGHT, row=below_top(0), **kind)
    west = window("West", 96, Panels.LEFT, row=below_top(5), **kind)
    said = lines(job(of, east, west, seam="1/2"))
    assert any(line.startswith("That is 301 in of cuts + ") for line in said), said
