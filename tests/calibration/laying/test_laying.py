"""One photograph of the lit pattern over printed cloth says where the print lies."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calibration.laying.laying import Photo, Planned, laid_from_photograph
from calibration.laying.tile import Tile
from calibration.problems import Code, PhotographRefused
from calibration.registration.fitting import Term
from tests.calibration.laying.rigs import LIT, Rig, rig

EDGES = (8.0, 96.0)
"""Where on the table two cut edges lie."""


def off_in(made: Rig, fit: object) -> np.ndarray:
    """How far cut edges at both ends of the table are off the print, apart from whole rows."""
    found = []
    for x in EDGES:
        edge = float(made.cloth.to_piece(np.array([[x, 30.0]]))[0, 0])
        off = made.off_print(fit, edge)  # type: ignore[arg-type]
        found.append(off - np.round(np.median(off) / made.lattice.along_in) * made.lattice.along_in)
    return np.concatenate(found)


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


def test_a_photograph_without_the_pattern_is_refused(seen):
    made, photo = seen
    dark = replace(photo, rgb=np.full_like(photo.rgb, 90))
    with pytest.raises(PhotographRefused) as refused:
        laid_from_photograph(dark, made.table, made.planned())
    assert [one.code for one in refused.value.problems] == [Code.PATTERN_NOT_SEEN]
    assert dark.lit is LIT
