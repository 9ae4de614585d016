"""Half-drops and rules of thumb as they are published, against what the plan does with them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from jobs.model.choices import Hang, Panels, Symmetry
from jobs.model.cloth import Cloth, Piece, Print, Repeat
from jobs.model.cuts import Hand
from jobs.model.job import Job
from jobs.model.lengths import CENTIMETRE
from jobs.planning.planner import plan_job
from tests.jobs.made import cloth, cut_list, job, ordered, window

F = Fraction


def half_drop(raw: int, *pieces: Piece) -> Job:
    """Two panels of three cuts, repeat 27, that mirror each other: the left one goes A, B, A, the right one B, A, B.

    Four columns lie on the cloth and three between two seams, so every second cut has its rows half a repeat off.
    """
    mirrors = Print(side_to_side=Symmetry.MIRROR)
    sheet = Cloth("Steps", F(54), repeat=Repeat(F(27), F(53, 4)), drop=F(1, 2), print=mirrors, pieces=pieces)
    return job(sheet, window("Bay", raw, cuts=3), seam=1)


def test_the_two_panels_need_three_cuts_of_each_kind() -> None:
    found = {
        hand: [cut.row for cut in cut_list(half_drop(250)) if cut.hand is hand] for hand in (Hand.LEFT, Hand.RIGHT)
    }
    assert found == {Hand.LEFT: [0, F(27, 2), 0], Hand.RIGHT: [F(27, 2), 0, F(27, 2)]}


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
    sheet = Cloth("Steps", 137 * cm, repeat=Repeat(27 * cm, 43 * cm), drop=F(1, 2))
    made = job(sheet, window("Bay", 250 * cm, hang=Hang.SAME, cuts=3), seam=F(1, 2))
    assert len({cut.row for cut in cut_list(made)}) == 2
    # The guaranteed length also holds a whole repeat so that the first cut can be placed wherever the piece begins.
    assert ordered(made).guaranteed <= 6 * 270 * cm + 27 * cm / 2 + 27 * cm


def test_the_tops_of_half_drop_cuts_are_numbered_in_their_panel() -> None:
    # C. Merrick and R. Day, The Encyclopaedia of Curtains, pp. 116-119: number the tops of half-drop cuts.
    left = [cut for cut in cut_list(half_drop(100)) if cut.hand is Hand.LEFT]
    assert [(cut.number, cut.of) for cut in left] == [(1, 3), (2, 3), (3, 3)]


def test_what_is_bought_is_rounded_up_never_down() -> None:
    # C. Merrick and R. Day, The Encyclopaedia of Curtains, pp. 116-119: round up, never down.
    for length in range(1, 73):
        bought = ordered(job(cloth(sold_by=F(9)), window("Bay", length, Panels.WHOLE))).buy
        assert length <= bought < length + 9
