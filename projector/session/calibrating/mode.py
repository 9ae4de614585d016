"""The calibration by hand as a mode: its light and its file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cached_property

from calibration.photographs.pattern import NoPattern, Pattern
from jobs.journal.cannot import CannotRecord
from projector.files.table_file import Stored
from projector.files.write import CannotWrite
from projector.session.actions import AnyAction, Offers
from projector.session.calibrating import reducer
from projector.session.calibrating.reducer import Fit, Parse
from projector.session.calibrating.scene import WIDTH_FACTOR, lit, sheet
from projector.session.calibrating.state import Calibrating, Save, Step
from projector.session.calibrating.text import offers_of, text_of
from projector.session.card import lay_card
from projector.session.mode import Json, Lit, Mode, Pixels

SaveTable = Callable[[Stored], None]
"""Writes the table file; raises OSError or CannotWrite when it cannot."""


class Calibration(Mode[Calibrating, Save]):
    """One calibration by hand; ``saved`` is the table written, None until then."""

    def __init__(self, state: Calibrating, fit: Fit, parse: Parse, save: SaveTable, display: str = "") -> None:
        super().__init__(state, (state.width_px, state.height_px))
        self.saved: Stored | None = None
        self._display = display
        self._fit, self._parse, self._save = fit, parse, save
        self._sheet = sheet(*self.size_px)

    @property
    def finished(self) -> bool:
        return self.state.step is Step.LEFT

    @property
    def keys(self) -> Mapping[str, AnyAction]:
        return reducer.keys_of(self.state.step)

    @property
    def offers(self) -> Offers:
        return offers_of(self.state)

    def reduce(self, action: AnyAction, quiet_s: float) -> tuple[Calibrating, tuple[Save, ...]]:
        after, events = reducer.press(self.state, action, self._fit, self._parse)
        if after.step is Step.PATTERN and self.state.step is not Step.PATTERN:
            try:
                _ = self._pattern
            except (ImportError, NoPattern):
                why = "The pattern for photographs cannot be lit here: calibrate by four marks."
                return replace(self.state, by_photographs=False, problem=why), ()
        return after, events

    @cached_property
    def _pattern(self) -> Pixels:
        """The frame for photographs. Raises NoPattern for one too small, ImportError where OpenCV is missing."""
        from projector.light.pattern import pattern_frame

        return pattern_frame(Pattern(*self.size_px))

    def paint(self, pixels: Pixels) -> None:
        if not self.state.shows_pattern:
            super().paint(pixels)
            return
        pixels[:] = self._pattern
        if self.card:
            lay_card(pixels, self.card, self._sheet)

    def keep(self, event: Save, state: Calibrating) -> Calibrating:
        stored = Stored(event.table, event.checks, self._display)
        self._save(stored)
        self.saved = stored
        return state

    def refused(self, fault: CannotRecord | CannotWrite | OSError) -> Calibrating:
        reason = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        return reducer.refused(self.state, f"It could not be saved: {reason}")

    def lit(self) -> Lit:
        return Lit(lit(self.state), self._sheet, width_factor=WIDTH_FACTOR)

    def publish(self) -> Json:
        state = self.state
        told = self.told("calibrating", state.step.name.lower(), text_of(state), dark=state.dark)
        measured = {"unit": state.unit.value, "frame_px": list(self.size_px)}
        return told | measured | {"typing": state.typing, "trouble": state.problem}
