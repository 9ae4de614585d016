"""One photograph of the lit pattern over printed cloth says where the print lies."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calibration.laying.edges import Ends
from calibration.laying.laying import Photo, Planned, _one_edge_was_none, laid_from_photograph
from calibration.laying.recognising import CLEARLY, margins, way_of
from calibration.laying.tile import Tile, Way, main_channel
from calibration.problems import Code, PhotographRefused
from calibration.registration.fit import PrintFit
from calibration.registration.fitting import Term
from tests.benchmarks.laying_photographs import edges_of, off, touched
from tests.calibration.laying.rigs import Rig, rig


def off_in(made: Rig, fit: PrintFit) -> np.ndarray:
    """How far cut edges at both ends of the table are off the print, apart from whole rows."""
    return off(made, fit, edges_of(made))


@pytest.fixture(scope="module")
def seen() -> tuple[Rig, Photo]:
    made = rig(7, 1500)
    return made, made.photo()


def test_cut_lines_by_one_photograph_lie_on_the_print(seen):
    made, photo = seen
    laid = laid_from_photograph(photo, made.table, made.planned())
    assert not laid.problems
    assert np.abs(off_in(made, laid.registration.fit)).max() < 1 / 32
    assert laid.row_open
    known = laid.registration.uncertainty(Term.STRETCH_ALONG)
    assert known is not None
    assert 0 < known < 0.001
    # Points of the record lie where the fit has their motifs, but for how uneven the cloth is.
    assert 8 <= len(laid.registration.points) <= 48
    assert laid.registration.rms_in < 1 / 32


def test_another_print_is_not_found(seen):
    made, photo = seen
    other = rig(1, 1500)
    tile = Tile.of_picture(other.tile, made.lattice)
    with pytest.raises(PhotographRefused) as refused:
        laid_from_photograph(photo, made.table, Planned(made.carried, tile))
    assert [one.code for one in refused.value.problems] == [Code.PRINT_NOT_FOUND]


def test_a_cloth_that_lies_turned_is_said_to(seen):
    made, photo = seen
    turned = np.ascontiguousarray(made.tile[::-1, ::-1])
    laid = laid_from_photograph(photo, made.table, Planned(made.carried, Tile.of_picture(turned, made.lattice)))
    assert [one.code for one in laid.problems] == [Code.LIES_TURNED]


@pytest.mark.parametrize("typed", [63 / 72, 75 / 72])
def test_a_table_calibrated_by_a_wrong_length_shows_in_the_size_of_the_print(seen, typed):
    made, photo = seen
    wrong = made.table.through(np.diag([1 / typed, 1 / typed, 1.0]))
    (one,) = laid_from_photograph(photo, wrong, made.planned()).problems
    assert one.code is Code.OTHER_SCALE
    assert one.value("found_in") == pytest.approx(typed * made.lattice.along_in, rel=0.015)


@pytest.fixture(scope="module")
def dented():
    """A print of dots, each with a dent: hardly another one turned or face down."""
    made = rig(86, 1500, cut=1)
    return made, made.photo()


@pytest.mark.parametrize(
    ("lies", "code"),
    [((1, 1), None), ((-1, -1), Code.LIES_TURNED), ((1, -1), Code.LIES_FACE_DOWN)],
    ids=["as planned", "turned", "face down"],
)
def test_a_dent_in_a_dot_tells_how_the_cloth_lies(dented, lies, code):
    made, photo = dented
    tile = Tile.of_picture(np.ascontiguousarray(made.tile[:: lies[0], :: lies[1]]), made.lattice)
    laid = laid_from_photograph(photo, made.table, Planned(made.carried, tile))
    assert [one.code for one in laid.problems] == ([] if code is None else [code])


def test_a_print_that_is_the_same_lying_otherwise_is_taken_to_lie_as_planned():
    made = rig(31, 300)
    assert made.setting.half_turn
    tile = Tile.of_picture(made.tile, made.lattice)
    needed = margins(tile.through(main_channel(tile.values)))
    assert set(needed.values()) == {CLEARLY}
    noise = dict.fromkeys(needed, 0.96) | {Way.RIGHT: 0.95}
    assert way_of(noise, needed) is Way.RIGHT
    assert way_of(noise | {Way.TURNED: 0.99}, needed) is Way.TURNED


def test_a_photograph_without_the_pattern_is_refused(seen):
    made, photo = seen
    dark = replace(photo, rgb=np.full_like(photo.rgb, 90))
    with pytest.raises(PhotographRefused) as refused:
        laid_from_photograph(dark, made.table, made.planned())
    assert [one.code for one in refused.value.problems] == [Code.PATTERN_NOT_SEEN]


def beginning_at(x_in: float, expected_off_in: float = 0.0) -> Rig:
    """A rig whose piece begins on the table, ``x_in`` from its left end, expected so much further along."""
    made = rig(7, 1500)
    cloth = replace(made.cloth.cloth, at_left=-x_in)
    carried = replace(made.carried, shift=(x_in + expected_off_in, 3.0))
    return replace(made, cloth=replace(made.cloth, cloth=cloth), carried=carried)


def test_an_end_of_the_cloth_that_is_seen_settles_which_row_is_which():
    made = beginning_at(12.0, 16.0)  # of a repeat of 20 5/8 that is nearer to the next row
    photo = made.photo()
    open_row = laid_from_photograph(photo, made.table, made.planned())
    assert open_row.row_open
    missed = made.off_print(open_row.registration.fit, 40.0) / made.lattice.along_in
    assert np.round(missed).tolist() == [np.round(missed[0])] * 55
    assert abs(missed).min() > 0.9
    settled = laid_from_photograph(photo, made.table, replace(made.planned(), ends_in=(0.0, None)))
    assert not settled.row_open
    assert np.abs(made.off_print(settled.registration.fit, 40.0)).max() < 1 / 16
    # Rows run askew and bulge, the end is cut straight: it is counted where it meets the near selvedge.
    assert settled.ends.left_in == pytest.approx(0.0, abs=1 / 2)
    assert (settled.ends.near_in, settled.ends.far_in) == pytest.approx((0.0, made.lattice.width_in), abs=1 / 8)
    past = replace(made.planned(), ends_in=(0.0, None), cut_in=(-4.0, 60.0))
    assert [one.code for one in laid_from_photograph(photo, made.table, past).problems] == [Code.CUT_LEAVES_CLOTH]


def test_a_selvedge_settles_which_column_is_which():
    """The cloth lies aslant, so that its far end is nearer to another column, half a repeat along."""
    made = rig(23, 1500, cut=1)
    laid = laid_from_photograph(made.photo(), made.table, made.planned())
    assert not laid.problems
    edges = edges_of(rig(23, 1500))
    by = round(110 / made.lattice.along_in) * made.lattice.along_in
    assert np.abs(off(made, laid.registration.fit, (edges[0] + by, edges[1] + by))).max() < 1 / 16


def test_where_no_selvedge_is_seen_the_columns_of_a_dropped_print_are_not_guessed():
    made = rig(23, 1500, cut=1)
    broad = replace(made.cloth.cloth, width=80.0, shift=(0.0, -9.0))
    lattice = replace(made.lattice, width_in=80.0)
    carried = replace(made.carried, lattice=lattice, shift=(made.carried.shift[0], -9.0))
    made = replace(made, cloth=replace(made.cloth, cloth=broad), lattice=lattice, carried=carried)
    laid = laid_from_photograph(made.photo(), made.table, made.planned())
    assert [one.code for one in laid.problems] == [Code.NO_SELVEDGE]


def test_a_cloth_of_another_width_is_said_to_be(seen):
    made, photo = seen
    true = made.lattice
    wide = replace(true, width_in=true.width_in + 3, first_column_in=true.first_column_in + 1.5)
    carried = replace(made.carried, lattice=wide, shift=(made.carried.shift[0], made.carried.shift[1] - 1.5))
    laid = laid_from_photograph(photo, made.table, Planned(carried, Tile.of_picture(made.tile, wide)))
    assert [one.code for one in laid.problems] == [Code.OTHER_WIDTH]
    assert laid.problems[0].value("found_in") == pytest.approx(true.width_in, abs=3 / 8)


def test_a_part_of_the_print_that_is_taken_for_a_selvedge_makes_no_other_width():
    """Its columns lie 2.3 in apart: a column off, the near selvedge is looked for within the print."""
    made = rig(109, 1500)
    assert not laid_from_photograph(made.photo(), made.table, made.planned()).problems
    lattice = made.lattice
    width, column = lattice.width_in, lattice.across_in
    narrow = Ends(0.4, width - column)
    assert _one_edge_was_none(narrow, Ends(None, width), column, lattice)
    # An edge is looked for only so far within the cloth: that it is not seen there says nothing.
    assert not _one_edge_was_none(Ends(1.5, width - 1.5), Ends(None, width + 3.1), 2 * column, lattice)
    assert not _one_edge_was_none(Ends(1.5, width - 1.5), Ends(-3.1, None), -2 * column, lattice)


def test_codes_on_a_white_field_serve_as_well():
    made = rig(4, 1500)
    laid = laid_from_photograph(made.photo(on_white=True), made.table, made.planned())
    assert not laid.problems
    assert np.abs(off_in(made, laid.registration.fit)).max() < 1 / 32


def test_a_pair_laid_by_photographs_meets_where_touched_points_hardly_do():
    pair = [rig(3, 1500), rig(3, 1500, cut=1)]
    edges = edges_of(pair[0])
    by = round(110 / pair[0].lattice.along_in) * pair[0].lattice.along_in
    seen, by_hand = [], []
    rng = np.random.default_rng(3)
    for made, here in zip(pair, (edges, (edges[0] + by, edges[1] + by)), strict=True):
        laid = laid_from_photograph(made.photo(), made.table, made.planned())
        error = off(made, laid.registration.fit, here)
        places = [(edge, across) for edge in here for across in np.linspace(0.5, made.lattice.width_in - 0.5, 55)]
        assert (np.abs(error.ravel()) <= laid.registration.along_error_in(places)).mean() > 0.8
        seen.append(error)
        by_hand.append(off(made, touched(made, here, 4, rng), here))
    missed, by_points = (float(np.abs(one[0] - one[1]).max()) for one in (seen, by_hand))
    assert missed < 1 / 16
    assert missed < by_points
