"""The calibration by hand with its light and its file: keys in, a saved table and pixels out."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from calibration.marks import Mark
from jobs.model.choices import Unit
from projector.files.table_file import Stored
from projector.files.write import CannotWrite
from projector.light.canvas import Canvas
from projector.light.warp import draw
from projector.scene.marks import Scene
from projector.session.calibrating import keys as calibrating_keys
from projector.session.calibrating.calibrating import Calibrating, Save, Step, begin
from projector.session.calibrating.keys import MOVES_PX
from projector.session.calibrating.review import Fit, Parse
from projector.session.calibrating.scene import WIDTH_FACTOR, lit, sheet
from projector.session.host import Pixels

SaveTable = Callable[[Stored], None]
"""Writes the table file; raises OSError or CannotWrite when it cannot."""


class Calibration:
    """One calibration by hand; ``saved`` is the table written, None until then."""

    def __init__(
        self,
        size_px: tuple[int, int],
        unit: Unit,
        fit: Fit,
        parse: Parse,
        save: SaveTable,
        marks: Sequence[Mark] = (),
        checks: Sequence[Mark] = (),
        display: str = "",
    ) -> None:
        self.state: Calibrating = begin(*size_px, unit, marks, checks)
        self.saved: Stored | None = None
        self._display = display
        self._fit, self._parse, self._save = fit, parse, save
        self._sheet = sheet(*size_px)
        self._canvas = Canvas(*size_px)

    @property
    def size_px(self) -> tuple[int, int]:
        return self.state.width_px, self.state.height_px

    @property
    def finished(self) -> bool:
        return self.state.step is Step.LEFT

    @property
    def scene(self) -> Scene:
        """What is lit now, on the sheet."""
        return lit(self.state)

    def key(self, name: str, quiet_s: float) -> bool:
        was = self.state
        state, events = calibrating_keys.press(was, name, self._fit, self._parse)
        for event in events:
            if isinstance(event, Save):
                state = self._kept(Stored(event.table, event.checks, self._display), state)
        self.state = state
        return state != was

    def _kept(self, stored: Stored, state: Calibrating) -> Calibrating:
        """The state once the table is on the disk; back at the review, in words, where it cannot be."""
        try:
            self._save(stored)
        except OSError as fault:
            return calibrating_keys.refused(self.state, f"It could not be saved: {fault.strerror or fault}")
        except CannotWrite as fault:
            return calibrating_keys.refused(self.state, f"It could not be saved: {fault}")
        self.saved = stored
        return state

    def click(self, pixel: tuple[int, int], quiet_s: float) -> bool:
        was, self.state = self.state, calibrating_keys.click(self.state, pixel)
        return self.state != was

    def close(self) -> bool:
        return self.key("Esc", 0.0)

    def repeats(self, name: str) -> bool:
        return name in MOVES_PX

    def paint(self, pixels: Pixels) -> None:
        draw(self.scene, self._sheet, self._canvas, width_factor=WIDTH_FACTOR)
        self._canvas.into(pixels)
