"""The photographs of the lit table on the page: how far they have come, where to stand next, what they give."""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any, Protocol

from calibration.photographs.sides import SIDES, TESTED
from jobs.model.choices import Unit
from jobs.model.lengths import LengthError, parse_length
from jobs.model.numbers import show_number
from jobs.model.records import dataclass
from projector.files.decimal_comma import with_point
from projector.page.places.form import reading
from projector.page.places.templates import rendered
from projector.words.calibration_problems import STANDING
from projector.words.measures import format_error

FINEST_TAPE = 64
FIRST_SIDE = 6
"""Whoever has taken none yet begins where they stand, at the near side."""
AROUND = (3, 2, 1, 4, None, 0, 5, 6, 7)
"""The sides in rows as they lie around the table, seen from above."""
PROMPTS = ("From lit cross to lit cross the tape says", "Laid once more, it says")


class Photographs(Protocol):
    """A set of photographs as it stands: what was taken and typed, and what the last fit of it told."""

    fit: dict[str, Any]
    fits: int
    judging: int
    typed: list[str]
    unit: Unit
    table: Path
    trouble: str
    made: Any
    moved: Any
    comparing: bool
    knocked: bool

    @property
    def shots(self) -> Sequence[Any]: ...

    @property
    def used(self) -> Sequence[Any]: ...

    @property
    def can_compare(self) -> bool: ...

    @property
    def is_fitting(self) -> bool: ...

    def wrong(self, number: int) -> str:
        """What is wrong with a length that was typed."""


@dataclass(frozen=True)
class Typed:
    """A length field: its text, how that is read, what is wrong with it."""

    prompt: str
    value: str
    reading: str
    wrong: str


@dataclass(frozen=True)
class Shown:
    """A photograph in the list: its number among those that are used (0: it is not), whether bars lie over it."""

    name: str
    number: int
    said: str
    good: bool
    over: bool
    wrong: str


def photograph_parts(found: Photographs, *, simulated: bool, taking: bool) -> dict[str, str]:
    """The parts ``photographs``, what is asked for, and ``shots``, what was taken and what comes of it."""
    fit = found.fit
    side, high = int(fit.get("side", FIRST_SIDE)), bool(fit.get("high", True))
    upright = bool(fit.get("upright", False))
    wrong = [(which, words) for which, words in fit.get("wrong", ()) if which is None]
    show = {
        "count": len(found.used),
        "share": round(100 * float(fit.get("share", 0.0))),
        "words": _words(fit, len(found.used), found.unit),
        "enough": bool(fit.get("enough")),
        "next_words": f"Take the next one {STANDING[side]}, the camera held {_held(high=high, upright=upright)}.",
        "standing": fit.get("standing", ""),
        "busy": found.judging > 0 or found.is_fitting or taking,
        "taking": taking,
        "lengths": _lengths(found),
        "tape_says": _tape_says(found.unit) if simulated else "",
        "unit": found.unit.value,
        "around": [(at, STANDING[at].removeprefix("from ") if at is not None else "") for at in AROUND],
        "side": side, "high": high, "upright": upright, "simulated": simulated, "sides": SIDES,
        "wrong": [words for _, words in wrong], "trouble": found.trouble, "knocked": found.knocked,
    }  # fmt: skip
    looks = {
        "shots": _shots(found),
        "made": found.made,
        "fits": found.fits,
        "doubts": [words for _, words in fit.get("doubts", ())],
        "table": found.table.name,
        "simulated": simulated,
        "can_compare": found.can_compare,
        "comparing": found.comparing,
        "moved": found.moved,
    }
    return {
        "photographs": rendered("parts/photographs.html", **show),
        "shots": rendered("parts/shots.html", **looks),
    }


def _held(*, high: bool, upright: bool) -> str:
    return f"{'high' if high else 'low'} and {'upright' if upright else 'across'}"


def _words(fit: dict[str, Any], count: int, unit: Unit) -> str:
    """How far the set has come."""
    open_in = fit.get("open_in")
    if open_in is None:
        return f"{count} of five." if count else "None yet: five are wanted."
    if fit.get("enough"):
        return f"{count} photographs: enough. Lay the tape now."
    much = format_error(open_in, unit.value)
    if count < TESTED:
        return f"{count} photographs leave the light open by {much}; with five they test each other."
    return f"{count} photographs leave the light open by {much}: one more makes it surer."


def _lengths(found: Photographs) -> list[Typed]:
    return [
        Typed(prompt, text, _reading(text, found.unit), found.wrong(number))
        for number, (prompt, text) in enumerate(zip(PROMPTS, found.typed, strict=True))
    ]


def _reading(text: str, unit: Unit) -> str:
    """How a length is read, to the parts of an inch that a tape has; empty where it says just that."""
    read = reading(text, unit)
    with contextlib.suppress(LengthError, ValueError):
        length = parse_length(with_point(text), unit)
        if unit is Unit.INCH and length.denominator <= FINEST_TAPE:
            read = f"{show_number(length)} in"
    return "" if read in (plain := " ".join(text.split()), f"{plain} in") else read


def _tape_says(unit: Unit) -> str:
    """What a tape says on the simulated table, to the finest step that is read on it."""
    from projector.demo.practice import practice  # loads what draws: where it is practised alone

    true_in = practice().tape_in
    if unit is Unit.INCH:
        return f"{show_number(Fraction(round(true_in * 32), 32))} in"
    return f"{round(true_in * 25.4)} mm"


def _shots(found: Photographs) -> list[Shown]:
    fitted, shown, number = len(found.fit.get("spreads_px", ())), [], 0
    wrong = {which: words for which, words in found.fit.get("wrong", ()) if which is not None}
    for one in found.shots:
        at = number
        number += one.sighting is not None
        over = one.sighting is not None and at < fitted and not found.is_fitting
        amiss = wrong.get(at, "") if one.sighting is not None else ""
        shown.append(
            Shown(one.name, at + 1 if one.sighting is not None else 0, one.said, not one.look and bool(one.sighting),
                  over, amiss)
        )  # fmt: skip
    return shown
