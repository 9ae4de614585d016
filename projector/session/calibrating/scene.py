"""The calibration as light: drawn straight in the frame, for there is no map to the table yet.

Words and crosses are laid out on a flat sheet as deep as the frame, ``SHEET_IN`` inches, x right and y up; ``sheet``
is the map from it to pixels.
"""

from __future__ import annotations

import numpy as np

from calibration.checking import TOLERANCE_IN
from calibration.table import Table
from projector.scene.boxes import Box, around
from projector.scene.lettering import text_width
from projector.scene.marks import Kind, Mark, Point, Scene, Stroke, Text
from projector.session.calibrating.state import MOST, Calibrating, Step
from projector.session.calibrating.text import text_of
from projector.session.layout import framed, words

SHEET_IN = 36.0
ARM_IN = 1.6
"""Half the length of the cross in hand; the others are shorter."""
SHORT = 0.45
NUMBER_IN = 0.9
LETTER_IN = 1.1
WIDTH_FACTOR = 1.5


def sheet(width_px: int, height_px: int) -> Table:
    """The flat sheet as a table: x right, y up, ``SHEET_IN`` inches from the lower to the upper edge of the frame."""
    scale = height_px / SHEET_IN
    return Table(width_px, height_px, np.array([[scale, 0, 0], [0, -scale, height_px], [0, 0, 1.0]]), ())


def on_sheet(pixel: tuple[float, float], height_px: int) -> Point:
    """Where a pixel lies on the sheet."""
    scale = height_px / SHEET_IN
    return pixel[0] / scale, (height_px - pixel[1]) / scale


def lit(state: Calibrating) -> Scene:
    """Everything to light now, on the sheet; nothing in the dark."""
    if state.dark or state.step in (Step.LEFT, Step.PATTERN):
        return Scene()
    wide = SHEET_IN * state.width_px / state.height_px
    area = ((0.0, 0.0), (wide, 0.0), (wide, SHEET_IN), (0.0, SHEET_IN))
    if state.step is Step.LEAVE:
        return framed(text_of(state), area, tallest_in=LETTER_IN)
    crosses = () if state.step is Step.CAUTIONS else tuple(_crosses(state, wide))
    said = words(text_of(state), area, tuple(_rooms(state, wide)), tallest_in=LETTER_IN)
    return Scene((*crosses, *said.marks))


def _shown(state: Calibrating) -> list[int]:
    """Crosses before the one in hand, those that have their inches, and the one in hand."""
    return [i for i, cross in enumerate(state.crosses) if i <= state.at or cross.table is not None]


def _crosses(state: Calibrating, wide: float) -> list[Mark]:
    marks: list[Mark] = []
    for i in _shown(state):
        x, y = on_sheet(state.crosses[i].pixel, state.height_px)
        arm = ARM_IN if i == state.at else ARM_IN * SHORT
        marks.append(Stroke(Kind.TARGET, ((x - arm, y), (x + arm, y))))
        marks.append(Stroke(Kind.TARGET, ((x, y - arm), (x, y + arm))))
        label = f"check {i - state.to_fit + 1}" if state.crosses[i].is_check else str(i + 1)
        marks.append(Text(Kind.LETTER, label, _beside((x, y), wide, label), NUMBER_IN))
    at = proposed(state)
    if at is not None:
        x, y = at
        corners = ((x - ARM_IN, y), (x, y - ARM_IN), (x + ARM_IN, y), (x, y + ARM_IN), (x - ARM_IN, y))
        marks.append(Stroke(Kind.GUIDE, corners))
    return marks


def proposed(state: Calibrating) -> Point | None:
    """Where on the sheet one more mark would help most, while it is proposed."""
    advice = state.findings.advice
    if state.step is not Step.REVIEW or advice is None or len(state.crosses) >= MOST:
        return None
    return on_sheet(advice.pixel, state.height_px) if state.findings.worst_in > TOLERANCE_IN else None


def _beside(at: Point, wide: float, label: str) -> Point:
    """Where the label stands: off the arms, on the side of the middle of the frame."""
    off = 1.1
    along = max(off, text_width(label, NUMBER_IN) / 2 + 0.5)
    return (at[0] + (along if at[0] < wide / 2 else -along), at[1] + (off if at[1] < SHEET_IN / 2 else -off))


def _rooms(state: Calibrating, wide: float) -> list[Box]:
    """Room around every cross and its label, and around a proposed one, kept clear of words."""
    if state.step is Step.CAUTIONS:
        return []
    places = [on_sheet(state.crosses[i].pixel, state.height_px) for i in _shown(state)]
    at = proposed(state)
    return [around(place, 2 * ARM_IN + 1, 2 * ARM_IN + 1) for place in (*places, *([at] if at else []))]
