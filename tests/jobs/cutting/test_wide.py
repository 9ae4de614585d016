"""Shades and flat valances that are wider than their cloth, with the arithmetic by hand beside each figure."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.cutting.columns import columns_across
from jobs.cutting.resolve import resolve
from jobs.model.allowances import Allowances
from jobs.model.choices import End, Middle
from jobs.model.cloth import Cloth, EachSide
from jobs.model.cuts import Cut, Edge
from jobs.model.goods import FlatPanel, Wanted
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.print import Print, Repeat
from jobs.model.problems import Code, JobRefused
from jobs.planning.planner import plan_cuts
from projector.words.arithmetic import panel_lines, seam_lines
from tests.jobs.made import job
from tests.jobs.packing.checker import faults_of
from tests.jobs.refused import refused

F = Fraction
DAHLIA = Cloth("Dahlia", F(55), F(1, 2), Repeat(F(25), F(27)), drop=F(1, 2), print=Print(one_way=True))
"""Two columns, centred: at 14 and 41 from the near selvedge; 54 in between the selvedges."""
GIVEN = Allowances(F(2), F(3), F(2), F(1, 2), squaring=F(1))


def shade(width: int, middle: Middle = Middle.MOTIF) -> FlatPanel:
    return FlatPanel("Shade", F(width), F(60), middle=middle)


def of(cloth: Cloth, *panels: FlatPanel, **more: object) -> Job:
    return jobs_of_cloths(replace(job(cloth), allowances=GIVEN, flat_panels=panels, **more))[0].job


def cuts_of(made: Job) -> tuple[Cut, ...]:
    return resolve(made).sound().cuts


def from_near(cuts: Sequence[Cut]) -> list[Cut]:
    """In the order in which they are joined, the one towards the near selvedge first."""
    ordered = sorted(cuts, key=lambda cut: cut.number)
    return ordered if ordered[0].leading_edge is Edge.NEAR else ordered[::-1]


def line(cut: Cut, edge: Edge) -> F:
    """Where a side is seamed or folded, from the near selvedge."""
    side = cut.leading_side if edge is cut.leading_edge else cut.return_side
    return cut.across[0] + side.line if edge is Edge.NEAR else cut.across[1] - side.line


def test_a_full_width_lies_in_the_middle_and_the_rest_at_both_sides() -> None:
    """86 + two side hems of 2 = 90, of 54. The gap between the columns is the middle of the cloth: a full width of 54,
    seamed in the selvedges, and (90 - 54) / 2 = 18 at either side, with a seam of 1/2 in the selvedge 18 1/2."""
    cuts = from_near(cuts_of(of(DAHLIA, shade(86, Middle.GAP))))
    assert [cut.across for cut in cuts] == [(F("36.5"), 55), (0, 55), (0, F("18.5"))]
    assert [cut.finished_width for cut in cuts] == [16, 54, 16]
    assert [(line(cut, Edge.NEAR), line(cut, Edge.FAR)) for cut in cuts] == [
        (F("38.5"), F("54.5")),
        (F("0.5"), F("54.5")),
        (F("0.5"), F("16.5")),
    ]
    # Two columns on the rows lie level again.
    assert {cut.row for cut in cuts} == {cuts[0].row}


def test_with_a_motif_in_its_middle_its_seams_lie_as_far_to_either_side() -> None:
    """72 + 4 = 76. The column at 41 is 13 1/2 from the far printed edge: seamed that far to either side of it, 27
    between, and (76 - 27) / 2 = 24 1/2 at either side. What follows the far seam, at 54 1/2, comes first two columns
    before that, at 1/2; what comes before the near one, at 27 1/2, comes last a column further on, at 54 1/2."""
    cuts = from_near(cuts_of(of(DAHLIA, shade(72))))
    assert [cut.finished_width for cut in cuts] == [F("22.5"), 27, F("22.5")]
    assert [cut.across for cut in cuts] == [(30, 55), (27, 55), (0, 25)]
    # The column at 41 hangs half a repeat lower than the first: its row at the finished top, 2 below the cut edge, is
    # one of the first column at 2 - 12 1/2, that is 14 1/2. Two columns back rows lie level, one column on half a
    # repeat lower: 14 1/2 + 12 1/2 = 27, that is 2.
    assert [cut.row for cut in cuts] == [2, F("14.5"), F("14.5")]


def test_a_valance_takes_as_many_full_widths_as_it_needs() -> None:
    """200 + 4 = 204: 54 in the middle, 75 at either side: 54 more and 21."""
    cuts = from_near(cuts_of(of(DAHLIA, shade(200, Middle.GAP))))
    assert [cut.finished_width for cut in cuts] == [19, 54, 54, 54, 19]
    assert [cut.number for cut in cuts] == [5, 4, 3, 2, 1]


def test_a_seam_stays_clear_of_the_side_hems() -> None:
    """51 + 4 = 55, one more than the print. 1/2 at either side would be turned over with the hem of 2: it goes 2 under
    it, 2 to its other edge and 1/2 for the seam: 4 1/2 at either side, 55 - 9 = 46 in the middle."""
    cuts = from_near(cuts_of(of(DAHLIA, shade(51, Middle.GAP))))
    assert [cut.finished_width for cut in cuts] == [F("2.5"), 46, F("2.5")]
    # 46 about the middle of the cloth, 27 1/2, with two seams: 4 to 51.
    assert cuts[1].across == (4, 51)


def test_plain_cloth_is_seamed_as_far_out_as_a_seam_takes() -> None:
    """A seam of 1 needs 1/2 of the print besides the selvedge: 53 between, and (100 + 4 - 53) / 2 = 25 1/2."""
    plain = Cloth("Linen", F(55), F(1, 2))
    made = of(plain, FlatPanel("Shade", F(100), F(60)))
    made = replace(made, allowances=replace(GIVEN, seam=F(1)))
    cuts = from_near(cuts_of(made))
    assert [cut.finished_width for cut in cuts] == [F("23.5"), 53, F("23.5")]
    assert cuts[1].across == (0, 55)
    # The sides, 25 1/2 and a seam of 1 each, lie beside each other in one length: 53 of 54.
    assert cuts[0].beside == cuts[2].beside != cuts[1].beside


def test_what_a_seam_is_to_have_gives_way_to_the_least_seam_where_the_print_needs_it() -> None:
    """One repeat fills the print, 54: seams 54 apart leave the selvedge of 1/2 outside, less than the 5/8 wanted."""
    wide = replace(DAHLIA, repeat=Repeat(F(25), F(54)), drop=F(0))
    made = replace(of(wide, shade(90)), allowances=replace(GIVEN, seam=F(5, 8), least_seam=F(1, 2)))
    cuts = from_near(cuts_of(made))
    assert [cut.finished_width for cut in cuts] == [18, 54, 18]
    (said,) = seam_lines(resolve(made))
    assert said == (
        "Shade: wider than the 54 in between the selvedges, so 3 widths are joined, 20 in, 54 in and 20 in without "
        "their seams; 1/2 in is left outside each seam, less than the 5/8 in that a seam is to have; the print runs "
        "on. Match each to the one before it before you cut it."
    )
    assert said in panel_lines(resolve(made))


def test_what_cannot_be_joined_is_refused() -> None:
    with refused(Code.WIDE_CANNOT_BE_JOINED):
        cuts_of(of(replace(DAHLIA, repeat=Repeat(F(25), F(64))), shade(86)))
    with refused(Code.WIDE_NEEDS_ACROSS):
        cuts_of(of(replace(DAHLIA, repeat=Repeat(F(25))), shade(86)))
    with refused(Code.WIDER_THAN_ITS_CLOTH):
        cuts_of(of(DAHLIA, wanted=(Wanted("Bench cushion", (F(20), F(60)), ordered=True),)))


def _random(seed: int) -> Job:
    dice = random.Random(seed)
    across = dice.choice([None, F(27), F(27, 2), F(18), F(20), F(54), F(7)])
    repeat = None if across is None else Repeat(F(25), across)
    sides = [dice.choice([F(0), F(3, 8), F(1, 2), F(1)]) for _ in range(2)]
    cloth = Cloth(
        "Any",
        F(55),
        EachSide(*sides) if dice.random() < 0.3 else sides[0],
        repeat,
        drop=dice.choice([F(0), F(1, 2), F(1, 3)]) if repeat else F(0),
        print=Print(one_way=True, top_towards=dice.choice(list(End))),
        pieces=(Piece(F(4000), F(dice.randrange(25))),),
    )
    panels = [
        FlatPanel(
            f"Shade {n}", F(dice.randrange(100, 500), 2), F(dice.randrange(12, 80)), middle=dice.choice(list(Middle))
        )
        for n in range(dice.choice([1, 1, 2]))
    ]
    return of(cloth, *panels)


@pytest.mark.parametrize("first", range(0, 120, 30))
def test_the_print_runs_on_across_every_seam_of_random_panels(first: int) -> None:
    """Held against the print itself: what lies at (along, across) comes again at (along + n d V, across + n W)."""
    joined = 0
    for seed in range(first, first + 30):
        made = _random(seed)
        try:
            resolved = resolve(made).sound()
        except JobRefused:
            continue
        for one in resolved.windows:
            cuts = from_near(one.cuts)
            joined += len(cuts) > 1
            assert sum(cut.finished_width for cut in cuts) == one.window.flat, seed
            assert all(0 <= cut.across[0] < cut.across[1] <= 55 for cut in cuts)
            for before, after in pairwise(cuts):
                assert _runs_on(before, after, made.cloth), seed
            widths = [cut.finished_width for cut in cuts]
            if len(cuts) == 3:
                assert widths[0] == widths[2], seed
            _check_middle(cuts, made.cloth, one.window.made.middle)
        if first == 0:
            assert faults_of(plan_cuts(resolved)) == [], seed
    assert joined > 10


def _runs_on(before: Cut, after: Cut, cloth: Cloth) -> bool:
    least = F(1, 2) if cloth.repeat is None else F(3, 8)
    here, there = line(before, Edge.FAR), line(after, Edge.NEAR)
    if before.across[1] - here < least or there - after.across[0] < least:
        return False
    if not cloth.near_selvedge <= min(here, there) <= max(here, there) <= cloth.width - cloth.far_selvedge:
        return False
    if cloth.repeat is None:
        return True
    columns = (here - there) / cloth.repeat.across
    # A cut's row is that of the first column: of the other cut's first column where that many columns lie between.
    moved = (after.row - before.row) * (1 if after.top_edge is Edge.FIRST else -1)
    return columns.denominator == 1 and (moved - columns * cloth.drop * cloth.repeat.along) % cloth.repeat.along == 0


def _check_middle(cuts: Sequence[Cut], cloth: Cloth, middle: F | None) -> None:
    """What is asked for lies in the middle of the panel, and with a motif its row is the one that is asked for."""
    if middle is None:
        return
    at, half = F(0), sum(cut.finished_width for cut in cuts) / 2
    for cut in cuts:
        if at <= half <= at + cut.finished_width:
            columns = (line(cut, Edge.NEAR) + half - at - middle - columns_across(cloth)[0]) / cloth.repeat.across
            assert columns.denominator == 1
            moved = columns * cloth.drop * cloth.repeat.along * (1 if cut.top_edge is Edge.FIRST else -1)
            # A row is asked for at the finished top.
            assert (cut.row + moved - cut.heading) % cloth.repeat.along == 0
            return
        at += cut.finished_width
    raise AssertionError("the middle lies nowhere")
