"""Five of the ten jobs of a workroom, each sum done by hand beside it: what the windows and the cloth make of panels.

The other five, in which more than a face is cut or the cloth has more than a print, stand in ``test_sewn_work``.
Inches; yards of 36, sold by the quarter, 9 in.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from jobs.model.cuts import Edge, Way
from tests.jobs.workroom.worked import worked

F = Fraction

BAY = """
job: Bay with three pairs at different drops
cloth: {name: Herons, width: 55, selvedge: 1/2, repeat: {along: 25, across: 27}, drop: 0, order_by: handbook,
  print: {top_to_bottom: mirror, side_to_side: none, one_way: no}}
allowances: {heading: 4, hem: 8, side_hem: 3, seam: 1/2, squaring: 1}
windows:
  - {name: Left, panels: pair, top_height: 80, finished_length: 78, rod: 36, returns: 3 1/2, overlap: 4, fullness: 2,
     row: {level_with: Middle}, room: Bay}
  - {name: Middle, panels: pair, top_height: 92, finished_length: 90, rod: 72, overlap: 4, fullness: 2,
     row: {above_foot: 10}, room: Bay}
  - {name: Right, panels: pair, top_height: 86, finished_length: 84, rod: 36, returns: 3 1/2, overlap: 4, fullness: 2,
     row: {level_with: Middle}, room: Bay}
"""


def test_a_bay_with_three_pairs_at_different_drops() -> None:
    """Left and right: 36 + 4 + 2 x 3 1/2 = 47, twice as full 94, 47 to a panel, 53 with two side hems of 3: within the
    print of 55 - 1 = 54, one cut. Middle: (72 + 4) x 2 = 152, 76, 82 with hems. Seams lie two columns, 54, apart: 1 1/2
    cuts reach 27 + 54 = 81, too little; 2 reach 108.

    Cut lengths: 78 + 12 = 90, 90 + 12 = 102, 84 + 12 = 96. Whole repeats of 25: 100, 125, 100.
    Handbook: 2 x 100 + 4 x 125 + 2 x 100 + 25 = 925; + 1 squaring = 926, 103 quarters of a yard are 927.

    Rows: 92 - (90 - 10) = 12 above the floor. Below the cut edge: middle 4 + 80 = 84, left 4 + 80 - 12 = 72, right
    4 + 86 - 12 = 78: 9, 22 and 3 once whole repeats are taken away.
    """
    bay = worked(BAY)
    assert bay.cut("Herons") == Counter({("Left", 90): 2, ("Middle", 102): 4, ("Right", 96): 2})
    assert bay.orders["Herons"].handbook == 925
    assert bay.yards("Herons") == F(103, 4)
    plan = bay.plans["Herons"]
    assert {(cut.window, cut.row) for cut in plan.cuts} == {("Left", 22), ("Middle", 9), ("Right", 3)}
    # The print mirrors from top to bottom: every right panel is turned, and the same selvedge leads in both.
    assert {(cut.hand.value, cut.way, cut.leading_edge) for cut in plan.cuts} == {
        ("left", Way.UPRIGHT, Edge.FAR),
        ("right", Way.TURNED, Edge.FAR),
    }


WIDE = """
job: Two and a half widths a panel
cloth: {name: Swifts, width: 54, selvedge: 1/2, repeat: {along: 24, across: 53}, drop: 1/2,
  print: {top_to_bottom: none, side_to_side: none, half_turn: no, one_way: yes}}
allowances: {heading: 4, hem: 8, side_hem: 2, seam: 1/2, squaring: 1}
windows:
  - {name: Hall, panels: pair, hang: same, finished_length: 92, rod: 118, returns: 3, overlap: 4, fullness: 2,
     row: {below_top: 6}}
"""


def test_two_and_a_half_widths_a_panel_of_a_half_drop() -> None:
    """118 + 4 + 2 x 3 = 128, twice 256, 128 to a panel, 132 with two side hems of 2. One column, 53, from seam to seam:
    2 cuts reach 106, 2 1/2 reach 26 1/2 + 2 x 53 = 132 1/2.

    92 + 4 + 8 = 104 to cut. A row 4 + 6 = 10 below the edge (A); over one column of a half-drop the next cut shows it
    12 lower or higher, 22 (B); the half cut is A again, and both hands' halves, upright both, are one length slit.
    Lengths: A A A B B. An A begins 12 after a B and the other way about, so from the one to the other 108 are taken,
    and from A to A 120. A B A B A: 4 x 108 + 104 = 536; B A B A A: 3 x 108 + 120 + 104 = 548.
    Just past the place of an A one waits 24 for it or 12 for a B: 560 either way, and nothing is worse.
    560 + 1 = 561, 63 quarters are 567. With a row at the first end an A begins at 24 - 10 = 14 and all ends at 550.
    """
    hall = worked(WIDE)
    assert hall.cut("Swifts") == Counter({("Hall", 104): 6})
    plan = hall.plans["Swifts"]
    assert [(cut.hand.value, cut.number, cut.row) for cut in plan.cuts] == [
        (hand, number, row) for hand in ("left", "right") for number, row in ((1, 10), (2, 22), (3, 10))
    ]
    halves = [cut for cut in plan.cuts if cut.number == 3]
    assert [cut.across for cut in halves] == [(27, 54), (0, 27)]
    assert len({cut.beside for cut in halves}) == 1
    assert hall.orders["Swifts"].guaranteed == 560
    assert hall.orders["Swifts"].handbook == 5 * 120 + 24
    assert (plan.used, plan.proved_shortest) == (550, True)
    assert hall.yards("Swifts") == F(63, 4)


def hotel() -> str:
    """Five floors of twelve windows, and five pieces of each of five dye lots."""
    windows = [
        f"  - {{name: Room {floor}{number:02}, panels: pair, hang: same, finished_length: 84, room: Floor {floor}}}"
        for floor in range(1, 6)
        for number in range(1, 13)
    ]
    pieces = [
        f"    - {{length: 17 yd, first_row: {3 * number + 1}, dye_lot: '{lot}'}}"
        for lot in range(701, 706)
        for number in range(5)
    ]
    cloth = (
        "cloth:\n  name: Laurel\n  width: 54\n  selvedge: 1/2\n  repeat: {along: 24, across: 26 1/2}\n  drop: 0\n"
        "  print: {top_to_bottom: none, side_to_side: none, half_turn: no, one_way: yes}\n  longest_piece: 17 yd\n"
    )
    head = "job: Sixty windows of a hotel\nallowances: {heading: 4, hem: 8, side_hem: 2, squaring: 1}\n"
    return head + cloth + "  pieces:\n" + "\n".join(pieces) + "\nwindows:\n" + "\n".join(windows) + "\n"


def test_a_hotel_of_sixty_windows_with_five_lots() -> None:
    """84 + 12 = 96 to cut, just 4 repeats of 24: cut after cut without waste. A piece of 17 yd, 612, waits at most 24
    for its first row: 1 + 24 + 6 x 96 = 601; a seventh cut would end at 673. So three pairs to a piece: 60 windows take
    20 of the 25 pieces. A floor of 12 takes 4, each floor hangs of one lot of 5: one piece of every lot stays whole.

    Ordered in pieces of 17 yd at most: 24 + 6 x 96 = 600 for three pairs, + 1 = 601, 67 quarters are 603; 20 x 603 =
    12,060, that is 335 yd.
    """
    laurel = worked(hotel())
    plan = laurel.plans["Laurel"]
    assert {cut.length for cut in plan.cuts} == {96}
    assert len(plan.cuts) == 120
    assert (plan.opened, plan.least_opened, len(plan.whole)) == (20, 20, 5)
    lots = {(one.cut.window[:6], plan.pieces[one.piece - 1].piece.dye_lot) for one in plan.placements}
    assert len(lots) == 5
    assert len({lot for _, lot in lots}) == 5
    assert not plan.spread
    assert not plan.mixed_rooms
    assert {plan.pieces[number - 1].piece.dye_lot for number in plan.whole} == {"701", "702", "703", "704", "705"}
    assert laurel.orders["Laurel"].pieces == (603,) * 20
    assert laurel.yards("Laurel") == 335


SHEERS = """
job: Railroaded sheers
cloth: {name: Voile, width: 118, selvedge: 1/2, run: sideways, print: {one_way: no}}
allowances: {heading: 4, hem_kind: weighted, side_hem: 1 1/2, squaring: 1}
windows:
  - {name: Long wall, panels: pair, finished_length: 96, rod: 120, returns: 3, overlap: 3, fullness: 3}
  - {name: Stairs, panels: pair, finished_length: 45, rod: 40, fullness: 3}
"""


def test_railroaded_sheers_have_no_seam_and_short_ones_lie_above_each_other() -> None:
    """A weighted hem takes 8 where none is told: 96 + 4 + 8 = 108 across, within 118 - 1 = 117. Along:
    120 + 3 + 2 x 3 = 129, three times as full 387, 193 1/2 to a panel, 196 1/2 with two side hems of 1 1/2.
    Stairs: 45 + 12 = 57, twice 114 within 117, so both panels lie above each other; 40 x 3 / 2 + 3 = 63 along.
    2 x 196 1/2 + 63 = 456, + 1 = 457; 51 quarters are 459, 12 3/4 yd.
    """
    sheers = worked(SHEERS)
    assert sheers.cut("Voile") == Counter({("Long wall", F(393, 2)): 2, ("Stairs", 63): 2})
    plan = sheers.plans["Voile"]
    assert {(cut.window, cut.height, cut.of) for cut in plan.cuts} == {("Long wall", 108, 1), ("Stairs", 57, 1)}
    # From the far printed edge down: 117 1/2 - 57 = 60 1/2, and that less 57.
    stairs = [cut.across for cut in plan.cuts if cut.window == "Stairs"]
    assert sorted(stairs) == [(F(7, 2), F(121, 2)), (F(121, 2), F(235, 2))]
    assert plan.used == 457
    assert sheers.yards("Voile") == F(51, 4)


VELVET = """
job: Velvet
cloth: {name: Moss velvet, width: 54, selvedge: 1/2, print: {one_way: yes, top_towards: last end}}
allowances: {heading: 6, hem: 10, side_hem: 3, seam: 1/2, squaring: 1}
windows:
  - {name: Music room, panels: pair, finished_length: 90, rod: 60, fullness: 2}
"""


def test_velvet_hangs_with_its_pile_one_way() -> None:
    """60 x 2 / 2 = 60 to a panel, 66 with two side hems of 3; seamed at the selvedge strips, 53 apart, 1 1/2 cuts reach
    26 1/2 + 53 = 79 1/2. 90 + 6 + 10 = 106 to cut. All lie with their tops towards the last end, so one length is slit
    for both hands: 3 x 106 = 318, + 1 = 319; 36 quarters are 324, 9 yd.
    """
    velvet = worked(VELVET)
    assert velvet.cut("Moss velvet") == Counter({("Music room", 106): 4})
    plan = velvet.plans["Moss velvet"]
    assert {(cut.way, cut.top_edge) for cut in plan.cuts} == {(Way.UPRIGHT, Edge.LAST)}
    # Tops towards the last end: the near selvedge leads in the left panel and the far one in the right.
    assert {(cut.hand.value, cut.leading_edge) for cut in plan.cuts} == {("left", Edge.NEAR), ("right", Edge.FAR)}
    assert plan.used == 319
    assert velvet.yards("Moss velvet") == 9
