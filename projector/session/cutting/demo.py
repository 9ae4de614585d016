"""The demo: a session whose light falls on the simulated table, seen from above, with the same keys."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor

import numpy as np
from numpy.typing import NDArray

from jobs.model.plan import Stop
from projector.scene.marks import Point
from projector.session.actions import AnyAction
from projector.session.cutting.host import Cutting
from projector.session.cutting.publish import Json
from projector.session.host import Pixels

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
    """A session in an ordinary window: ``eye_at`` shows the table with the light of the inner session on it."""

    def __init__(
        self, cutting: Cutting, eye_at: EyeAt, size_px: tuple[int, int], place_of: PlaceOf | None = None
    ) -> None:
        self._place_of = place_of
        self.cutting = cutting
        self._size_px = size_px
        stops = cutting.session.stops
        self._ahead = _Ahead(lambda at: eye_at(stops[at], size_px), len(stops))
        width, height = cutting.size_px
        self._frame: Pixels = np.zeros((height, width), np.uint32)

    @property
    def size_px(self) -> tuple[int, int]:
        return self._size_px

    @property
    def finished(self) -> bool:
        return self.cutting.finished

    def key(self, name: str, quiet_s: float) -> bool:
        return self._after(self.cutting.key(name, quiet_s))

    def click(self, pixel: tuple[int, int], quiet_s: float) -> bool:
        if self._place_of is None:
            return False
        return self.cutting.point(self._place_of(pixel, self._size_px))

    def close(self) -> bool:
        return self._after(self.cutting.close())

    def act(self, action: AnyAction, quiet_s: float) -> bool:
        return self._after(self.cutting.act(action, quiet_s))

    def publish(self) -> Json:
        return self.cutting.publish()

    def _after(self, changed: bool) -> bool:
        if self.finished:
            self._ahead.end()
        return changed

    def repeats(self, name: str) -> bool:
        return self.cutting.repeats(name)

    def paint(self, pixels: Pixels) -> None:
        session = self.cutting.session
        if session.on_bench and not session.dark:
            # It belongs on the screen beside the table, not on the cloth: here the window is that screen.
            pixels[:] = self.cutting.bench_screen(self._size_px)
            return
        self.cutting.paint(self._frame)
        seen = self._ahead.at(self.cutting.session.at)(self._frame).astype(np.uint32)
        pixels[:] = seen[..., 0] << 16 | seen[..., 1] << 8 | seen[..., 2]
