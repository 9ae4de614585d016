"""How far the light has moved, drawn: an arrow at every place, a figure at each corner that can be read."""

from __future__ import annotations

import math

import numpy as np

from calibration.photographs.settling import Settled
from calibration.table import Table
from projector.papers.drawing import WARNING, Path
from projector.papers.settled_picture import STILL, settled_picture
from tests.projector.session.tables import table_of

PLACES = np.stack(np.meshgrid(np.linspace(4, 90, 14), np.linspace(3, 45, 9)), axis=-1).reshape(-1, 2)
TABLE: Table = table_of(960, 540)


def drawn(shift_in: np.ndarray):
    within = np.full(len(PLACES), 0.05)
    found = Settled(places_in=PLACES, shift_in=shift_in, within_in=within)
    return settled_picture(found, TABLE, "The light has moved.")


def test_each_corner_says_how_far_and_no_figure_stands_on_another() -> None:
    """A light that was turned: every place moves otherwise."""
    angle = math.radians(1.0)
    turned = PLACES @ np.array([[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]]) - PLACES
    picture = drawn(turned)
    figures = [words for words in picture.words if words.text.endswith(" in")]
    assert len(figures) == 4
    for words in figures:
        left, upper, right, lower = words.box
        assert left >= 0
        assert right <= picture.width
        for other in picture.words:
            if other is not words:
                a, b, c, d = other.box
                assert right <= a or c <= left or lower <= b or d <= upper
    arrows = [one for one in picture.shapes if isinstance(one, Path) and one.stroke == WARNING and len(one.points) == 2]
    assert len(arrows) > len(PLACES)


def test_a_light_that_has_not_moved_is_drawn_still() -> None:
    strokes = {one.stroke for one in drawn(np.zeros_like(PLACES)).shapes if isinstance(one, Path)}
    assert STILL in strokes
    assert WARNING not in strokes
