"""Pairs cut from cloth run sideways, in each plane group, against what really happens to the pixels of the print."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from jobs.cutting.columns import columns_across
from jobs.model.choices import Hang, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Hand, Way
from jobs.model.job import Job
from jobs.model.print import Print, Repeat
from tests.jobs.cutting.test_plane_groups import NAMES, SAME_PIXELS, SETTINGS, cloth_of, seen, tiling_of
from tests.jobs.cutting.tilings import Array, Setting
from tests.jobs.made import below_top, cut_list, job, window
from tests.jobs.refused import NO_PAIR, refused

F = Fraction
PER_IN = 2
of_each = pytest.mark.parametrize("setting", SETTINGS, ids=NAMES)


def tall(setting: Setting, **more: object) -> Cloth:
    return replace(cloth_of(setting), width=F(110), selvedge=F(3, 2), run=Run.SIDEWAYS, **more)  # type: ignore[arg-type]


def pair(cloth: Cloth, **more: object) -> Job:
    bay = window("Bay", 26, cuts_per_panel=None, rod=F(29), fullness=F(2), row=below_top(4))
    return job(cloth, replace(bay, **more), heading=3, hem=5, side_hem=2)  # type: ignore[arg-type]


def hung(setting: Setting, cut: Cut, made: Job, repeats: int) -> Array:
    """Pixels (down, in) of a finished panel: down from its finished top, in from its leading fold.

    The panel lies so many repeats along the cloth; up from its foot to its top is across the cloth.
    """
    assert cut.across is not None
    assert made.cloth.repeat is not None
    start = cut.phase + repeats * made.cloth.repeat.along
    hem = made.allowances.side_hem
    inside = (np.arange(int((cut.length - 2 * hem) * PER_IN)) + 0.5) / PER_IN
    down = (np.arange(int(made.windows[0].finished_length * PER_IN)) + 0.5) / PER_IN
    far_top = cut.top_edge is Edge.FAR
    top = float(cut.across[1] - cut.heading if far_top else cut.across[0] + cut.heading)
    # Seen face up with its top away from you a panel lies as it hangs: its left side towards the first end.
    left_first = far_top is not (cut.way is Way.FACE_DOWN)
    leads_left = cut.hand is Hand.RIGHT
    leading = float(start + hem) if left_first is leads_left else float(start + cut.length - hem)
    along = leading + (inside if left_first is leads_left else -inside)
    across = top - down if far_top else top + down
    places = np.stack(np.meshgrid(along, across - float(columns_across(made.cloth)[0]), indexing="xy"), -1)
    return tiling_of(setting).at(places)


def panels(setting: Setting, made: Job) -> tuple[Array, Array]:
    left, right = cut_list(made)
    return hung(setting, left, made, 1), hung(setting, right, made, 7)


@of_each
def test_a_pair_run_sideways_is_called_mirrored_exactly_where_its_pixels_mirror(setting: Setting) -> None:
    made = pair(tall(setting))
    down, side, _ = seen(setting)
    if down is Symmetry.NONE and side is Symmetry.NONE:
        with refused(*NO_PAIR):
            cut_list(made)
        return
    left, right = panels(setting, made)
    assert left.shape == right.shape
    assert np.abs(left - right).max() < SAME_PIXELS


@of_each
def test_one_way_cloth_run_sideways_mirrors_only_about_a_line_across_it(setting: Setting) -> None:
    cloth = tall(setting)
    made = pair(replace(cloth, print=replace(cloth.print, one_way=True)))
    if seen(setting)[0] is Symmetry.NONE:
        with refused(*NO_PAIR):
            cut_list(made)
        return
    assert {cut.top_edge for cut in cut_list(made)} == {Edge.FAR}
    left, right = panels(setting, made)
    assert np.abs(left - right).max() < SAME_PIXELS


@of_each
def test_a_line_along_the_cloth_alone_turns_the_right_panel(setting: Setting) -> None:
    if seen(setting)[0] is not Symmetry.NONE or seen(setting)[1] is Symmetry.NONE:
        return
    left, right = cut_list(pair(tall(setting)))
    assert (left.top_edge, right.top_edge) == (Edge.FAR, Edge.NEAR)
    assert (left.way, right.way) == (Way.UPRIGHT, Way.TURNED)


@of_each
def test_cloth_alike_on_both_faces_mirrors_sideways_too(setting: Setting) -> None:
    left, right = panels(setting, pair(tall(setting, faces_alike=True)))
    assert np.abs(left - right).max() < SAME_PIXELS


@of_each
def test_a_pair_hung_the_same_way_shows_the_same_print_from_left_to_right(setting: Setting) -> None:
    left, right = panels(setting, pair(tall(setting), hang=Hang.SAME))
    assert np.abs(left - right[:, ::-1]).max() < SAME_PIXELS


@of_each
@pytest.mark.parametrize("column", ["2", "31/8"])
@pytest.mark.parametrize("row", [None, below_top("21/4")])
def test_columns_anywhere_and_rows_as_they_lie_mirror_as_well(setting: Setting, column: str, row: object) -> None:
    if set(seen(setting)[:2]) == {Symmetry.NONE}:
        return
    left, right = panels(setting, pair(tall(setting, first_column=F(column)), row=row))
    assert np.abs(left - right).max() < SAME_PIXELS


@of_each
@pytest.mark.parametrize("column", ["2", "31/8"])
def test_the_row_stated_of_an_upright_panel_is_one_of_the_print(setting: Setting, column: str) -> None:
    # A row 4 in below the finished top, under a heading of 3 in, is 7 in below the top edge of the left one. Where the
    # print mirrors about a line across the cloth with a slide, the rows of the right one lie half a repeat from there.
    if set(seen(setting)[:2]) == {Symmetry.NONE}:
        return
    made = pair(tall(setting, first_column=F(column)))
    assert made.cloth.repeat is not None
    assert made.cloth.repeat.across is not None
    for cut in cut_list(made):
        assert cut.across is not None
        if cut.way is Way.UPRIGHT:
            assert cut.row == (cut.across[1] - F(column)) % made.cloth.repeat.across


def test_a_mistaken_mirror_of_cloth_run_sideways_would_show_in_the_pixels() -> None:
    # A half-turn alone, taken for a mirror: the comparison must be able to fail.
    setting = next(one for one in SETTINGS if one.half_turn and set(seen(one)[:2]) == {Symmetry.NONE})
    wrong = replace(tall(setting), print=Print(side_to_side=Symmetry.MIRROR))
    left, right = panels(setting, pair(wrong))
    assert np.abs(left - right).max() > 0.1
    assert isinstance(wrong.repeat, Repeat)
