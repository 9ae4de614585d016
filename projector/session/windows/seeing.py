"""The screens as they are at any moment of the work: SDL's list, put right by what the X server really lights."""

from __future__ import annotations

from projector.session.windows.displays import Display
from projector.session.windows.monitors import Monitors, as_lit, matched
from projector.session.windows.screens import reopen, screens


class Seeing:
    """Looks at the screens again and again, from when the windows are open until they are closed."""

    def __init__(self) -> None:
        self._monitors = Monitors()
        self._own = matched(screens(), self._monitors.lit())

    def displays(self) -> tuple[Display, ...]:
        """The screens that are lit now, where they lie and as large as they are."""
        return as_lit(screens(), self._monitors.lit(), self._own)

    def anew(self) -> tuple[Display, ...]:
        """The screens opened again, their windows closed before, so that new windows find their places."""
        reopen()
        self._own = matched(screens(), self._monitors.lit())
        return self.displays()

    def close(self) -> None:
        """Look no more."""
        self._monitors.close()
