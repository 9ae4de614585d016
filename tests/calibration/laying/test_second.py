"""A second photograph in white light shows the print that the pattern hides, and is brought onto the first."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calibration.laying import laying
from calibration.laying.flattening import Sheet
from calibration.laying.laying import Photo, laid_from_photograph
from calibration.laying.movement import laid_as
from calibration.problems import Code, PhotographRefused
from tests.calibration.laying.rigs import Rig, rig
from tests.calibration.laying.test_laying import off_in

LONG_PX = 1200


@pytest.fixture(scope="module")
def taken() -> tuple[Rig, Photo]:
    """A cloth whose print has an eighth of the usual contrast, in a dark room, under the pattern."""
    made = rig(11, LONG_PX, contrast=0.12, ambient=0.08)
    return made, made.photo()


def refused(made: Rig, photo: Photo) -> list[tuple[tuple[str | int, ...], Code]]:
    with pytest.raises(PhotographRefused) as found:
        laid_from_photograph(photo, made.table, made.planned())
    return [(one.path, one.code) for one in found.value.problems]


def test_a_print_that_the_pattern_hides_is_laid_by_a_second_photograph_in_white_light(taken):
    made, photo = taken
    # Too little of it is seen between the light's edges to tell which way it lies.
    assert laid_from_photograph(photo, made.table, made.planned()).problems
    laid = laid_from_photograph(replace(photo, white=made.second()), made.table, made.planned())
    assert not laid.problems
    assert np.abs(off_in(made, laid.registration.fit)).max() < 1 / 16
    assert laid.second is not None
    assert laid.second.share > 0.5


def test_one_of_something_else_is_refused(taken):
    made, photo = taken
    other = rig(31, LONG_PX).second(0)
    ((path, code),) = refused(made, replace(photo, white=other))
    assert path == ("white",)
    assert code in (Code.OTHER_VIEW, Code.PRINT_NOT_FOUND)


def test_one_of_the_pattern_or_of_another_size_is_refused(taken):
    made, photo = taken
    assert refused(made, replace(photo, white=photo.rgb)) == [(("white",), Code.PATTERN_LIT)]
    upright = np.ascontiguousarray(photo.rgb.swapaxes(0, 1))
    assert refused(made, replace(photo, white=upright)) == [(("white",), Code.OTHER_SIZE)]


@pytest.mark.parametrize(("repeats", "is_settled"), [(0.0, True), (0.4, False)])
def test_one_that_is_brought_onto_the_first_by_a_part_of_a_repeat_wrongly_is_refused(monkeypatch, repeats, is_settled):
    made = rig(9, LONG_PX)
    photo = replace(made.photo(), white=made.second())
    really = laying.second_seen

    def wrongly(white, pattern, first, flat, weights):
        second, _ = really(white, pattern, first, flat, weights)
        aside = np.eye(3)
        aside[0, 2] = repeats * made.lattice.along_in
        moved = replace(second, plane=second.plane @ aside)
        values, seen = laid_as(Sheet.of(white, first.dense_per_in), moved.to_picture, flat)
        return moved, replace(flat, values=values, trust=np.asarray(seen * (flat.within > 0), np.float32), sound=seen)

    monkeypatch.setattr(laying, "second_seen", wrongly)
    if is_settled:
        assert not laid_from_photograph(photo, made.table, made.planned()).problems
    else:
        assert refused(made, photo) == [(("white",), Code.NOT_SETTLED)]
