"""Bands, tie-backs, shades, valances and cushions as cuts, with the arithmetic by hand beside each figure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.cutting.columns import columns_across
from jobs.cutting.resolve import resolve
from jobs.model.allowances import Allowances, OwnAllowances
from jobs.model.choices import BandEdge, CutAlong, End, Middle, Motif, Panels, Part, Run
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut
from jobs.model.goods import FlatPanel, Wanted
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.print import Print, Repeat
from jobs.model.problems import Code
from jobs.model.trimmings import Band, TieBacks
from jobs.model.window import RowRule
from jobs.planning.planner import plan_cuts
from tests.jobs.made import job, window
from tests.jobs.refused import refused

ONE = Fraction(1)
LINEN = Cloth("Red linen", Fraction(54), Fraction(1, 2))
KITES = Cloth("Kites", Fraction(54), Fraction(1, 2), Repeat(Fraction(25), Fraction(27, 2)), print=Print(one_way=True))
"""Three columns, centred: at 13 1/2, 27 and 40 1/2 from the near selvedge; 53 in between the selvedges."""
ALLOWANCES = Allowances(Fraction(4), Fraction(8), Fraction(3), Fraction(1, 2), squaring=ONE)
BAY = replace(window("Bay", 84), cuts_per_panel=None, rod=Fraction(40))
SHADE = OwnAllowances(Fraction(2), Fraction(6), Fraction(3, 2))


def of(cloth: Cloth, **more: object) -> Job:
    """A job of one cloth without windows, with this besides."""
    return replace(job(cloth), allowances=ALLOWANCES, **more)


def cuts_of(whole: Job, number: int = -1) -> tuple[Cut, ...]:
    return resolve(jobs_of_cloths(whole)[number].job).sound().cuts


def sizes(cuts: Sequence[Cut]) -> list[tuple[str, Fraction, Fraction]]:
    """Whose it is, and how long along and how wide across it is cut."""
    return [(cut.window, cut.length, cut.across[1] - cut.across[0]) for cut in cuts]


# Contrast bands.


def test_a_band_at_the_leading_edge_is_as_long_as_the_face_is_cut() -> None:
    """84 finished + 4 heading + 8 hem = 96, one for each panel; 4 wide + two seams of 1/2 = 5."""
    banded = replace(BAY, bands=(Band(BandEdge.LEADING, Fraction(4), "Red linen"),))
    cuts = cuts_of(replace(of(KITES, windows=(banded,)), cloths=(LINEN,)))
    assert sizes(cuts) == [("Bay leading band", 96, 5)] * 2
    assert {cut.hand.value for cut in cuts} == {"left", "right"}
    assert {(cut.heading, cut.hem, cut.leading_side.hem) for cut in cuts} == {(4, 8, Fraction(1, 2))}
    # Both lie side by side in one length.
    assert len({cut.beside for cut in cuts}) == 1


def test_a_band_at_the_foot_is_as_long_as_a_panel_is_wide_with_its_side_hems() -> None:
    """Rod 40 x 2 = 80, 40 to a panel, + two side hems of 3 = 46; 6 + two seams of 1/2 = 7 wide."""
    banded = replace(BAY, bands=(Band(BandEdge.FOOT, Fraction(6), "Red linen"),))
    cuts = cuts_of(replace(of(KITES, windows=(banded,)), cloths=(LINEN,)))
    assert sizes(cuts) == [("Bay foot band 1", 46, 7), ("Bay foot band 2", 46, 7)]


def test_a_band_cut_across_is_joined_from_equal_lengths() -> None:
    """96 long across a cloth of 53 between the selvedges: two lengths lose a seam of 1/2 at each joined edge, so
    (96 + 1) / 2 = 48 1/2 each; along the cloth 4 + 1 = 5. Two panels: four of them."""
    banded = replace(BAY, bands=(Band(BandEdge.LEADING, Fraction(4), "Red linen", CutAlong.ACROSS),))
    cuts = cuts_of(replace(of(KITES, windows=(banded,)), cloths=(LINEN,)))
    assert sizes(cuts) == [(f"Bay leading band {number}", 5, Fraction(97, 2)) for number in range(1, 5)]


def test_a_band_that_just_fits_across_is_one_length() -> None:
    """41 finished + 4 + 8 = 53 across, just what lies between the selvedges."""
    short = replace(BAY, finished_length=Fraction(41), panels=Panels.LEFT)
    banded = replace(short, bands=(Band(BandEdge.LEADING, Fraction(4), "Red linen", CutAlong.ACROSS),))
    cuts = cuts_of(replace(of(KITES, windows=(banded,)), cloths=(LINEN,)))
    assert sizes(cuts) == [("Bay leading band", 5, 53)]
    longer = replace(banded, finished_length=Fraction(42))
    assert len(cuts_of(replace(of(KITES, windows=(longer,)), cloths=(LINEN,)))) == 2


def test_a_foot_band_of_panels_told_in_cuts_has_no_known_length() -> None:
    banded = replace(window("Bay", 84), bands=(Band(BandEdge.FOOT, Fraction(4)),))
    with refused(Code.BAND_WIDTH_NOT_KNOWN) as problems:
        jobs_of_cloths(of(KITES, windows=(banded,)))
    assert problems[0].path == ("windows", 0, "bands", 0, "edge")


def test_tie_backs_come_in_fronts_and_backs_for_each_panel() -> None:
    """24 x 4 with seams of 1/2 all round: 25 x 5; a front and a back for each of two panels."""
    tied = replace(BAY, tie_backs=TieBacks(Fraction(24), Fraction(4), "Red linen"))
    cuts = cuts_of(replace(of(KITES, windows=(tied,)), cloths=(LINEN,)))
    assert sizes(cuts) == [(f"Bay tie-back {number}", 25, 5) for number in range(1, 5)]


# Flat panels.


def test_a_shade_is_cut_to_its_own_width_with_a_motif_in_its_middle() -> None:
    """24 + two side hems of 1 1/2 = 27 wide; 60 + 2 + 6 = 68 long. The first column, 13 1/2, in its middle: from 0, too
    near by the selvedge of 1/2. So the next one, 27: from 13 1/2 to 40 1/2."""
    (cut,) = cuts_of(of(KITES, flat_panels=(FlatPanel("Shade", Fraction(24), Fraction(60), allowances=SHADE),)))
    assert sizes([cut]) == [("Shade", 68, 27)]
    assert cut.across == (Fraction(27, 2), Fraction(81, 2))
    assert cut.finished_width == 24
    # No row is asked for: one at the finished top, 2 below the cut edge.
    assert cut.row == 2


def test_on_a_half_drop_the_row_is_that_of_the_column_in_the_middle() -> None:
    """The column at 27 hangs half a repeat, 12 1/2, lower than the first: the row asked for, 8 above the foot, lies
    60 - 8 + 2 = 54 below the top edge, 4 modulo 25; the first column's 12 1/2 before it: -8 1/2, that is 16 1/2."""
    panel = FlatPanel("Shade", Fraction(24), Fraction(60), allowances=SHADE, row=RowRule(above_foot=Fraction(8)))
    (cut,) = cuts_of(of(replace(KITES, drop=Fraction(1, 2)), flat_panels=(panel,)))
    assert cut.across == (Fraction(27, 2), Fraction(81, 2))
    assert cut.row == Fraction(33, 2)
    last = replace(KITES, drop=Fraction(1, 2), print=Print(one_way=True, top_towards=End.LAST))
    (turned,) = cuts_of(of(last, flat_panels=(panel,)))
    # Tops towards the last end: further along is higher, so the first column's row lies 12 1/2 below: 4 + 12 1/2.
    assert turned.row == Fraction(33, 2)


def test_a_wide_shade_leaves_what_is_beside_it_whole() -> None:
    """36 + 3 = 39 about the column at 27: from 7 1/2 to 46 1/2, of 54; it is slit off at both sides."""
    (cut,) = cuts_of(of(KITES, flat_panels=(FlatPanel("Wide", Fraction(36), Fraction(60), allowances=SHADE),)))
    assert cut.across == cut.parted == (Fraction(15, 2), Fraction(93, 2))


def test_the_gap_between_two_columns_may_lie_in_the_middle() -> None:
    """Between 13 1/2 and 27 lies 20 1/4; half of 27 either way: 6 3/4 to 33 3/4."""
    panel = FlatPanel("Valance", Fraction(24), Fraction(14), middle=Middle.GAP, allowances=SHADE)
    (cut,) = cuts_of(of(KITES, flat_panels=(panel,)))
    assert cut.across == (Fraction(27, 4), Fraction(135, 4))


def test_the_print_of_a_bay_goes_on_from_shade_to_shade() -> None:
    """The middles hang 24/2 + 2 + 36/2 = 32 apart, and so lie their places on the print, whole columns apart or not."""
    shades = (
        FlatPanel("Left", Fraction(24), Fraction(60), allowances=SHADE),
        FlatPanel("Middle", Fraction(36), Fraction(60), allowances=SHADE, beside="left", apart=Fraction(2)),
        FlatPanel("Right", Fraction(24), Fraction(60), allowances=SHADE, beside="Middle", apart=Fraction(2)),
    )
    for cloth, sense in ((KITES, 1), (replace(KITES, print=Print(one_way=True, top_towards=End.LAST)), -1)):
        cuts = cuts_of(of(cloth, flat_panels=shades))
        middles = [sum(cut.across) / 2 for cut in cuts]
        across = Fraction(27, 2)
        assert (middles[1] - middles[0] - sense * 32) % across == 0
        assert (middles[2] - middles[1] - sense * 32) % across == 0


def test_a_panel_that_finds_no_motif_is_refused() -> None:
    # 48 + 3 = 51 of 53: a motif in the middle at 27 only; the gap, 20 1/4 or 33 3/4, would need 25 1/2 either way.
    panel = FlatPanel("Wide", Fraction(48), Fraction(60), allowances=SHADE)
    (cut,) = cuts_of(of(KITES, flat_panels=(panel,)))
    assert sum(cut.across) / 2 == 27
    with refused(Code.CANNOT_BE_CENTRED):
        cuts_of(of(KITES, flat_panels=(replace(panel, middle=Middle.GAP),)))


def test_where_the_repeat_across_is_not_known_the_one_column_lies_in_the_middle_of_the_print() -> None:
    """54 wide: the column is taken at 27, so 20 + 2 x 1 1/2 = 23 lies from 15 1/2 to 38 1/2, and a cushion of 16 from
    19 to 35. It had lain at the edge of the print, and was said to be centred."""
    unknown = replace(KITES, repeat=Repeat(Fraction(25)))
    shade = FlatPanel("Shade", Fraction(20), Fraction(40), allowances=SHADE)
    (cut,) = cuts_of(of(unknown, windows=(), flat_panels=(shade,)))
    assert cut.across == (Fraction(31, 2), Fraction(77, 2))
    cushion = Wanted("Cushion", (Fraction(16), Fraction(16)), motif=Motif.CENTRED, ordered=True)
    (front,) = cuts_of(of(unknown, windows=(), wanted=(cushion,)))
    assert front.across == (19, 35)


def test_shades_of_one_kind_are_cut_alike_and_share_a_length() -> None:
    """24 + 3 = 27 twice is 54, more than 53: each needs a length; 20 + 3 = 23 finds room twice, two columns apart."""
    panel = FlatPanel("Shade", Fraction(20), Fraction(60), count=2, allowances=SHADE)
    cuts = cuts_of(of(KITES, flat_panels=(panel,)))
    assert [cut.window for cut in cuts] == ["Shade 1", "Shade 2"]
    assert {sum(cut.across) / 2 % Fraction(27, 2) for cut in cuts} == {0}
    assert len({cut.beside for cut in cuts}) == 1
    assert abs(cuts[0].across[0] - cuts[1].across[0]) == 27


def test_run_sideways_a_flat_panel_has_its_motif_in_its_middle_too() -> None:
    """Rows lie 25 apart along; the panel is 24 + 3 = 27 along, so a row lies 13 1/2 from either end of it."""
    tall = replace(KITES, width=Fraction(118), run=Run.SIDEWAYS, print=Print())
    (cut,) = cuts_of(of(tall, flat_panels=(FlatPanel("Shade", Fraction(24), Fraction(60), allowances=SHADE),)))
    assert cut.length == 27
    assert (cut.phase + cut.length / 2) % 25 == 0


# Small things.


def test_cushions_that_are_ordered_are_cuts_fronts_centred_and_backs_as_they_come() -> None:
    """18 x 18 + two seams of 1/2 = 19 x 19. The point 3 below the row and 2 beyond the column in the middle: the middle
    lies 9 1/2 below the cut edge, the row 3 above it: 6 1/2. Across the middle lies at 13 1/2 + 2 = 15 1/2: from 6."""
    thing = Wanted(
        "Cushion",
        (Fraction(18), Fraction(18)),
        2,
        Motif.CENTRED,
        seam=Fraction(1, 2),
        backs=True,
        ordered=True,
        point=(Fraction(3), Fraction(2)),
    )
    (one,) = jobs_of_cloths(of(KITES, wanted=(thing,)))
    assert one.job.wanted == ()
    cuts = resolve(one.job).sound().cuts
    assert sizes(cuts) == [(name, 19, 19) for name in ("Cushion 1", "Cushion 2", "Cushion back 1", "Cushion back 2")]
    assert cuts[0].row == cuts[1].row == Fraction(13, 2)
    assert cuts[0].across == (6, 25)
    column = columns_across(KITES)[0] + 2
    assert {(sum(cut.across) / 2 - column) % Fraction(27, 2) for cut in cuts[:2]} == {0}
    # Backs: a row of the print at the seam, 1/2 below the edge; from the printed edge on.
    assert {cut.row for cut in cuts[2:]} == {Fraction(1, 2)}
    assert min(cut.across[0] for cut in cuts[2:]) == Fraction(1, 2)
    assert {window.made.part for window in one.job.windows if window.made} == {Part.SMALL_THING}


def test_run_sideways_what_lies_along_the_cloth_lies_along_it() -> None:
    """Cloth 118 wide run sideways: a bolster of 30 along and 12 across, 31 by 13 with its seams, a point 2 beyond a row
    and 3 beyond a column in its middle; bands of 96 by 4 and ties of 25 by 5 with their long sides along. They had lain
    with their long sides across."""
    wide = Cloth("Wide", Fraction(118), Fraction(1, 2), Repeat(Fraction(24), Fraction(20)), run=Run.SIDEWAYS)
    wide = replace(wide, first_column=Fraction(9), print=Print(one_way=True))
    bolster = Wanted("Bolster", (Fraction(30), Fraction(12)), motif=Motif.CENTRED, seam=Fraction(1, 2), ordered=True)
    (cut,) = cuts_of(of(wide, windows=(), wanted=(replace(bolster, point=(Fraction(2), Fraction(3))),)))
    assert sizes([cut]) == [("Bolster", 31, 13)]
    # From a row to its first edge, and on to its middle; from the column at 9 to its middle across.
    assert (cut.phase + Fraction(31, 2) - 2) % 24 == 0
    assert (sum(cut.across) / 2 - 9 - 3) % 20 == 0
    plain = replace(wide, repeat=None, first_column=None, print=Print())
    sewn = replace(BAY, bands=(Band(BandEdge.LEADING, Fraction(3), "Wide"),), cloth="Red linen")
    sewn = replace(sewn, tie_backs=TieBacks(Fraction(24), Fraction(4), "Wide"))
    found = sizes(cuts_of(replace(of(plain, windows=(sewn,)), cloths=(LINEN,)), 0))
    assert {size[1:] for size in found} == {(96, 4), (25, 5)}


def test_what_is_not_ordered_is_placed_on_what_is_left_with_its_seam_its_back_and_its_point() -> None:
    """Nothing else is cut of 60 in: of the plain 18 x 18 with seams of 1/2, 19 x 19. The first row at 4: the point lies
    at 4 + 3 = 7 + 25 k along; 9 1/2 before it must lie after the squaring of 1: 32 - 9 1/2 = 22 1/2."""
    thing = Wanted(
        "Cushion", (Fraction(18), Fraction(18)), 1, Motif.CENTRED, Fraction(1, 2), True, False, "", (Fraction(3), ONE)
    )
    door = window("Door", 20, Panels.WHOLE)
    whole = of(KITES, wanted=(thing,), windows=(door,))
    (one,) = jobs_of_cloths(whole)
    assert [(each.name, each.along, each.motif) for each in one.job.wanted] == [
        ("Cushion", 19, Motif.CENTRED),
        ("Cushion back", 19, Motif.ANYWHERE),
    ]
    bought = replace(one.job, cloth=replace(one.job.cloth, pieces=(Piece(Fraction(200), Fraction(4)),)))
    plan = plan_cuts(resolve(bought).sound())
    front = next(thing for thing in plan.wanted if thing.name == "Cushion")
    assert ((front.start + front.end) / 2 - 4 - 3) % 25 == 0
    assert ((front.near + front.far) / 2 - Fraction(27, 2) - 1) % Fraction(27, 2) == 0


@pytest.mark.parametrize("edge", BandEdge)
def test_what_is_made_says_what_it_is_of(edge: BandEdge) -> None:
    banded = replace(BAY, bands=(Band(edge, Fraction(4)),))
    made = [one.made for one in jobs_of_cloths(of(LINEN, windows=(banded,)))[0].job.windows if one.made]
    assert {(one.part, one.of, one.seamed, one.exact) for one in made} == {(Part.BAND, "Bay", True, True)}
