"""The symmetry of a print as the checker knows it, against a pattern drawn point by point."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest

from jobs.model.choices import End, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.print import Print, Repeat
from tests.jobs.whole_jobs.print_plane import Move, looks_the_same
from tests.jobs.whole_jobs.shortest import Lane, least_end, worst

F = Fraction
ALONG, ACROSS = 8, 6
NONE, MIRROR, GLIDE = Symmetry
Flag = tuple[Fraction, Fraction, int, int]
"""A small flag of the pattern: where it stands, and how it points along and across."""


def flags(down: Symmetry, aside: Symmetry, drop: Fraction, lower: int, beyond: int) -> set[Flag]:
    """One flag at 1, 1 and all that lines ``lower`` along and ``beyond`` across make of it, in one repeat."""
    found = {(F(1), F(1), 1, 1)}
    for _ in range(2):
        if down is not NONE:
            slid = F(ACROSS, 2) if down is GLIDE else 0
            found |= {(2 * lower - a, c + slid, -x, y) for a, c, x, y in found}
        if aside is not NONE:
            slid = F(ALONG, 2) if aside is GLIDE else 0
            found |= {(a + slid, 2 * beyond - c, x, -y) for a, c, x, y in found}
    return {in_cell(flag, drop) for flag in found}


def in_cell(flag: Flag, drop: Fraction) -> Flag:
    """The same flag in the first repeat: a column further on all lies ``drop`` repeats further along."""
    along, across, *points = flag
    columns = across // ACROSS
    return ((along - columns * drop * ALONG) % ALONG, across % ACROSS, points[0], points[1])


NO_DROP = [(down, aside, F(0)) for down in Symmetry for aside in Symmetry]
DROPS = [(NONE, NONE, F(1, 3)), (MIRROR, NONE, F(1, 2)), (NONE, MIRROR, F(1, 2)), (MIRROR, MIRROR, F(1, 2))]


@pytest.mark.parametrize(("down", "aside", "drop"), [*NO_DROP, *DROPS])
def test_a_move_keeps_a_print_just_where_it_lays_every_flag_of_it_on_one_like_it(
    down: Symmetry, aside: Symmetry, drop: Fraction
) -> None:
    lower, beyond = 2 if down is not NONE else 0, 1 if aside is not NONE else 0
    sheet = Print(down, aside, mirror_offset=F(lower), mirror_offset_across=F(beyond) if aside is not NONE else None)
    cloth = Cloth("Flags", F(54), repeat=Repeat(F(ALONG), F(ACROSS)), drop=drop, print=sheet)
    drawn = flags(down, aside, drop, lower, beyond)
    half_steps = (F(n, 2) for n in range(2 * ALONG))
    for along, across, senses in product(half_steps, range(-ACROSS, ACROSS), product((1, -1), repeat=2)):
        move = Move(senses[0], F(along), senses[1], F(across))
        laid = {
            in_cell((senses[0] * a + along, senses[1] * c + across, senses[0] * x, senses[1] * y), drop)
            for a, c, x, y in drawn
        }
        assert looks_the_same(cloth, move) is (laid == drawn), move


def test_where_tops_point_to_the_last_end_the_line_below_a_row_lies_towards_the_first() -> None:
    """An offset of 2 down the hanging cloth: 2 along, or 2 back."""
    for tops, twice in ((End.FIRST, 4), (End.LAST, -4)):
        sheet = Print(MIRROR, mirror_offset=F(2), top_towards=tops)
        cloth = Cloth("Flags", F(54), repeat=Repeat(F(10), F(6)), print=sheet)
        assert looks_the_same(cloth, Move(-1, F(twice), 1, F(0)))
        assert not looks_the_same(cloth, Move(-1, F(-twice), 1, F(0)))


def test_every_order_tried_gives_the_formula_for_equal_cuts() -> None:
    """n equal upright cuts of L at a repeat V: V + (n - 1) x L in whole repeats + L. Two of 58 at 11 1/4:
    11 1/4 + 67 1/2 + 58 = 136 3/4 (common practice, no source); one of 90 at 10 is 100."""
    assert worst([Lane(F(58), F(3))] * 2, F(45, 4)) == F(547, 4)
    assert worst([Lane(F(90), F(0))], F(10)) == 100
    # From a row at 4: one begins there and ends at 62; the next row from there on is 4 + 6 x 11 1/4 = 71 1/2.
    assert least_end([Lane(F(58), F(0))] * 2, F(45, 4), F(4), F(0)) == F(259, 2)


def test_head_to_head_on_a_mirror_line_nothing_is_wasted() -> None:
    """One cut of 58 ends where the turned one begins: 11 1/4 to wait at the worst, less what the other would wait.

    The first begins 0 after a row; it ends 58 after it, 58 modulo 11 1/4 = 1 3/4, where the other begins. Just past a
    row the first waits 11 1/4: 127 1/4. The other first, it begins 1 3/4 further on and ends at 59 3/4, the next row is
    at 67 1/2 and 58 more is 125 1/2.
    """
    assert worst([Lane(F(58), F(0)), Lane(F(58), F(7, 4))], F(45, 4)) == F(251, 2)
