"""Screens as plain data, and what is said when one cannot be used."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Display:
    """One screen: ``number`` counts from 1, size in its own pixels."""

    number: int
    name: str
    width_px: int
    height_px: int


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


class WrongSizeError(DisplayError):
    """The calibration was made for another number of pixels than the screen has."""

    def __init__(self, table_px: tuple[int, int], display: Display) -> None:
        made, has = f"{table_px[0]} x {table_px[1]}", f"{display.width_px} x {display.height_px}"
        super().__init__(
            f"the calibration was made for {made} pixels, screen {display.number} ({display.name}) has {has}; "
            "set the screen to that size, choose the projector's screen with --display, or calibrate again"
        )


def chosen(displays: tuple[Display, ...], number: int | None) -> Display:
    """The screen of that number; without one the last, for a projector is plugged in after the laptop's own screen.

    Raises ``NoDisplayError`` and ``UnknownDisplayError``.
    """
    if not displays:
        raise NoDisplayError
    if number is None:
        return displays[-1]
    if not 1 <= number <= len(displays):
        raise UnknownDisplayError(number, len(displays))
    return displays[number - 1]


def window_size(display: Display) -> tuple[int, int]:
    """Width and height of an ordinary window that fits a screen with room for bars and borders: 16 to 10."""
    width = min(int(display.width_px * 0.92), int(display.height_px * 0.84 * 1.6))
    return width, int(width / 1.6)
