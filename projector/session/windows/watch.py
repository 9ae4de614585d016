"""What comes between while at work: the projector goes or changes its size, the computer sleeps.

The loop wakes every second, so a long gap between two wakings is a sleep.
"""

from __future__ import annotations

from enum import Enum

from jobs.model.records import dataclass
from projector.session.windows.displays import Display, found_again

WAKE_EVERY_S = 1.0
SLEPT_S = 30.0
"""A gap longer than this is taken for a sleep: no frame takes as long, and anybody may have passed the table since."""
MOST_RETURNS = 3
"""So often in a row the light is put back; a window that has other pixels even then stays told of."""


def slept(seconds: float) -> str:
    """The computer slept for so long."""
    minutes = round(seconds / 60)
    lasted = f"{round(seconds)} seconds" if minutes < 2 else f"{minutes} minutes"
    if minutes >= 120:
        lasted = f"{round(minutes / 60)} hours"
    return f"The computer stood still for {lasted}. Somebody may have touched projector or table meanwhile."


def gone(name: str) -> str:
    """The projector is no longer there."""
    return f"The projector ({name}) is gone. See to its cable and switch it on. What is ticked is kept."


def other_size(name: str, size_px: tuple[int, int], has_px: tuple[int, int]) -> str:
    """The projector shows another number of pixels."""
    set_to, has = ("{} x {}".format(*size) for size in (size_px, has_px))
    return f"The projector ({name}) was set to {has} pixels. Set it back to {set_to}. What is ticked is kept."


def back(name: str) -> str:
    """The projector is there again."""
    return f"The projector ({name}) was away and is back. It may have been touched."


class Seen(Enum):
    """What has changed since the last look; ``LOST``: set to another size."""

    NOTHING = "nothing"
    GONE = "gone"
    LOST = "lost"
    BACK = "back"
    MOVED = "moved"


@dataclass
class Watch:
    """The projector's screen as it was when work began, and whether it is away now; ``words`` say so.

    ``layout`` is all screens as they were then, or when the windows were last put in their places.
    """

    screen: Display
    layout: tuple[Display, ...] = ()
    words: str = ""
    _returns: int = 0

    @property
    def lost(self) -> bool:
        """Whether it is away, or set to another size."""
        return bool(self.words)

    def look(self, displays: tuple[Display, ...], has_px: tuple[int, int]) -> Seen:
        """Compare with the screens there are now, and with how many pixels the window of the light has.

        A window that has other pixels than its screen counts as well: some systems tell of the one before the other.
        """
        was_lost = self.lost
        found = found_again(self.screen, displays)
        if found is None:
            same = next((one for one in displays if one.name == self.screen.name), None)
            name, size = self.screen.name, self.screen.size_px
            self.words = gone(name) if same is None else other_size(name, size, same.size_px)
            self._returns = 0
        elif was_lost and (self._returns < MOST_RETURNS or has_px == self.screen.size_px):
            self.words = ""
            self._returns += 1
        elif has_px == self.screen.size_px:
            self.words = ""
            self._returns = 0
        else:
            self.words = other_size(self.screen.name, self.screen.size_px, has_px)
        if self.lost is not was_lost:
            if not self.lost:
                return Seen.BACK
            return Seen.LOST if any(one.name == self.screen.name for one in displays) else Seen.GONE
        return Seen.MOVED if not self.lost and self.layout and displays != self.layout else Seen.NOTHING


@dataclass
class Wakings:
    """The clocks at the last waking: one that may stand still while the computer sleeps, and the wall's."""

    steady_s: float
    wall_s: float

    def slept_s(self, steady_s: float, wall_s: float) -> float:
        """How long the computer slept since the last waking; 0 when it did not.

        Which clock stands still in sleep differs from system to system, so the longer gap counts. A wall clock that
        is put back tells nothing.
        """
        gap = max(steady_s - self.steady_s, wall_s - self.wall_s)
        self.steady_s, self.wall_s = steady_s, wall_s
        return gap if gap > SLEPT_S else 0.0
