"""A bare table with tape crosses stuck on it, each with its inches written beside it: for practising calibration."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import field

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from jobs.model.records import dataclass
from projector.demo.brightness import Linear, linear_of_hex
from projector.light.letters import font_path

Array = NDArray[np.float64]
Point = tuple[float, float]

TAPE, PENCIL = "#e9dfbf", "#202020"
REACH_IN, WIDE_IN, LINE_IN = 1.6, 0.7, 1 / 24
"""Half the length of a strip of tape, its width, and the width of the pencil cross on it."""
LETTER_IN = 1.0
LABEL_BELOW_IN = 3.0
PX_PER_IN = 24


@dataclass(frozen=True)
class Tape:
    """A tape cross: where it really lies (table inches), and what is written beside it."""

    at: Point
    written: str
    label: NDArray[np.bool_] = field(compare=False, repr=False)

    @classmethod
    def stuck(cls, at: Point, written: str) -> Tape:
        """A tape cross with its figures written out."""
        return cls(at, written, _lettered(written))

    @property
    def reach_in(self) -> float:
        """Nothing of the cross and its label lies farther off than this, along or across."""
        return max(LABEL_BELOW_IN + LETTER_IN, REACH_IN, self.label.shape[1] / PX_PER_IN / 2 + 0.1)


@dataclass(frozen=True)
class TapedTable:
    """The table's own surface where it is covered by tape."""

    tapes: tuple[Tape, ...]

    def to_piece(self, places: Array) -> Array:
        """Places (N, 2) on the table as they are: nothing was laid on it."""
        return places

    def colour_at(self, places: Array) -> tuple[Linear, NDArray[np.bool_]]:
        """Colours (N, 3) in light and whether each place (N,) is covered by tape."""
        colours = np.zeros((len(places), 3), np.float32)
        covered = np.zeros(len(places), np.bool_)
        for tape in self.tapes:
            around = tape.reach_in
            near = np.flatnonzero(
                (np.abs(places[:, 0] - tape.at[0]) < around) & (np.abs(places[:, 1] - tape.at[1]) < around)
            )
            away = places[near] - np.array(tape.at)
            size = np.abs(away)
            strip = ((size < (REACH_IN, WIDE_IN / 2)).all(axis=1)) | ((size < (WIDE_IN / 2, REACH_IN)).all(axis=1))
            line = (size.min(axis=1) < LINE_IN / 2) & (size.max(axis=1) < REACH_IN)
            paper, ink = _on_label(away, tape.label)
            covered[near[strip | paper]] = True
            colours[near[strip | paper]] = linear_of_hex(TAPE)
            colours[near[line | ink]] = linear_of_hex(PENCIL)
        return colours, covered


def nearest(tapes: Sequence[Tape], place: Point) -> Tape:
    """The tape cross nearest to a place."""
    return min(tapes, key=lambda tape: math.dist(tape.at, place))


def _lettered(text: str) -> NDArray[np.bool_]:
    """Where a label (rows from above, columns) is ink."""
    face = ImageFont.truetype(font_path(), LETTER_IN * PX_PER_IN / 0.729)
    width = math.ceil(face.getlength(text)) + PX_PER_IN // 2
    image = Image.new("1", (width, round(1.6 * LETTER_IN * PX_PER_IN)), 0)
    ImageDraw.Draw(image).text((width / 2, image.height / 2), text, fill=1, font=face, anchor="mm")
    return np.asarray(image, np.bool_)


def _on_label(away: Array, label: NDArray[np.bool_]) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Which places lie on the label below a cross, and which of them on its ink."""
    rows, columns = label.shape
    column = np.floor(away[:, 0] * PX_PER_IN + columns / 2).astype(int)
    row = np.floor((-away[:, 1] - LABEL_BELOW_IN) * PX_PER_IN + rows / 2).astype(int)
    paper = (column >= 0) & (column < columns) & (row >= 0) & (row < rows)
    ink = np.zeros(len(away), np.bool_)
    ink[paper] = label[row[paper], column[paper]]
    return paper, ink
