"""Screens as plain data, which of them is meant, and what is said when one cannot be used."""

from __future__ import annotations

from dataclasses import field

from jobs.model.records import dataclass

SCALES_PERCENT = (110, 120, 125, 133, 140, 150, 160, 167, 175, 180, 200, 225, 250, 300)
"""What systems offer, common practice, no source."""
SLACK_PX = 2
"""Sizes in scaled pixels are rounded, either way."""


@dataclass(frozen=True)
class Display:
    """One screen: ``number`` counts from 1, size in its own pixels, its upper left corner on the desktop.

    ``modes_px`` are the sizes that it can show, the largest first; none where the system does not tell. ``spoilt`` is
    what was found to spoil the light on it, in plain words.
    """

    number: int
    name: str
    width_px: int
    height_px: int
    left_px: int = 0
    upper_px: int = 0
    modes_px: tuple[tuple[int, int], ...] = field(default=(), compare=False)
    spoilt: tuple[str, ...] = field(default=(), compare=False)

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height."""
        return self.width_px, self.height_px


class DisplayError(ValueError):
    """A screen cannot be used; the words say why and what to do."""


class NoDisplayError(DisplayError):
    """There is no screen at all."""

    def __init__(self, reason: str = "") -> None:
        said = f" ({reason})" if reason else ""
        super().__init__(f"no screen was found{said}; plug the projector in, switch it on and try again")


class UnknownDisplayError(DisplayError):
    """There is no screen of that number."""

    def __init__(self, number: int, found: int) -> None:
        have = "there is only screen 1" if found == 1 else f"there are screens 1 to {found}"
        super().__init__(f"there is no screen {number}: {have}; see: lightchalk displays")


class UnknownNameError(DisplayError):
    """There is no screen of that name, or more than one whose name holds these letters."""

    def __init__(self, name: str, displays: tuple[Display, ...], fitting: int = 0) -> None:
        have = ", ".join(f"{display.number} ({display.name})" for display in displays)
        what = f"{fitting} screens have {name!r} in their names" if fitting else f"there is no screen called {name!r}"
        super().__init__(f"{what}: there are {have}; give the number, or more of the name")


class WrongSizeError(DisplayError):
    """The calibration was made for another number of pixels than the screen has."""

    def __init__(self, table_px: tuple[int, int], display: Display) -> None:
        made, has = f"{table_px[0]} x {table_px[1]}", f"{display.width_px} x {display.height_px}"
        percent = scale_between(table_px, display.size_px)
        scaled = f" (the desktop seems to be scaled to {percent} %: set it to 100 %)" if percent else ""
        super().__init__(
            f"the calibration was made for {made} pixels, screen {display.number} ({display.name}) has {has}{scaled}; "
            "set the screen to that size, choose the projector's screen with --display, or calibrate again"
        )


def chosen(displays: tuple[Display, ...], wanted: int | str | None) -> Display:
    """The screen of that number or name; without either the last, for a projector is plugged in after the laptop.

    A name may be given in part, in any case, where only one screen has it. Raises ``NoDisplayError``,
    ``UnknownDisplayError`` and ``UnknownNameError``.
    """
    if not displays:
        raise NoDisplayError
    if wanted is None:
        return displays[-1]
    if isinstance(wanted, str):
        return _called(displays, wanted)
    if not 1 <= wanted <= len(displays):
        raise UnknownDisplayError(wanted, len(displays))
    return displays[wanted - 1]


def _called(displays: tuple[Display, ...], name: str) -> Display:
    bare = name.strip().casefold()
    whole = [display for display in displays if display.name.casefold() == bare]
    fitting = whole or [display for display in displays if bare and bare in display.name.casefold()]
    if len(fitting) != 1:
        raise UnknownNameError(name, displays, len(fitting))
    return fitting[0]


def found_again(display: Display, displays: tuple[Display, ...]) -> Display | None:
    """The same screen among those there are now: of its name and size, wherever it lies; None when it is gone."""
    return next((one for one in displays if (one.name, one.size_px) == (display.name, display.size_px)), None)


def traps(display: Display, displays: tuple[Display, ...]) -> tuple[str, ...]:
    """What about the screens would spoil the light on ``display``, in plain words."""
    said = []
    twin = next((one for one in displays if one.number != display.number and _overlap(one, display)), None)
    if twin is not None:
        said.append(
            f"Screens {min(twin.number, display.number)} and {max(twin.number, display.number)} show the same picture: "
            "the displays are mirrored. Set them to extend, or the light covers everything else and the "
            "projector may be sent the wrong number of pixels."
        )
    if display.modes_px and display.size_px not in display.modes_px:
        shows = "{} x {}".format(*display.modes_px[0])
        said.append(
            f"Screen {display.number} ({display.name}) is {display.width_px} x {display.height_px} to programs but "
            f"cannot show that many pixels as they are (it shows {shows}): the desktop seems to be scaled. Set its "
            "scale to 100 %, or the lines are smeared."
        )
    return tuple(said)


def single(displays: tuple[Display, ...]) -> tuple[str, ...]:
    """What to say when there is one screen only: it may be two that show the same."""
    said = "Only one screen was found. If laptop and projector show the same picture, set the displays to extend."
    return (said,) if len(displays) == 1 else ()


def _overlap(one: Display, other: Display) -> bool:
    return (
        one.left_px < other.left_px + other.width_px
        and other.left_px < one.left_px + one.width_px
        and one.upper_px < other.upper_px + other.height_px
        and other.upper_px < one.upper_px + one.height_px
    )


def window_size(display: Display) -> tuple[int, int]:
    """Width and height of an ordinary window that fits a screen with room for bars and borders: 16 to 10."""
    width = min(int(display.width_px * 0.92), int(display.height_px * 0.84 * 1.6))
    return width, int(width / 1.6)


def scale_between(true_px: tuple[int, int], seen_px: tuple[int, int]) -> int | None:
    """By how many percent a screen of ``true_px`` must be scaled to seem ``seen_px`` large; None when no scale does."""
    for percent in SCALES_PERCENT:
        wide, high = (value * 100 / percent for value in true_px)
        if abs(wide - seen_px[0]) <= SLACK_PX and abs(high - seen_px[1]) <= SLACK_PX:
            return percent
    return None
