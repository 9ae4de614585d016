"""Half-drops and rules of thumb as they are published, against what the plan does with them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from jobs.model.choices import Hang, Panels
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.lengths import CENTIMETRE
from jobs.model.piece import Piece
from jobs.model.print import Repeat
from jobs.planning.planner import plan_job
from tests.jobs.made import cloth, cut_list, job, ordered, window

F = Fraction


def half_drop(raw: int, *pieces: Piece, panels: Panels = Panels.WHOLE, cuts: str = "6") -> Job:
    """Panels of half-drop cloth, repeat 27: three columns of 18 fill the 54 in between the selvedges, and so every
    second cut has its rows half a repeat off."""
    sheet = Cloth("Steps", F(55), F(1, 2), Repeat(F(27), F(18)), F(1, 2), pieces=pieces)
    bay = window("Bay", raw, panels, hang=Hang.SAME, cuts_per_panel=F(cuts))
    return job(sheet, bay, seam="1/2")


def test_every_second_cut_of_a_panel_is_of_the_other_kind() -> None:
    assert [cut.row for cut in cut_list(half_drop(250))] == [0, F(27, 2)] * 3


def test_two_panels_of_three_that_start_on_the_same_row_have_four_cuts_of_one_kind() -> None:
    # Worked out here: A B A and A B A. 255 = 9 x 27 + 12, so unlike cuts follow after 1 1/2, equal ones after 15:
    # A B A B A A takes 4 x 256 1/2 + 270 + 255.
    plan = plan_job(half_drop(255, Piece(F(1700)), panels=Panels.PAIR, cuts="3"))
    assert [cut.row for cut in plan.cuts] == [0, F(27, 2), 0] * 2
    assert plan.placements[-1].end - plan.placements[0].start == 1551
    assert plan.proved_shortest


def test_the_other_half_of_an_odd_width_is_matched_at_the_outside_of_the_other_panel() -> None:
    # C. Merrick and R. Day, The Encyclopaedia of Curtains, pp. 116-119: the last width of an odd number is split
    # lengthwise for both curtains. Its rows lie half a repeat away in both, so it is one length, of the other kind.
    cuts = cut_list(half_drop(250, panels=Panels.PAIR, cuts="3/2"))
    halves = [cut for cut in cuts if cut.number == 2]
    assert [cut.row for cut in halves] == [F(27, 2)] * 2
    assert len({cut.beside for cut in halves}) == 1
    assert halves[0].beside


@pytest.mark.parametrize(
    ("raw", "takes", "order_of_rows"),
    [
        # MyDecozo soft-furnishing notes, half drops, gives raw 250, repeat 27, 6 cuts; what the shortest order takes is
        # worked out here: 250 = 9 x 27 + 7, so 13 1/2 follows after 6 1/2, 5 x 256 1/2 + 250.
        (250, F(3065, 2), {"ABABAB", "BABABA"}),
        # 262 = 9 x 27 + 19: equal cuts follow after 8, unlike ones after 21 1/2: 4 x 270 + 283 1/2 + 262.
        (262, F(3251, 2), {"AAABBB", "BBBAAA"}),
    ],
)
def test_six_half_drop_cuts_alternate_or_are_grouped_whichever_is_shorter(
    raw: int, takes: Fraction, order_of_rows: set[str]
) -> None:
    plan = plan_job(half_drop(raw, Piece(F(1700), F(0))))
    placed = plan.placements
    assert placed[-1].end - placed[0].start == takes
    assert "".join("B" if one.cut.row else "A" for one in placed) in order_of_rows
    assert plan.proved_shortest


def test_six_half_drop_cuts_need_half_a_repeat_on_the_whole_order_at_most() -> None:
    # MyDecozo soft-furnishing notes, half drops: raw 250 cm, repeat 27: 10 repeats, 270 each; half a repeat over all.
    cm = CENTIMETRE
    sheet = Cloth("Steps", 137 * cm, cm, Repeat(27 * cm, 45 * cm), drop=F(1, 2))
    made = job(sheet, window("Bay", 250 * cm, hang=Hang.SAME, cuts=3), seam=F(1, 2))
    assert len({cut.row for cut in cut_list(made)}) == 2
    # The guaranteed length also holds a whole repeat so that the first cut can be placed wherever the piece begins.
    assert ordered(made).guaranteed <= 6 * 270 * cm + 27 * cm / 2 + 27 * cm


def test_the_tops_of_half_drop_cuts_are_numbered_in_their_panel() -> None:
    # C. Merrick and R. Day, The Encyclopaedia of Curtains, pp. 116-119: number the tops of half-drop cuts.
    panel = cut_list(half_drop(100, cuts="3"))
    assert [(cut.number, cut.of) for cut in panel] == [(1, 3), (2, 3), (3, 3)]


def test_what_is_bought_is_rounded_up_never_down() -> None:
    # C. Merrick and R. Day, The Encyclopaedia of Curtains, pp. 116-119: round up, never down.
    for length in range(1, 73):
        bought = ordered(job(cloth(sold_by=F(9)), window("Bay", length, Panels.WHOLE))).buy
        assert length <= bought < length + 9
