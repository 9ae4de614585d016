"""The check with a tape as a mode: its light and its file."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

from calibration.marks import TapeCheck
from jobs.journal.cannot import CannotRecord
from projector.files.write import CannotWrite
from projector.scene.boxes import Box, around
from projector.scene.marks import Kind, Mark, Scene, Stroke, Text
from projector.session.actions import AnyAction, Offers
from projector.session.calibrating.reducer import Parse
from projector.session.calibrating.tape_check import LitLength, TapeChecking, TapeStep, keys_of, press
from projector.session.calibrating.tape_check_text import tape_offers, tape_text
from projector.session.layout import framed, words, words_area
from projector.session.mode import Json, Lit, Mode

TICK_IN, NUMBER_IN, TALLEST_IN = 1.0, 0.9, 1.4
ROOMS = 14

KeepCheck = Callable[[TapeCheck], None]
"""Writes the check to the table file; raises OSError or CannotWrite when it cannot."""


def tape_lit(state: TapeChecking) -> Scene:
    """Everything to light now, in table inches; nothing in the dark."""
    if state.dark or state.step is TapeStep.LEFT:
        return Scene()
    area, lines = words_area(state.table), tape_text(state)
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


class CheckByTape(Mode[TapeChecking, TapeCheck]):
    """One check at the table; ``kept`` is the one written, None until then."""

    def __init__(self, state: TapeChecking, parse: Parse, keep: KeepCheck) -> None:
        super().__init__(state, (state.table.width_px, state.table.height_px), state.table.gamma)
        self.kept: TapeCheck | None = None
        self._parse, self._keep = parse, keep

    @property
    def finished(self) -> bool:
        return self.state.step is TapeStep.LEFT

    @property
    def keys(self) -> Mapping[str, AnyAction]:
        return keys_of(self.state.step)

    @property
    def offers(self) -> Offers:
        return tape_offers(self.state)

    def reduce(self, action: AnyAction, quiet_s: float) -> tuple[TapeChecking, tuple[TapeCheck, ...]]:
        return press(self.state, action, self._parse)

    def keep(self, event: TapeCheck, state: TapeChecking) -> TapeChecking:
        self._keep(event)
        self.kept = event
        return state

    def refused(self, fault: CannotRecord | CannotWrite | OSError) -> TapeChecking:
        return replace(self.state, problem=f"It could not be kept: {fault}")

    def lit(self) -> Lit:
        return Lit(tape_lit(self.state), self.state.table)

    def publish(self) -> Json:
        state = self.state
        told = self.told("tape check", state.step.name.lower(), tape_text(state), dark=state.dark)
        return told | {"typing": state.typing, "trouble": state.problem}
