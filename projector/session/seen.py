"""Modes seen on the simulated table, in an ordinary window: the demo of cutting, and practice in calibrating."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from jobs.model.choices import Unit
from jobs.model.plan import Stop
from projector.demo.practice import FIRST_TAPES, TABLE_IN, Practice
from projector.demo.tapes import Tape, TapedTable, nearest
from projector.demo.view import Outlook, Picture, View
from projector.scene.marks import Point
from projector.session.actions import AnyAction, Pointed
from projector.session.calibrating.findings import PER_INCH
from projector.session.calibrating.mode import Calibration
from projector.session.calibrating.state import Calibrating, Step
from projector.session.cutting.mode import Cutting
from projector.session.mode import OnFrame, Pixels

Eye = Callable[[Pixels], NDArray[np.uint8]]
"""What is seen, (height, width, 3) red, green, blue, when a frame of light falls on the table."""
EyeAt = Callable[[Stop, tuple[int, int]], Eye]
"""The eye over the table as the cloth lies at a stop, for a picture of so many pixels (width, height)."""

PlaceOf = Callable[[tuple[int, int], tuple[int, int]], Point]
"""The place on the table that a pixel of a picture of so many pixels shows."""


class _Ahead:
    """Eyes made one stop ahead, for making one takes about a second; only neighbours are kept, for each is large."""

    def __init__(self, make: Callable[[int], Eye], count: int) -> None:
        self._make, self._count = make, count
        self._eyes: dict[int, Future[Eye]] = {}
        self._maker = ThreadPoolExecutor(max_workers=1)

    def at(self, stop: int) -> Eye:
        """The eye at a stop; the one at the next stop is begun."""
        for wanted in (stop, stop + 1):
            if wanted < self._count and wanted not in self._eyes:
                self._eyes[wanted] = self._maker.submit(self._make, wanted)
        self._eyes = {at: eye for at, eye in self._eyes.items() if abs(at - stop) <= 1}
        return self._eyes[stop].result()

    def end(self) -> None:
        """Begin nothing more."""
        self._maker.shutdown(wait=False, cancel_futures=True)


class Demo:
    """A session on the simulated table: ``eye_at`` shows the table with the session's light on it."""

    def __init__(
        self,
        cutting: Cutting,
        eye_at: EyeAt,
        size_px: tuple[int, int],
        place_of: PlaceOf,
        on_light: OnFrame | None = None,
    ) -> None:
        self.mode, self.size_px, self._place_of = cutting, size_px, place_of
        self._on_light = on_light
        stops = cutting.state.stops
        self._ahead = _Ahead(lambda at: eye_at(stops[at], size_px), len(stops))
        self._frame: Pixels = np.zeros(cutting.size_px[::-1], np.uint32)

    def action_at(self, pixel: tuple[int, int]) -> AnyAction:
        place = self._place_of(pixel, self.size_px)
        (u, v) = self.mode.state.setup.table.to_frame([place])[0].tolist()
        return Pointed((u, v))

    def paint(self, pixels: Pixels) -> None:
        self.mode.paint(self._frame)
        if self._on_light is not None:
            self._on_light(self._frame.copy())
        pixels[:] = packed(self._ahead.at(self.mode.state.at)(self._frame))

    def close(self) -> None:
        """Look no further ahead."""
        self._ahead.end()


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
REMARK_ON_PHOTOGRAPHS = (
    "This is practice on a simulated table: its page takes the photographs and tells what the tape says. Open it with "
    "lightchalk open, place Table."
)


class Practising:
    """A calibration seen on the simulated table; a tape cross is stuck wherever a further mark is asked for.

    While a cross is pointed a magnifying glass shows the nearest tape cross from close by, for a window shows the
    table smaller than it is.
    """

    def __init__(
        self,
        calibration: Calibration,
        practice: Practice,
        unit: Unit,
        size_px: tuple[int, int],
        on_light: OnFrame | None = None,
    ) -> None:
        self.mode, self.practice, self.size_px, self._unit = calibration, practice, size_px, unit
        self._on_light = on_light
        calibration.state = self._begun(calibration.state)
        self._tapes, self._asked = tuple(self._tape(at) for at in FIRST_TAPES), len(FIRST_TAPES)
        self._outlook = Outlook.over(*TABLE_IN, *size_px)
        self._frame: Pixels = np.zeros(calibration.size_px[::-1], np.uint32)
        self._view: tuple[tuple[Tape, ...], View] | None = None
        self._glass: tuple[Tape, View] | None = None

    def _begun(self, state: Calibrating) -> Calibrating:
        """The first crosses of light a little off the tape crosses: whoever stuck these stuck them near the light."""
        crosses = [
            replace(
                cross, pixel=tuple((np.floor(self.practice.projector.to_frame([at])[0]) + 0.5 + BESIDE_PX).tolist())
            )
            for cross, at in zip(state.crosses, FIRST_TAPES, strict=True)
        ]
        return replace(state, remark=REMARK_ON_PHOTOGRAPHS if state.by_photographs else REMARK, crosses=tuple(crosses))

    @property
    def tapes(self) -> tuple[Tape, ...]:
        """The tape crosses: one more is stuck near the cross in hand whenever one more is asked for."""
        state = self.mode.state
        if len(state.crosses) > self._asked:
            self._tapes = (*self._tapes, self._tape(self.practice.stuck_near(state.cross.pixel)))
        self._asked = len(state.crosses)
        return self._tapes

    def action_at(self, pixel: tuple[int, int]) -> AnyAction:
        outlook, (left, upper) = self._outlook, (0, 0)
        glass = self._magnified()
        if glass is not None:
            corner, size = self._corner(glass[0]), glass[1].outlook.width_px
            if all(0 <= value - low < size for value, low in zip(pixel, corner, strict=True)):
                outlook, (left, upper) = glass[1].outlook, corner
        x = outlook.left + (pixel[0] - left + 0.5) / outlook.px_per_in
        y = outlook.near + (outlook.height_px - (pixel[1] - upper) - 0.5) / outlook.px_per_in
        u, v = (np.floor(self.practice.projector.to_frame([(x, y)])[0]) + 0.5).tolist()
        return Pointed((u, v))

    def paint(self, pixels: Pixels) -> None:
        tapes = self.tapes
        if self._view is None or self._view[0] is not tapes:
            self._view = tapes, View(self.practice.projector, TapedTable(tapes), self._outlook, TABLE_IN)
        self.mode.paint(self._frame)
        if self._on_light is not None:
            self._on_light(self._frame.copy())
        pixels[:] = packed(self._view[1].seen(self._frame))
        glass = self._magnified()
        if glass is None:
            return
        tape, view = glass
        left, upper = self._corner(tape)
        size = view.outlook.width_px
        pixels[upper - 3 : upper + size + 3, left - 3 : left + size + 3] = RIM
        pixels[upper : upper + size, left : left + size] = packed(view.seen(self._frame))

    def _tape(self, at: tuple[float, float]) -> Tape:
        """A tape cross with what a tape measure reads there, in the unit of the person."""
        figures = (f"{round(value * PER_INCH[self._unit], 2):g}" for value in self.practice.counted(at))
        return Tape.stuck(at, f"{', '.join(figures)} {self._unit}")

    def _magnified(self) -> tuple[Tape, View] | None:
        """The tape cross nearest to the cross of light in hand, and the view of it from close by."""
        state = self.mode.state
        if state.step is not Step.POINTING or state.dark:
            return None
        tape = nearest(self.tapes, self.practice.place_of(state.cross.pixel))
        if self._glass is None or self._glass[0] != tape:
            size = int(self.size_px[1] * GLASS_SHARE)
            (x, y), half = tape.at, GLASS_IN / 2
            outlook = Outlook(x - half, y - half, size, size, size / GLASS_IN)
            self._glass = tape, View(self.practice.projector, TapedTable(self.tapes), outlook, TABLE_IN)
        return self._glass

    def _corner(self, tape: Tape) -> tuple[int, int]:
        """Left and upper end of the glass: in the corner of the window that is farthest from the tape cross."""
        size = int(self.size_px[1] * GLASS_SHARE)
        left = 8 if tape.at[0] > TABLE_IN[0] / 2 else self.size_px[0] - size - 8
        upper = 8 if tape.at[1] < TABLE_IN[1] / 2 else self.size_px[1] - size - 8
        return left, upper


def packed(seen: Picture) -> NDArray[np.uint32]:
    """A picture (height, width, 3) as packed pixels 0x00RRGGBB (height, width)."""
    red, green, blue = (seen[..., channel].astype(np.uint32) for channel in range(3))
    return np.asarray(red << 16 | green << 8 | blue, np.uint32)
