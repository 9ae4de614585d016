"""What the person is told of widths, seams, trims and shared lengths."""

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting import cut_list, panel_steps
from jobs.cutting.told import reached
from jobs.model.choices import Hang, Panels, ReturnsAdded, Symmetry
from jobs.model.cloth import Cloth, Print, Repeat
from jobs.model.cuts import Hand
from jobs.model.job import Job
from jobs.ordering import order
from tests.jobs.made import cloth, job, window

F = Fraction
REEDS = Cloth("Reeds", F(55), F(3, 4), Repeat(F(75, 4), F(27, 2)))
KIND = {"hang": Hang.SAME, "cuts_per_panel": None}


def steps(made: Job) -> tuple[str, ...]:
    return panel_steps(made, cut_list(made))


def test_panels_of_one_cut_need_no_words():
    assert steps(job(cloth(10), window("Bay", 80, hang=Hang.SAME))) == ()


def test_every_figure_from_rod_to_cuts_is_said():
    # M.Y.L. workroom, commonly used formulas: overall 141, flat 352.5, 8 cuts of cloth 48 wide.
    bay = window("Bay", 90, rod=F(125), overlap=F(4), returns=F(6), fullness=F(5, 2), **KIND)
    made = job(cloth(width=F(48)), bay, heading=8, hem=8)
    assert steps(made) == (
        "Bay: rod 125 in + overlap 4 in + 2 returns of 6 in = 141 in over all.",
        "Bay: 141 in x 2 1/2 = 352 1/2 in flat (returns added before fullness), 176 1/4 in for each panel.",
        "Bay: 176 1/4 in to a panel; 4 cuts of 48 in between the selvedges, joined, give 192 in, 8 cuts for the pair.",
    )
    assert order(made).steps[:3] == steps(made)


def test_the_order_of_adding_returns_is_said():
    bay = window("Bay", 90, Panels.LEFT, rod=F(40), returns=F(6), cuts_per_panel=None)
    after = replace(job(cloth(), bay), returns_added=ReturnsAdded.AFTER)
    # A rod with nothing added to it is not added up.
    assert steps(after)[0] == "Bay: rod 40 in x 2 + return 6 in = 86 in flat (returns added after fullness)."


def test_columns_seams_and_a_cut_that_could_be_saved_are_said():
    bay = window("Bay", 90, Panels.WHOLE, rod=F(50), cuts_per_panel=None)
    assert steps(job(REEDS, bay, side_hem=2, seam="1/2"))[1:] == (
        "Bay: 104 in to a panel; each cut gives 40 1/2 in, 3 whole columns between its seams: 2.57 cuts, rounded "
        "up to 3.",
        "Bay: counted to its outer edges, 2 1/2 cuts would reach 107 3/4 in too: to take fewer, say how many cuts a "
        "panel has (`cuts_per_panel: 2 1/2`).",
        "Seams: 7 1/4 in and 47 3/4 in from the near selvedge edge, 3 columns apart, so that the print runs on, and "
        "6 in beyond the seam allowance is trimmed. Match each length to the one before it before you cut it.",
    )


@pytest.mark.parametrize("cuts", ["3/2", "2", "5/2", "4"])
def test_cuts_reach_what_their_seams_and_folds_enclose(cuts):
    made = job(REEDS, window("Bay", 90, Panels.LEFT, cuts_per_panel=F(cuts)), side_hem=2, seam="1/2")
    enclosed = sum(cut.far_side.line - cut.near_side.line for cut in cut_list(made))
    assert enclosed + 2 * 2 == reached(F(cuts), made)


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
    assert "may not run on" in steps(made)[1]


def test_the_panel_named_for_a_trim_is_the_one_that_is_trimmed():
    # Columns begin 2 in: centred they would begin at 14 (W = 13 1/2), so the pair is 3 off, mended at one leading edge.
    sheet = replace(REEDS, first_column=F(2), print=Print(side_to_side=Symmetry.MIRROR))
    made = job(sheet, window("Bay", 90))
    (said,) = steps(made)
    for cut in cut_list(made):
        leading = cut.near_side if cut.leading_selvedge == "near" else cut.far_side
        assert (leading.trim is not None) is (f"leading edge of the {cut.hand} panel" in said)
    assert {cut.hand for cut in cut_list(made)} == {Hand.LEFT, Hand.RIGHT}
