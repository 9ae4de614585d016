"""Where the cuts of a panel are seamed, and how many it takes: the selvedge counts as seam allowance."""

import random
from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.columns import seams
from jobs.cutting.resolve import resolve
from jobs.model.allowances import Allowances
from jobs.model.choices import HalfAt, Hang, Panels, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Hand
from jobs.model.job import Job
from jobs.model.print import Repeat
from jobs.model.problems import Code
from jobs.model.schema import EachSide
from jobs.ordering import order
from tests.jobs.made import cut_list, job, window
from tests.jobs.packing.seam_checker import seam_faults
from tests.jobs.refused import refused

F = Fraction
ALLOWED = {"heading": 4, "hem": 8, "side_hem": 3, "seam": "1/2"}


def sheet(across: Fraction | str | int | None, *, width: str | int = 55, **more: object) -> Cloth:
    """Cloth with 1/2 in selvedges and a repeat of 25 along."""
    of = Repeat(F(25), None if across is None else F(across))
    return replace(Cloth("Reeds", F(width), F(1, 2), of), **more)


def bay(of: Cloth, **more: object) -> Job:
    """A pair: rod 72, returns 3 1/2, overlap 4, fullness 2: (72 + 4 + 7) x 2 / 2 = 83, 89 with two side hems of 3."""
    made = window("Bay", 84, rod=F(72), returns=F(7, 2), overlap=F(4), fullness=F(2), cuts_per_panel=None)
    return job(of, replace(made, hang=Hang.SAME, **more), **ALLOWED)


def lines(of: Cloth, **given: object) -> tuple[Fraction, Fraction, int]:
    """How far inside the near selvedge edge the seam lies, how far the two lie apart, and how many columns."""
    allowances = Allowances(seam=F(1, 2), **{name: F(value) for name, value in given.items()})
    found = seams(of, allowances)
    return found.near, found.between, found.columns


@pytest.mark.parametrize(("across", "columns"), [(27, 2), ("27/2", 4), (54, 1)])
def test_whole_columns_that_fill_the_print_are_seamed_in_the_selvedge(across, columns):
    # *Figuring Pattern Repeats*, DIY Ideas, p. 1; Pate Meadows, matching prints: the left edge of a print continues its
    # right one. M. Yates, *Textiles: A Handbook for Designers*: 54 wide carries 27 across; 13 1/2: common practice, no
    # source. 55 over all, 1/2 in selvedges: seams at 1/2 and 54 1/2.
    assert lines(sheet(across)) == (F(1, 2), 54, columns)


@pytest.mark.parametrize(
    ("across", "drop"), [(27, "0"), ("27/2", "0"), (27, "1/2"), ("27/2", "1/2"), (54, "0"), (54, "1/2"), (54, "1/3")]
)
def test_a_pair_of_89_in_takes_four_cuts_whatever_fills_the_print(across, drop):
    # Two cuts reach 54 + 54 = 108 from printed edge to printed edge, 1 1/2 reach 27 + 54 = 81.
    made = bay(sheet(across, drop=F(drop)))
    (one,) = resolve(made).sound().windows
    assert (one.width.needed, one.count, len(one.cuts)) == (89, 2, 4)
    assert seam_faults(made, one.cuts) == []


def test_it_is_twelve_yards_and_not_twenty():
    # 84 + 12 = 96 of repeat 25: handbook 4 x 100 + 25 = 425; guaranteed 25 + 3 x 100 + 96 = 421 in, 11.7 yd.
    found = order(resolve(bay(sheet(27))).sound())
    assert (found.handbook, found.guaranteed, found.buy) == (425, 421, 423)


def test_cloth_48_wide_carries_two_columns_of_24():
    # M. Yates, *Textiles*: 48 wide (of print) carries 24 across; with selvedges of 1/2 it measures 49.
    assert lines(sheet(24, width=49)) == (F(1, 2), 48, 2)
    # Two cuts reach 96 and 89 is wanted.
    assert resolve(bay(sheet(24, width=49))).sound().windows[0].count == 2


def test_cloth_48_from_edge_to_edge_has_room_for_one_column_of_24():
    # 47 of print: seams at 12 and 36. 2 1/2 cuts reach 23 1/2 + 48 = 71 1/2, three 47 + 48 = 95.
    assert lines(sheet(24, width=48)) == (12, 24, 1)
    assert resolve(bay(sheet(24, width=48))).sound().windows[0].count == 3


def test_half_drop_joins_of_a_repeat_as_wide_as_the_print_alternate():
    # One column from seam to seam: the rows of every second cut lie half of 25 away.
    cuts = cut_list(bay(sheet(54, drop=F(1, 2))))
    rows = {hand: [cut.row for cut in cuts if cut.hand is hand] for hand in (Hand.LEFT, Hand.RIGHT)}
    assert rows == {Hand.LEFT: [4, F(33, 2)], Hand.RIGHT: [4, F(33, 2)]}


def test_a_straight_repeat_wider_than_the_print_is_joined_where_the_print_ends():
    made = bay(sheet(60))
    found = seams(made.cloth, made.allowances)
    assert (found.near, found.between, found.columns, found.at_printed_edge) == (F(1, 2), 54, 0, True)
    assert {cut.row for cut in cut_list(made)} == {4}


def test_a_half_drop_repeat_that_only_the_selvedges_are_missing_of_steps_by_one_column():
    made = bay(sheet("109/2", drop=F(1, 2)))
    assert [cut.row for cut in cut_list(made)] == [4, F(33, 2), 4, F(33, 2)]


@pytest.mark.parametrize("wide", [60, 108])
def test_a_half_drop_repeat_wider_than_the_cloth_is_refused_with_what_to_write(wide):
    with refused(Code.NO_COLUMN_TWICE) as problems:
        cut_list(bay(sheet(wide, drop=F(1, 2))))
    assert (problems[0].value("across"), problems[0].value("printed")) == (wide, 54)


def test_too_little_outside_the_seam_is_refused_with_what_would_be_left():
    # 54 from edge to edge with selvedges of 1/4 and 53 1/2 across: 1/4 would be left, 3/8 must.
    of = replace(sheet("107/2", width=54), selvedge=F(1, 4))
    with refused(Code.NO_ROOM_FOR_SEAMS) as problems:
        cut_list(bay(of))
    assert (problems[0].value("left"), problems[0].value("least")) == (F(1, 4), F(3, 8))
    told = bay(of)
    told = replace(told, allowances=replace(told.allowances, least_seam=F(1, 4)))
    assert resolve(told).sound().windows[0].count == 2


def test_a_column_that_leaves_too_little_outside_the_seams_is_given_up():
    # 54 from edge to edge, no selvedge: four columns of 13 1/2 leave nothing, three 6 3/4 at each side.
    of = replace(sheet("27/2", width=54), selvedge=F(0))
    assert lines(of) == (F(27, 4), F(81, 2), 3)
    assert lines(of, least_seam=0) == (0, 54, 4)


def test_plain_cloth_is_seamed_at_the_larger_of_selvedge_and_seam():
    for selvedge, inset in (("0", "1/2"), ("1/4", "1/2"), ("1/2", "1/2"), ("3/4", "3/4")):
        assert lines(Cloth("Linen", F(55), F(selvedge))) == (F(inset), 55 - 2 * F(inset), 0)


def test_print_is_trimmed_beyond_the_allowance_and_a_selvedge_is_not():
    wide, filled = bay(sheet(24)), bay(sheet(27))
    # 55 over all, two columns of 24: seams at 3 1/2, of which 1/2 stays.
    assert {(cut.return_side.line, cut.return_side.trim) for cut in cut_list(wide) if cut.number == 1} == {(F(7, 2), 3)}
    assert {(cut.return_side.line, cut.return_side.trim) for cut in cut_list(filled) if cut.number == 1} == {
        (F(1, 2), 0)
    }


def test_less_than_the_wanted_seam_is_left_and_not_refused():
    # Selvedges of 3/8 and four columns of 13 1/2 on 54 3/4: 3/8 stays outside the seams, 1/2 is wanted.
    of = replace(sheet("27/2", width="219/4"), selvedge=F(3, 8))
    assert lines(of) == (F(3, 8), 54, 4)
    assert cut_list(bay(of))[0].return_side.trim == 0


def test_unlike_selvedges_move_the_seams_with_the_print():
    # 55 1/4 over all, strips of 1/2 near and 3/4 far: 54 of print, seams at its edges.
    of = replace(sheet(27, width="221/4"), selvedge=EachSide(F(1, 2), F(3, 4)))
    found = seams(of, Allowances(seam=F(1, 2)))
    assert (found.near, found.far, found.between, found.columns) == (F(1, 2), F(3, 4), 54, 2)
    for cut in cut_list(bay(of)):
        near = cut.leading_side if cut.leading_edge is Edge.NEAR else cut.return_side
        far = cut.return_side if cut.leading_edge is Edge.NEAR else cut.leading_side
        assert (near.line, far.line) == ((F(1, 2), F(15, 4)) if near.joined else (F(7, 2), F(3, 4)))


def test_the_half_of_a_plain_panel_is_seamed_along_its_slit_only_where_it_still_reaches():
    # 55 wide, selvedge and seam 1/2: 1 1/2 cuts reach 27 + 54 = 81; seamed along the slit 1/2 less.
    def two_lefts(rod: str) -> Job:
        more = {"panels": Panels.LEFT, "returns": F(0), "overlap": F(0), "fullness": F(1), "rod": F(rod)}
        one = bay(Cloth("Linen", F(55), F(1, 2)), **more)
        return replace(one, windows=(*one.windows, replace(one.windows[0], name="Nook")))

    shared = [cut.beside for cut in cut_list(two_lefts("149/2")) if cut.number == 2]
    alone = [cut.beside for cut in cut_list(two_lefts("75")) if cut.number == 2]
    assert (len(set(shared)), alone) == (1, ["", ""])
    assert all(shared)


def whole_panel(rod: str | None, cuts: str | None = None, **more: object) -> Job:
    """One panel for all of the window, flat as wide as its rod, without hems."""
    given = {"rod": None if rod is None else F(rod), "cuts_per_panel": None if cuts is None else F(cuts)}
    blank = window("Bay", 84, Panels.WHOLE, hang=Hang.SAME, fullness=F(1), half_at=HalfAt.BOTH)
    return job(replace(sheet(27), **more), replace(blank, **given), heading=4, hem=8, seam="1/2")


@pytest.mark.parametrize(
    ("rod", "parts"),
    [
        # A whole cut in the middle between its two seams is 54; a quarter at either side ends at its slit, 55/4 - 1/2
        # from its seam: 54 + 26 1/2 = 80 1/2; a half 27 from it: 108; three wholes reach 54 + 108 = 162.
        ("54", ["1"]),
        ("161/2", ["1/4", "1", "1/4"]),
        ("81", ["1/2", "1", "1/2"]),
        ("108", ["1/2", "1", "1/2"]),
        ("109", ["1", "1", "1"]),
        ("163", ["1/4", "1", "1", "1", "1/4"]),
        ("216", ["1/2", "1", "1", "1", "1/2"]),
    ],
)
def test_a_panel_without_a_hand_has_a_whole_cut_in_the_middle(rod, parts):
    # BHG Australia column; K. Stein (workroom practice): whole width in the middle, a half at each side.
    made = whole_panel(rod)
    cuts = cut_list(made)
    assert [str((cut.across[1] - cut.across[0]) / 55) for cut in cuts] == parts
    assert seam_faults(made, cuts) == []
    narrow = [cut.beside for cut in cuts if cut.across != (0, 55)]
    assert len(set(narrow)) <= 1
    assert all(narrow)


def test_the_outer_pieces_beside_a_middle_cut_are_one_length_on_the_same_row():
    # Half-drop, one column from seam to seam: both outer pieces lie half a repeat from the middle, which has the row.
    cuts = cut_list(whole_panel("100", repeat=Repeat(F(25), F(54)), drop=F(1, 2)))
    assert [cut.row for cut in cuts] == [F(33, 2), 4, F(33, 2)]
    assert cuts[0].beside == cuts[2].beside != ""
    assert {cuts[0].across, cuts[2].across} == {(0, F(55, 2)), (F(55, 2), 55)}


def test_two_and_a_half_cuts_cannot_have_a_whole_one_in_the_middle():
    with refused(Code.HALF_NOT_SPLIT):
        cut_list(whole_panel(None, "5/2"))


@pytest.mark.parametrize("panels", [Panels.LEFT, Panels.RIGHT])
def test_a_half_cut_may_lead(panels):
    made = bay(sheet("27/2"), panels=panels, rod=F(40), returns=F(0), overlap=F(0), half_at=HalfAt.LEADING)
    # 40 x 2 + 6 = 86: two cuts; 36 x 2 + 6 = 78: one and a half reach 27 + 54 = 81.
    less = replace(made, windows=(replace(made.windows[0], rod=F(36)),))
    assert [cut.across == (0, 55) for cut in cut_list(made)] == [True, True]
    half, whole = cut_list(less)
    assert (whole.across, half.number, half.leading_side.joined, half.return_side.joined) == ((0, 55), 1, False, True)
    assert seam_faults(less, (half, whole)) == []
    # The whole cut has the row that is asked for.
    assert whole.row == 4


def test_a_half_cut_does_not_lead_in_a_pair_on_mirrored_columns():
    mirrors = replace(sheet("27/2").print, side_to_side=Symmetry.MIRROR)
    made = bay(sheet("27/2", print=mirrors), rod=F(60), half_at=HalfAt.LEADING)
    made = replace(made, windows=(replace(made.windows[0], hang=Hang.MIRRORED),))
    with refused(Code.HALF_LEADS_MIRRORED):
        cut_list(made)


def random_bay(seed: int) -> Job:
    """A window or two of any width on cloth with any print; the same seed gives the same job."""
    dice = random.Random(seed)
    strips = [dice.choice([F(0), F(3, 8), F(1, 2), F(3, 4)]) for _ in range(2)]
    of = Cloth(
        "Reeds",
        F(dice.choice([48, 54, 55, 56])),
        EachSide(*strips) if dice.random() < 0.3 else strips[0],
        dice.choice(
            [None, Repeat(F(25), dice.choice([None, *map(F, ("9", "27/2", "24", "27", "53", "54", "55", "60"))]))]
        ),
    )
    drop = dice.choice([F(0), F(1, 2), F(1, 3)]) if of.repeat is not None else F(0)
    kinds = [
        window(
            name,
            dice.randrange(40, 120),
            dice.choice(list(Panels)),
            rod=F(dice.randrange(40, 600), 4),
            cuts_per_panel=None,
            fullness=dice.choice([F(1), F(3, 2), F(2), F(5, 2)]),
            returns=F(dice.randrange(0, 10), 2),
            hang=Hang.SAME,
            half_at=dice.choice([HalfAt.RETURN, HalfAt.LEADING]),
        )
        for name in ("Bay", "Nook")[: dice.randrange(1, 3)]
    ]
    kinds = [replace(kind, half_at=HalfAt.BOTH) if kind.panels is Panels.WHOLE else kind for kind in kinds]
    return job(replace(of, drop=drop), *kinds, side_hem=dice.choice([0, 2]), seam=dice.choice(["1/4", "1/2", "1"]))


def test_random_panels_stand_before_the_checker():
    seen: set[str] = set()
    for seed in range(400):
        made = random_bay(seed)
        found = resolve(made)
        codes = {one.code for one in found.problems}
        refusals = {Code.ACROSS_NOT_KNOWN, Code.NO_ROOM_FOR_SEAMS, Code.NO_COLUMN_TWICE, Code.DROP_NEEDS_COLUMNS}
        assert codes <= refusals, seed
        seen |= {"refused"} if codes else {f"joined, {made.cloth.repeat is not None}"}
        assert seam_faults(made, found.cuts) == [], seed
    assert seen == {"refused", "joined, True", "joined, False"}


def test_the_checker_finds_what_is_wrong_with_a_panel():
    made = bay(sheet(27))
    first, second = (cut for cut in cut_list(made) if cut.hand is Hand.LEFT)
    for wrong in (
        [first, replace(second, row=(second.row or 0) + 1)],
        [first, replace(second, leading_side=replace(second.leading_side, line=F(1)))],
        [replace(first, return_side=replace(first.return_side, line=F(1, 4))), second],
        [first],
        [first, replace(second, number=2), replace(second, number=3)],
    ):
        assert seam_faults(made, wrong) != []
