"""What the program says of a print in each plane group, against what really happens to its pixels."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from jobs.model.choices import End, Hang, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Hand, Way
from jobs.model.groups import GROUPS
from jobs.model.job import Job
from jobs.model.print import Print, Repeat
from jobs.model.problems import JobRefused
from jobs.prints.pairs import second_panel
from tests.jobs.cutting.hanging import hung
from tests.jobs.cutting.tilings import Array, Setting, Tiling, settings
from tests.jobs.made import below_top, cut_list, job, window
from tests.jobs.refused import NO_PAIR, refused

F = Fraction
SETTINGS = settings()
SAME_PIXELS = 1e-6
"""Brightness, of about 5 all told: the columns of six-sided prints are no fraction of an inch and are rounded."""
NAMES = [f"{one.name}, drop {one.lattice.drop:.2g}, along {one.lattice.along:.3g}" for one in SETTINGS]
of_each = pytest.mark.parametrize("setting", SETTINGS, ids=NAMES)


def tiling_of(setting: Setting) -> Tiling:
    return Tiling(setting.lattice, list(setting.steps))


def columns_of(setting: Setting) -> int:
    return F(setting.lattice.drop).limit_denominator(6).denominator


def shifts_that_match(flipped: Array, cell: Array) -> list[tuple[int, int]]:
    """Shifts (along, across), in pixels, by which the flipped cell becomes the cell itself."""
    found = []
    power = np.sum(cell**2)
    alike = np.fft.ifft2(np.fft.fft2(cell) * np.conj(np.fft.fft2(flipped))).real
    for along, across in np.argwhere(alike > power * (1 - 1e-3)):
        if np.abs(np.roll(flipped, (along, across), (0, 1)) - cell).max() < SAME_PIXELS:
            found.append((int(along), int(across)))
    return found


def seen(setting: Setting) -> tuple[Symmetry, Symmetry, bool]:
    """Mirror, glide or none in both directions, and half-turn, found in the pixels alone."""
    cell = tiling_of(setting).cell(columns_of(setting))
    back_along, back_across = np.roll(cell[::-1], 1, 0), np.roll(cell[:, ::-1], 1, 1)
    down = shifts_that_match(back_along, cell)
    side = shifts_that_match(back_across, cell)
    half = shifts_that_match(np.roll(back_along[:, ::-1], 1, 1), cell)
    return (
        Symmetry.MIRROR if any(across == 0 for _, across in down) else Symmetry.GLIDE if down else Symmetry.NONE,
        Symmetry.MIRROR if any(along == 0 for along, _ in side) else Symmetry.GLIDE if side else Symmetry.NONE,
        bool(half),
    )


def cloth_of(setting: Setting) -> Cloth:
    lattice = setting.lattice
    sheet = Print(
        setting.top_to_bottom,
        setting.side_to_side,
        setting.half_turn,
        setting.mirror_offset,
        group=setting.group,
        mirror_offset_across=setting.mirror_offset_across if setting.side_to_side is not Symmetry.NONE else None,
    )
    along, across = (F(length).limit_denominator(10**9) for length in (lattice.along, lattice.across))
    return Cloth("Tiling", F(54), F(1, 2), Repeat(along, across), F(lattice.drop).limit_denominator(6), sheet)


def pair(cloth: Cloth, cuts: str = "1", **more: object) -> Job:
    bay = window("Bay", 26, cuts=1, row=below_top(4), cuts_per_panel=F(cuts), **more)
    return job(cloth, bay, heading=3, hem=5, side_hem=2, seam="1/2")


class TurnedRound:
    """The same print on cloth that is laid with its other end first."""

    def __init__(self, tiling: Tiling) -> None:
        self.tiling = tiling

    def at(self, place: Array) -> Array:
        return self.tiling.at(-place)


def laid_the_other_way_round(cloth: Cloth) -> Cloth:
    """The same cloth with its other end first: what is measured from the near selvedge is measured anew."""
    across = cloth.print.mirror_offset_across
    if across is not None:
        assert cloth.repeat is not None
        assert cloth.repeat.across is not None
        across = -across % cloth.repeat.across
    return replace(cloth, print=replace(cloth.print, top_towards=End.LAST, mirror_offset_across=across))


def panels(setting: Setting, made: Job, tiling: Tiling | TurnedRound | None = None) -> tuple[Array, Array]:
    """Both panels of the pair, each cut laid somewhere else on the cloth."""
    cuts, tiling = cut_list(made), tiling or tiling_of(setting)
    left, right = ([cut for cut in cuts if cut.hand is hand] for hand in (Hand.LEFT, Hand.RIGHT))
    row = F(17, 4)
    return (
        hung(tiling, left, made, row, range(1, 1 + len(left))),
        hung(tiling, right, made, row, range(7, 7 + 2 * len(right), 2)),
    )


def test_every_group_is_tried_in_every_setting_of_the_table():
    tried = {(one.group, one.top_to_bottom, one.side_to_side, one.half_turn) for one in SETTINGS}
    assert tried == {
        (group, one.top_to_bottom, one.side_to_side, one.half_turn) for group, ways in GROUPS.items() for one in ways
    }


@of_each
def test_the_table_says_of_each_group_what_its_pixels_show(setting):
    assert seen(setting) == (setting.top_to_bottom, setting.side_to_side, setting.half_turn)


@of_each
@pytest.mark.parametrize("cuts", ["1", "1 1/2", "2"])
def test_a_pair_is_called_mirrored_exactly_where_its_pixels_mirror(setting, cuts):
    made = pair(cloth_of(setting), str(sum(map(F, cuts.split()))))
    down, side, _ = seen(setting)
    if down is Symmetry.NONE and side is Symmetry.NONE:
        with refused(*NO_PAIR):
            cut_list(made)
        return
    left, right = panels(setting, made)
    assert left.shape == right.shape
    assert np.abs(left - right).max() < SAME_PIXELS


@of_each
def test_one_way_cloth_is_mirrored_only_from_side_to_side(setting):
    cloth = cloth_of(setting)
    made = pair(replace(cloth, print=replace(cloth.print, one_way=True)))
    if seen(setting)[1] is Symmetry.NONE:
        with refused(*NO_PAIR):
            cut_list(made)
        return
    assert {cut.way for cut in cut_list(made)} == {Way.UPRIGHT}
    left, right = panels(setting, made)
    assert np.abs(left - right).max() < SAME_PIXELS


@of_each
def test_cloth_alike_on_both_faces_always_mirrors(setting):
    made = pair(replace(cloth_of(setting), faces_alike=True), "2")
    left, right = panels(setting, made)
    assert left.shape == right.shape
    assert np.abs(left - right).max() < SAME_PIXELS


@of_each
def test_a_pair_hung_the_same_way_looks_the_same_from_left_to_right(setting):
    made = pair(cloth_of(setting), hang=Hang.SAME)
    left, right = panels(setting, made)
    # Columns count in from the leading edges, which are on different sides.
    assert np.abs(left - right[:, ::-1]).max() < SAME_PIXELS


@of_each
@pytest.mark.parametrize("column", ["2", "31/8"])
@pytest.mark.parametrize("towards", list(End))
def test_columns_that_are_not_centred_are_mended_by_a_trim(setting, column, towards):
    cloth, tiling = replace(cloth_of(setting), first_column=F(column)), tiling_of(setting)
    cloth = laid_the_other_way_round(cloth) if towards is End.LAST else cloth
    made = pair(cloth, "2")
    try:
        second_panel(cloth, Hang.MIRRORED)
    except JobRefused:
        return
    left, right = panels(setting, made, TurnedRound(tiling) if towards is End.LAST else tiling)
    assert left.shape == right.shape
    assert np.abs(left - right).max() < SAME_PIXELS


@of_each
@pytest.mark.parametrize("cuts", ["1", "2"])
def test_cloth_laid_the_other_way_round_hangs_the_same_with_the_same_mirror_offset(setting, cuts):
    # A row 4 in below the top and the mirror line 1 1/2 in further down look the same whichever end the cloth came off.
    first = pair(cloth_of(setting), cuts)
    last = pair(laid_the_other_way_round(cloth_of(setting)), cuts)
    try:
        left, right = panels(setting, first)
    except JobRefused:
        return
    turned = TurnedRound(tiling_of(setting))
    other_left, other_right = panels(setting, last, turned)
    assert np.abs(other_left - other_right).max() < SAME_PIXELS
    # A row belongs to the first column from the near selvedge, and on dropped prints that may be one of the other kind.
    if setting.side_to_side is Symmetry.NONE and not setting.lattice.drop:
        assert np.abs(left - other_left).max() < SAME_PIXELS
        assert np.abs(right - other_right).max() < SAME_PIXELS


@of_each
def test_only_a_half_turn_makes_a_turned_panel_look_as_before(setting):
    cell = tiling_of(setting).cell(columns_of(setting))
    turned = np.roll(np.roll(cell[::-1, ::-1], 1, 0), 1, 1)
    assert bool(shifts_that_match(turned, cell)) is setting.half_turn


def test_a_mistaken_mirror_would_show_in_the_pixels():
    # A half-turn alone, taken for a mirror: the comparison must be able to fail.
    wrong = next(one for one in SETTINGS if one.group == "p2")
    claimed = replace(wrong, top_to_bottom=Symmetry.MIRROR)
    left, right = panels(wrong, pair(cloth_of(claimed)))
    assert np.abs(left - right).max() > 0.1
