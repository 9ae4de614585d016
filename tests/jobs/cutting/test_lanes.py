"""Half cuts and narrow panels side by side in one length of cloth."""

from collections import defaultdict
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.model.choices import Hang, Panels, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Hand
from jobs.model.job import Job
from jobs.model.print import Print, Repeat
from jobs.model.window import Window
from tests.jobs.cutting.hanging import far, hung, near
from tests.jobs.cutting.tilings import Lattice, Tiling, side_to_side, top_to_bottom
from tests.jobs.made import below_top, cloth, cut_list, job, window

F = Fraction
PLAIN = Cloth("Linen", F(54), F(1, 2))


def printed(drop: Fraction = F(0), sheet: Print | None = None, across: int = 9) -> Cloth:  # noqa: B008
    return Cloth("Tiling", F(54), F(1, 2), Repeat(F(12), F(across)), drop, sheet or Print())


def bay(name: str, panels: Panels, rod: Fraction | int | None = None, **more: object) -> Window:
    made = window(name, 26, panels, row=below_top(4), fullness=F(2), **more)
    return made if rod is None else replace(made, rod=F(rod), cuts_per_panel=None)


def made_of(of: Cloth, *windows: Window) -> Job:
    if of.repeat is None:
        windows = tuple(replace(one, row=None) for one in windows)
    return job(of, *windows, heading=3, hem=5, side_hem=1, seam="1/2")


def lanes(cuts: tuple[Cut, ...]) -> list[set[str]]:
    found = defaultdict(set)
    for cut in cuts:
        if cut.beside:
            found[cut.beside].add(cut.id)
    return sorted(found.values(), key=min)


def check_lanes(cuts: tuple[Cut, ...], made: Job) -> None:
    """Cuts that share a length agree where it is cut off and keep clear of each other; sides lie in their strip."""
    found = defaultdict(list)
    for cut in cuts:
        low, high = cut.across
        assert 0 <= low < high <= made.cloth.width
        assert low <= near(cut).line < far(cut).line <= high
        if cut.beside:
            found[cut.beside].append(cut)
    for lane in found.values():
        along = made.cloth.repeat.along if made.cloth.repeat else F(1)
        assert len({cut.before + cut.length + cut.after for cut in lane}) == 1
        assert not made.cloth.repeat or len({(cut.phase - cut.before) % along for cut in lane}) == 1
        assert min(cut.before for cut in lane) == min(cut.after for cut in lane) == 0
        assert len(lane) > 1
        assert all(a.across[1] <= b.across[0] for a, b in pairwise(sorted(lane, key=lambda cut: cut.across)))


def test_one_split_cut_serves_both_hands_where_both_lie_the_same_way():
    # C. Merrick and R. Day, The Encyclopaedia of Curtains, pp. 116-119: half cuts to the outside.
    made = made_of(printed(), bay("Bay", Panels.PAIR, hang=Hang.SAME, cuts=F(3, 2)))
    cuts = cut_list(made)
    check_lanes(cuts, made)
    assert [cut.id for cut in cuts] == ["bay-left-1", "bay-left-2", "bay-right-1", "bay-right-2"]
    assert lanes(cuts) == [{"bay-left-2", "bay-right-2"}]
    assert [cut.across for cut in cuts] == [(0, 54), (27, 54), (0, 54), (0, 27)]
    halves = cuts[1], cuts[3]
    # The half is seamed on its leading side, where the whole cut before it is, and hemmed along the slit.
    assert [(near(cut).joined, far(cut).joined) for cut in halves] == [(False, True), (True, False)]
    assert (far(halves[0]), near(halves[1])) == (far(cuts[2]), near(cuts[0]))


def test_a_pair_with_one_panel_turned_needs_a_cut_for_each_half():
    turned = printed(sheet=Print(top_to_bottom=Symmetry.MIRROR))
    cuts = cut_list(made_of(turned, bay("Bay", Panels.PAIR, cuts=F(3, 2))))
    assert lanes(cuts) == []
    assert [cut.across for cut in cuts] == [(0, 54), (27, 54), (0, 54), (27, 54)]


@pytest.mark.parametrize(("drop", "longer"), [("0", 0), ("1/2", 0), ("1/3", 4)])
def test_the_halves_of_both_hands_share_a_length_each_on_its_own_row(drop, longer):
    # Five columns of 9 between the seams: the left half lies 5 d repeats earlier, the right one 5 d later. With d = 1/3
    # and a repeat of 12 that is 20 each way, 40 together: 4 beyond three repeats, or 8 short of four.
    made = made_of(printed(F(drop)), bay("Bay", Panels.PAIR, hang=Hang.SAME, cuts=F(3, 2)))
    cuts = cut_list(made)
    check_lanes(cuts, made)
    assert lanes(cuts) == [{"bay-left-2", "bay-right-2"}]
    assert {cut.shared_length for cut in cuts if cut.beside} == {34 + longer}


@pytest.mark.parametrize("where", ["cloth", "window"])
def test_sharing_can_be_forbidden(where):
    one = bay("Bay", Panels.PAIR, hang=Hang.SAME, cuts=F(3, 2), side_by_side=where == "cloth")
    narrow = bay("Slit", Panels.PAIR, 20, hang=Hang.SAME, side_by_side=where == "cloth")
    cuts = cut_list(made_of(replace(PLAIN, side_by_side=where == "window"), one, narrow))
    assert lanes(cuts) == []
    # A narrow panel on its own keeps the whole width, a half cut is a half cut all the same.
    assert [cut.across for cut in cuts if cut.window == "Slit"] == [(0, 54), (0, 54)]


def test_halves_of_plain_cloth_share_whatever_their_hand():
    windows = [bay(name, Panels.LEFT, cuts=F(3, 2)) for name in "ABC"]
    made = made_of(PLAIN, *windows)
    cuts = cut_list(made)
    check_lanes(cuts, made)
    assert lanes(cuts) == [{"a-left-2", "b-left-2"}]
    one, other = (next(cut for cut in cuts if cut.id == name) for name in ("a-left-2", "b-left-2"))
    # A left panel of plain cloth lies with its far side leading: one half is seamed along the slit, 1/2 inside it.
    assert (far(one).line, far(one).joined) == (F(53, 2), True)
    assert (far(other).line, far(other).joined) == (F(107, 2), True)


def test_three_narrow_panels_lie_side_by_side():
    windows = [bay(name, Panels.WHOLE, 8) for name in ("Larder", "Porch", "Stair")]
    made = made_of(PLAIN, *windows)
    # 16 + 2 hems of 1 = 18: 18 x 2 = 36, a third would end at 54 1/2.
    cuts = cut_list(made)
    check_lanes(cuts, made)
    assert lanes(cuts) == [{"larder-whole", "porch-whole"}]
    assert [cut.across for cut in cuts] == [(0, F(37, 2)), (F(37, 2), F(73, 2)), (0, F(37, 2))]
    slim = cut_list(made_of(PLAIN, *(replace(one, rod=F(7)) for one in windows)))
    assert lanes(slim) == [{"larder-whole", "porch-whole", "stair-whole"}]


def test_narrow_panels_of_other_lengths_share_the_longest():
    long = replace(bay("Long", Panels.WHOLE, 8), finished_length=F(30))
    cuts = cut_list(made_of(PLAIN, bay("Short", Panels.WHOLE, 8), long))
    assert lanes(cuts) == [{"long-whole", "short-whole"}]
    # 26 + 8 and 30 + 8: the short one leaves 4 at its foot.
    assert [(cut.length, cut.before, cut.after) for cut in cuts] == [(34, 0, 4), (38, 0, 0)]


@pytest.mark.parametrize(("drop", "start"), [(F(0), 9), (F(1, 2), 18), (F(1, 3), 27)])
def test_narrow_panels_of_a_print_begin_whole_level_columns_apart(drop, start):
    # 7 + 2 = 9 wide: the next column is 9 further, the next level one of a half-drop 18, of a drop of 1/3 27.
    made = made_of(printed(drop), bay("Bay", Panels.PAIR, 7, hang=Hang.SAME))
    left, right = cut_list(made)
    check_lanes((left, right), made)
    assert left.beside == right.beside != ""
    assert near(right).line - near(left).line == start
    tiling = Tiling(Lattice(12.0, 9.0, float(drop)), [])
    first, second = (hung(tiling, [cut], made, F(0), [3]) for cut in (left, right))
    # Seen from left to right both show the same print (columns count in from the leading edges).
    assert np.abs(first[:, ::-1] - second).max() < 1e-9


@pytest.mark.parametrize("drop", [F(0), F(1, 2)])
@pytest.mark.parametrize(
    ("sheet", "steps"),
    [
        (Print(side_to_side=Symmetry.MIRROR, mirror_offset_across=F(2)), [side_to_side(2)]),
        (Print(top_to_bottom=Symmetry.MIRROR, mirror_offset=F(3, 2)), [top_to_bottom(1.5)]),
        (Print(side_to_side=Symmetry.GLIDE, mirror_offset_across=F(2)), [side_to_side(2, 6)]),
        (Print(top_to_bottom=Symmetry.GLIDE, mirror_offset=F(3, 2)), [top_to_bottom(1.5, 4.5)]),
    ],
)
def test_a_mirrored_pair_of_narrow_panels_mirrors(sheet, steps, drop):
    if drop and Symmetry.GLIDE in (sheet.top_to_bottom, sheet.side_to_side):
        return
    made = made_of(printed(drop, sheet), bay("Bay", Panels.PAIR, 7))
    left, right = cut_list(made)
    check_lanes((left, right), made)
    tiling = Tiling(Lattice(12.0, 9.0, float(drop)), steps)
    shown = [hung(tiling, [cut], made, F(0), [3]) for cut in (left, right)]
    assert shown[0].shape == shown[1].shape
    assert np.abs(shown[0] - shown[1]).max() < 1e-9
    # Upright or turned, level or not: each lies on its own row in one length.
    assert left.beside == right.beside != ""


def test_half_panels_share_where_half_the_cloth_is_whole_columns():
    fitting = Cloth("Even", F(54), F(0), Repeat(F(12), F(9)))
    shared = made_of(fitting, bay("Bay", Panels.PAIR, hang=Hang.SAME, cuts=F(1, 2)))
    assert [cut.across for cut in cut_list(shared)] == [(0, 27), (27, 54)]
    own = made_of(printed(across=10), bay("Bay", Panels.PAIR, hang=Hang.SAME, cuts=F(1, 2)))
    assert lanes(cut_list(own)) == []


@settings(max_examples=60)
@given(
    st.lists(st.tuples(st.sampled_from(list(Panels)), st.integers(3, 60), st.booleans()), min_size=1, max_size=5),
    st.booleans(),
    st.randoms(use_true_random=False),
)
def test_shared_lengths_agree_and_the_order_of_windows_changes_nothing(windows, plain, random):
    of = PLAIN if plain else printed()
    bays = [
        bay(f"Bay {n}", panels, rod, **({"hang": Hang.SAME} if panels is Panels.PAIR else {}), side_by_side=share)
        for n, (panels, rod, share) in enumerate(windows)
    ]
    made = made_of(of, *bays)
    cuts = cut_list(made)
    check_lanes(cuts, made)
    random.shuffle(bays)
    assert set(cut_list(made_of(of, *bays))) == set(cuts)


def test_names_of_lanes_do_not_depend_on_the_order_of_the_windows():
    windows = [bay(name, Panels.WHOLE, 7) for name in "CAB"]
    found = {frozenset(cut_list(made_of(PLAIN, *order))) for order in permutations(windows)}
    assert len(found) == 1


def test_hands_and_selvedges_of_half_cuts_are_those_of_their_panel():
    cuts = cut_list(made_of(cloth(), bay("Bay", Panels.PAIR, hang=Hang.SAME, cuts=F(5, 2))))
    assert [(cut.hand, cut.number, cut.of, cut.leading_edge) for cut in cuts if cut.beside] == [
        (Hand.LEFT, 3, 3, Edge.FAR),
        (Hand.RIGHT, 3, 3, Edge.NEAR),
    ]
