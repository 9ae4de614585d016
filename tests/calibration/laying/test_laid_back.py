"""One photograph of a panel laid back says how far its cuts lie from where its print has them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calibration.laying.laid_back import LaidBack, back_from_photograph
from calibration.laying.laying import Photo
from calibration.laying.tile import Tile
from calibration.problems import Code, PhotographRefused
from tests.calibration.laying.panels import EXACT, Fault, PanelRig, panel_rig

SHARES = (0.05, 0.5, 0.95)
ENDS = (False, True)
LONG_PX = 1200


def missed(made: PanelRig, found: LaidBack) -> np.ndarray:
    """How far (N,) what is told is off the truth, at both ends as far as they are seen."""
    width = made.panel.across[1] - made.panel.across[0]
    told = [(found.off(last, share * width), made.truth(last, share * width)) for last in ENDS for share in SHARES]
    return np.array([one.off_in - truth for one, truth in told if one is not None])


@pytest.fixture(scope="module")
def miscut() -> tuple[PanelRig, Photo]:
    """1/8 off at the first end, aslant by 3/16 at the last; of a print without any symmetry."""
    made = panel_rig(8, LONG_PX, (Fault(0.125), Fault(-0.05, 0.1875)))
    return made, made.photo()


def test_a_panel_cut_off_the_print_and_aslant_is_told_to_a_small_part_of_that(miscut):
    made, photo = miscut
    found = back_from_photograph(photo, made.made.table, made.planned())
    assert not found.problems
    assert (found.turned, all(found.ends)) == (False, True)
    assert np.abs(missed(made, found)).max() < 0.07
    width = made.made.lattice.width_in
    assert found.width_in == pytest.approx(width, abs=1 / 4)
    first, last, far = (found.off(*at) for at in ((False, width / 2), (True, 0.1 * width), (True, 0.9 * width)))
    assert first is not None
    assert last is not None
    assert far is not None
    assert first.off_in == pytest.approx(0.125, abs=0.05)
    assert far.off_in - last.off_in == pytest.approx(0.8 * 0.1875, abs=0.06)
    assert 0 < first.within_in < 0.1
    # An end is where the table says: light that falls there falls on the edge.
    place = found.place(True, width / 2)
    assert place is not None
    met = made.made.above.to_table(made.made.table.to_frame(np.array([place])))
    assert float(made.made.cloth.to_print(met)[0, 0]) == pytest.approx(made.cut_in[1] - 0.05 + 0.1875 / 2, abs=0.05)


def test_another_cut_is_told_by_its_length_and_its_width(miscut):
    made, photo = miscut
    planned = made.planned()
    start, end = made.cut_in
    longer = back_from_photograph(photo, made.made.table, replace(planned, cut_in=(start, end + 4)))
    assert [one.code for one in longer.problems] == [Code.OTHER_LENGTH]
    assert longer.problems[0].value("found_in") == pytest.approx(80, abs=0.5)
    wide = replace(planned.carried.lattice, width_in=planned.carried.lattice.width_in + 3)
    other = replace(planned, carried=replace(planned.carried, lattice=wide), tile=Tile(planned.tile.values, wide))
    assert Code.OTHER_PANEL_WIDTH in [one.code for one in back_from_photograph(photo, made.made.table, other).problems]


def test_a_panel_that_lies_on_its_face_is_refused(miscut):
    made, photo = miscut
    planned = made.planned()
    assert planned.tile is not None
    # What the job takes for the printed side is this cloth's other one: columns and their drop run the other way.
    lattice = replace(planned.carried.lattice, drop=-planned.carried.lattice.drop)
    tile = Tile(np.ascontiguousarray(planned.tile.values[:, ::-1]), lattice)
    over = replace(planned, carried=replace(planned.carried, lattice=lattice), tile=tile)
    with pytest.raises(PhotographRefused) as refused:
        back_from_photograph(photo, made.made.table, over)
    assert [one.code for one in refused.value.problems] == [Code.PANEL_FACE_DOWN]


def test_a_panel_may_lie_turned_by_half_a_turn():
    made = panel_rig(3, LONG_PX, (Fault(0.2, -0.1), Fault(-0.1)), turned=True)
    found = back_from_photograph(made.photo(), made.made.table, made.planned())
    assert found.turned
    assert not found.problems
    assert np.abs(missed(made, found)).max() < 0.07


def test_of_a_panel_longer_than_the_table_the_end_in_the_picture_is_judged():
    made = panel_rig(4, LONG_PX, (Fault(-0.15), EXACT), length_in=150.0)
    found = back_from_photograph(made.photo(), made.made.table, made.planned())
    assert [end is not None for end in found.ends] == [True, False]
    assert (found.length_in, found.off(True, 1.0), found.place(True, 1.0)) == (None, None, None)
    assert np.abs(missed(made, found)).max() < 0.06


def test_half_a_width_of_cloth_is_a_panel_too():
    made = panel_rig(7, LONG_PX, (Fault(0.1), Fault(0.1)), across=(0.5, 1.0))
    found = back_from_photograph(made.photo(), made.made.table, made.planned())
    assert not found.problems
    assert np.abs(missed(made, found)).max() < 0.07
