"""The proof with a tape, its light and its file: keys in, a proof kept and pixels out."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from calibration.marks import TapeCheck
from projector.files.write import CannotWrite
from projector.light.canvas import Canvas
from projector.light.warp import draw
from projector.scene.boxes import Box, around
from projector.scene.marks import Kind, Mark, Scene, Stroke, Text
from projector.session.calibrating.review import Parse
from projector.session.host import Pixels
from projector.session.saying.area import words_area
from projector.session.saying.banner import framed, words
from projector.session.taping.keys import press_taping
from projector.session.taping.taping import Keep, LitLength, TapeStep, Taping
from projector.session.taping.words import lines_of_taping

TICK_IN, NUMBER_IN, TALLEST_IN = 1.0, 0.9, 1.4
ROOMS = 14

KeepProof = Callable[[TapeCheck], None]
"""Writes the proof to the table file; raises OSError or CannotWrite when it cannot."""


def taping_lit(state: Taping) -> Scene:
    """Everything to light now, in table inches; nothing in the dark."""
    if state.dark or state.step is TapeStep.LEFT:
        return Scene()
    area, lines = words_area(state.table), lines_of_taping(state)
    if state.step is TapeStep.LEAVE:
        return framed(lines, area, tallest_in=TALLEST_IN)
    if state.step is not TapeStep.READING:
        return words(lines, area, tallest_in=TALLEST_IN)
    measured = _measured(state.length, state.at + 1)
    return Scene((*measured, *words(lines, area, tuple(_rooms(state.length)), tallest_in=TALLEST_IN).marks))


def _measured(length: LitLength, number: int) -> tuple[Mark, ...]:
    """The lit length with a tick across each end and its number beside the middle."""
    (x0, y0), (x1, y1) = length.start_in, length.end_in
    size = math.dist(length.start_in, length.end_in)
    nx, ny = TICK_IN * (y0 - y1) / size, TICK_IN * (x1 - x0) / size
    ticks = tuple(Stroke(Kind.TARGET, ((x - nx, y - ny), (x + nx, y + ny))) for x, y in ((x0, y0), (x1, y1)))
    middle = ((x0 + x1) / 2 + 1.4 * nx, (y0 + y1) / 2 + 1.4 * ny)
    return (Stroke(Kind.TARGET, ((x0, y0), (x1, y1))), *ticks, Text(Kind.LETTER, str(number), middle, NUMBER_IN))


def _rooms(length: LitLength) -> list[Box]:
    """Small boxes along the lit length, kept clear of words; one around all of a slanting line would take too much."""
    (x0, y0), (x1, y1) = length.start_in, length.end_in
    step = math.dist(length.start_in, length.end_in) / ROOMS
    shares = [(i + 0.5) / ROOMS for i in range(ROOMS)]
    wide = max(2 * TICK_IN + 1.5, step)
    return [around((x0 + (x1 - x0) * share, y0 + (y1 - y0) * share), wide, wide) for share in shares]


class TapeProving:
    """One proof at the table; ``kept`` is the proof written, None until then."""

    def __init__(self, state: Taping, parse: Parse, keep: KeepProof) -> None:
        self.state = state
        self.kept: TapeCheck | None = None
        self._parse, self._keep = parse, keep
        self._canvas = Canvas(*self.size_px, state.table.gamma)

    @property
    def size_px(self) -> tuple[int, int]:
        return self.state.table.width_px, self.state.table.height_px

    @property
    def finished(self) -> bool:
        return self.state.step is TapeStep.LEFT

    @property
    def scene(self) -> Scene:
        """What is lit now, in table inches."""
        return taping_lit(self.state)

    def key(self, name: str, quiet_s: float) -> bool:
        was = self.state
        state, events = press_taping(was, name, self._parse)
        for event in events:
            if isinstance(event, Keep):
                try:
                    self._keep(event.proof)
                    self.kept = event.proof
                except (OSError, CannotWrite) as fault:
                    state = _refused(was, fault)
        self.state = state
        return state != was

    def click(self, pixel: tuple[int, int], quiet_s: float) -> bool:
        return False

    def close(self) -> bool:
        return self.key("Esc", 0.0)

    def repeats(self, name: str) -> bool:
        return False

    def paint(self, pixels: Pixels) -> None:
        draw(self.scene, self.state.table, self._canvas)
        self._canvas.into(pixels)


def _refused(state: Taping, fault: Exception) -> Taping:
    """Back at the verdict, saying what went wrong."""
    return replace(state, problem=f"It could not be kept: {fault}")
