"""Watching over the projector's screen while at work: is it still there, and as large as it was?"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from projector.session.pressing.interruptions import gone, other_size
from projector.session.windows.displays import Display, found_again

MOST_RETURNS = 3
"""So often in a row the light is put back; a window that has other pixels even then stays told of."""


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
