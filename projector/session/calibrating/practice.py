"""Calibration practised in an ordinary window: the light of a calibration on a simulated table with tape crosses."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from jobs.model.choices import Unit
from projector.session.calibrating.calibrating import Step
from projector.session.calibrating.findings import PER_INCH
from projector.session.calibrating.host import Calibration
from projector.session.host import Pixels
from projector.simulated.practice import FIRST_TAPES, TABLE_IN, Practice
from projector.simulated.tapes import Tape, TapedTable, nearest
from projector.simulated.view import Outlook, Picture, View

GLASS_IN = 3.0
"""How much of the table the magnifying glass shows, each way."""
GLASS_SHARE = 0.36
"""How large it is, as a share of the window's height."""
BESIDE_PX = (37.0, -22.0)
"""How far off the tape crosses the crosses of light start."""
RIM = 0xE8E2D0
REMARK = (
    "This is practice on a simulated table. Four tape crosses are stuck on it already, their inches beside them; more "
    "are stuck where you ask for marks. Move the light onto each (the glass helps) and type its inches."
)


class Practising:
    """A calibration seen on the simulated table; a tape cross is stuck wherever a further mark is asked for.

    While a cross is pointed a magnifying glass shows the nearest tape cross from close by, for a window shows the
    table smaller than it is.
    """

    def __init__(self, calibration: Calibration, practice: Practice, unit: Unit, size_px: tuple[int, int]) -> None:
        self.calibration, self.practice, self._size_px = calibration, practice, size_px
        self._unit = unit
        self.calibration.state = replace(
            calibration.state,
            remark=REMARK,
            crosses=tuple(
                replace(cross, pixel=self._beside(at))
                for cross, at in zip(calibration.state.crosses, FIRST_TAPES, strict=True)
            ),
        )
        self.tapes = tuple(self._tape(at) for at in FIRST_TAPES)
        self._outlook = Outlook.over(*TABLE_IN, *size_px)
        self._frame: Pixels = np.zeros(calibration.size_px[::-1], np.uint32)
        self._view: View | None = None
        self._glass: tuple[Tape, View] | None = None

    @property
    def size_px(self) -> tuple[int, int]:
        return self._size_px

    @property
    def finished(self) -> bool:
        return self.calibration.finished

    def key(self, name: str, quiet_s: float) -> bool:
        was = len(self.calibration.state.crosses)
        changed = self.calibration.key(name, quiet_s)
        state = self.calibration.state
        if len(state.crosses) > was:
            self.tapes = (*self.tapes, self._tape(self.practice.stuck_near(state.cross.pixel)))
            self._view = None
        return changed

    def click(self, pixel: tuple[int, int], quiet_s: float) -> bool:
        outlook, (left, upper) = self._outlook, (0, 0)
        glass = self._magnified()
        if glass is not None:
            corner, size = self._corner(glass[0]), glass[1].outlook.width_px
            if all(0 <= value - low < size for value, low in zip(pixel, corner, strict=True)):
                outlook, (left, upper) = glass[1].outlook, corner
        x = outlook.left + (pixel[0] - left + 0.5) / outlook.px_per_in
        y = outlook.near + (outlook.height_px - (pixel[1] - upper) - 0.5) / outlook.px_per_in
        u, v = np.floor(self.practice.rig.to_frame([(x, y)])[0]).astype(int).tolist()
        return self.calibration.click((u, v), quiet_s)

    def close(self) -> bool:
        return self.calibration.close()

    def repeats(self, name: str) -> bool:
        return self.calibration.repeats(name)

    def paint(self, pixels: Pixels) -> None:
        if self._view is None:
            self._view = View(self.practice.rig, TapedTable(self.tapes), self._outlook, TABLE_IN)
        self.calibration.paint(self._frame)
        pixels[:] = packed(self._view.seen(self._frame))
        glass = self._magnified()
        if glass is None:
            return
        tape, view = glass
        left, upper = self._corner(tape)
        size = view.outlook.width_px
        pixels[upper - 3 : upper + size + 3, left - 3 : left + size + 3] = RIM
        pixels[upper : upper + size, left : left + size] = packed(view.seen(self._frame))

    def _beside(self, at: tuple[float, float]) -> tuple[float, float]:
        """The middle of a pixel a little off a tape cross: whoever stuck it stuck it near the light."""
        u, v = (np.floor(self.practice.rig.to_frame([at])[0]) + 0.5 + BESIDE_PX).tolist()
        return u, v

    def _tape(self, at: tuple[float, float]) -> Tape:
        """A tape cross with what a tape measure reads there, in the unit of the person."""
        figures = (f"{round(value * PER_INCH[self._unit], 2):g}" for value in self.practice.counted(at))
        return Tape.stuck(at, f"{', '.join(figures)} {self._unit}")

    def _magnified(self) -> tuple[Tape, View] | None:
        """The tape cross nearest to the cross of light in hand, and the view of it from close by."""
        state = self.calibration.state
        if state.step is not Step.POINTING or state.dark:
            return None
        tape = nearest(self.tapes, self.practice.place_of(state.cross.pixel))
        if self._glass is None or self._glass[0] != tape:
            size = int(self._size_px[1] * GLASS_SHARE)
            (x, y), half = tape.at, GLASS_IN / 2
            outlook = Outlook(x - half, y - half, size, size, size / GLASS_IN)
            self._glass = tape, View(self.practice.rig, TapedTable(self.tapes), outlook, TABLE_IN)
        return self._glass

    def _corner(self, tape: Tape) -> tuple[int, int]:
        """Left and upper end of the glass: in the corner of the window that is farthest from the tape cross."""
        size = int(self._size_px[1] * GLASS_SHARE)
        left = 8 if tape.at[0] > TABLE_IN[0] / 2 else self._size_px[0] - size - 8
        upper = 8 if tape.at[1] < TABLE_IN[1] / 2 else self._size_px[1] - size - 8
        return left, upper


def packed(seen: Picture) -> NDArray[np.uint32]:
    """A picture (height, width, 3) as packed pixels 0x00RRGGBB (height, width)."""
    red, green, blue = (seen[..., channel].astype(np.uint32) for channel in range(3))
    return np.asarray(red << 16 | green << 8 | blue, np.uint32)
