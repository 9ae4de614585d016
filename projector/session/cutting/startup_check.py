"""Has anything moved? Two marks of the calibration lit again, and the light moved onto them where they miss.

The value of this check, what an action does to it, its light and its words; it knows nothing of the session around it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

from calibration.homography import OutOfReach
from calibration.marks import Mark
from calibration.moved import Mend, Move, find_move
from calibration.table import Table
from jobs.model.choices import Unit
from jobs.model.records import dataclass
from projector.scene.boxes import around
from projector.scene.marks import Kind, Point, Scene, Stroke, Text
from projector.scene.marks import Mark as LitMark
from projector.session.actions import NUDGES_64THS, Action
from projector.session.cutting.light import STEPS_PER_INCH
from projector.session.cutting.pages import Page
from projector.session.keys import Keys, spoken
from projector.session.layout import Lines, words
from projector.words.findings import describe_move

PAGES = frozenset({Page.STARTUP_CHECK, Page.MOVING, Page.MOVED})
ARM_IN = 1.5
SMALL_IN = 0.6
NUMBER_IN = 0.9
TALLEST_IN = 1.6
FARTHEST_64THS = 6 * STEPS_PER_INCH
"""No farther than this is the light moved onto a mark: beyond, only a new calibration helps."""


@dataclass(frozen=True)
class StartupCheck:
    """Two marks of the bare ``table`` (numbers from 1), how far the light was moved to meet each, which is in hand.

    ``count`` tells how many of the two the correction goes by; ``notices`` is what to say of the calibration first.
    """

    table: Table
    numbers: tuple[int, int]
    notices: tuple[str, ...] = ()
    offsets_64ths: tuple[tuple[int, int], tuple[int, int]] = ((0, 0), (0, 0))
    at: int = 0
    count: int = 2
    over: bool = False

    @property
    def marks(self) -> tuple[Mark, Mark]:
        """The two marks as they were calibrated."""
        first, second = (self.table.marks[number - 1] for number in self.numbers)
        return first, second

    def lit_at(self, number: int) -> Point:
        """Where the old calibration believes the cross of mark 0 or 1 to lie, as it is lit now."""
        x, y = self.marks[number].table
        right, away = self.offsets_64ths[number]
        return x + right / STEPS_PER_INCH, y + away / STEPS_PER_INCH

    def nudged(self, right_64ths: int, away_64ths: int) -> StartupCheck:
        """The cross in hand moved on, the second one with the first; the same where it would leave the light."""
        right, away = self.offsets_64ths[self.at]
        there = (right + right_64ths, away + away_64ths)
        moved = (there, there) if self.at == 0 else (self.offsets_64ths[0], there)
        new = replace(self, offsets_64ths=moved)
        near = max(abs(value) for value in there) <= FARTHEST_64THS
        return new if near and bool(self.table.contains([new.lit_at(self.at)])[0]) else self

    @property
    def move(self) -> Move | None:
        """How the light has moved, by the marks that count; None when they cannot tell."""
        places = [self.lit_at(number) for number in range(self.count)]
        try:
            pixels = self.table.to_frame(places).tolist()
            seen = [Mark(mark.table, (u, v)) for mark, (u, v) in zip(self.marks, pixels, strict=False)]
            return find_move(self.table, seen)
        except (OutOfReach, ValueError):
            return None


def startup_check_of(table: Table, notices: Sequence[str] = ()) -> StartupCheck | None:
    """The check by the two marks farthest apart among those that are lit; None where fewer than two are.

    Where photographs made the table its first two marks are the crosses that the tape was laid between.
    """
    if table.photographed is not None:
        return StartupCheck(table, (1, 2), tuple(notices))
    places = [mark.table for mark in table.marks]
    lit = [number for number, is_lit in enumerate(table.contains(places), 1) if is_lit] if places else []
    if len(lit) < 2:
        return None
    far = max(combinations(lit, 2), key=lambda pair: math.dist(places[pair[0] - 1], places[pair[1] - 1]))
    return StartupCheck(table, far, tuple(notices))


Outcome = tuple[Page | None, StartupCheck, Move | None]
"""The page that follows (None: the check is over), the check, and the move of the light that is to be corrected."""


def press_startup_check(page: Page, check: StartupCheck, action: Action) -> Outcome | None:
    """What one action does on the three pages of the check; None where it means what it means elsewhere.

    Going on is always possible with the key of the next stop alone, so that a remote is enough.
    """
    if action in (Action.LEAVE, Action.HELP, Action.LEGEND, Action.REMAINING):
        return None
    match page:
        case Page.STARTUP_CHECK:
            return _asked(check, action)
        case Page.MOVING:
            return _moving(check, action)
    return _judged(check, action)


def _asked(check: StartupCheck, action: Action) -> Outcome:
    if action is Action.NEXT_STOP:
        return None, check, None
    if action in NUDGES_64THS:
        return Page.MOVING, check.nudged(*NUDGES_64THS[action]), None
    return Page.MOVING if action is Action.CUT_DONE else Page.STARTUP_CHECK, check, None


def _moving(check: StartupCheck, action: Action) -> Outcome:
    page = Page.MOVING
    if action in NUDGES_64THS:
        return page, check.nudged(*NUDGES_64THS[action]), None
    match action:
        case Action.NEXT_STOP | Action.CUT_DONE if check.at == 0:
            check = replace(check, at=1)
        case Action.NEXT_STOP | Action.CUT_DONE:
            page, check = Page.MOVED, replace(check, count=2)
        case Action.NEXT_CUT:
            page, check = Page.MOVED, replace(check, count=1)
        case Action.PREVIOUS_STOP if check.at == 1:
            check = replace(check, at=0)
        case Action.PREVIOUS_STOP:
            page = Page.STARTUP_CHECK
        case Action.LIGHT_BACK | Action.UNDO:
            check = replace(check, offsets_64ths=((0, 0), (0, 0)), at=0)
    return page, check, None


def _judged(check: StartupCheck, action: Action) -> Outcome:
    if action is Action.PREVIOUS_STOP:
        return Page.MOVING, check, None
    if action is Action.LIGHT_BACK:
        return None, check, None
    if action not in (Action.NEXT_STOP, Action.CUT_DONE):
        return Page.MOVED, check, None
    move = check.move
    return None, check, move if move is not None and move.mend in (Mend.SHIFT, Mend.SHIFT_AND_TURN) else None


def startup_check_lit(page: Page, check: StartupCheck, area: Sequence[Point], said: Lines) -> Scene:
    """The page of the check with its words, in inches of the bare table."""
    shown = [0, 1] if page is not Page.MOVING else [check.at]
    marks: list[LitMark] = []
    for number in shown:
        x, y = check.lit_at(number)
        marks.append(Stroke(Kind.TARGET, ((x - ARM_IN, y), (x + ARM_IN, y))))
        marks.append(Stroke(Kind.TARGET, ((x, y - ARM_IN), (x, y + ARM_IN))))
        marks.append(Text(Kind.LETTER, str(check.numbers[number]), _beside((x, y), area), NUMBER_IN))
    rooms = tuple(around(check.lit_at(number), 2 * ARM_IN + 1, 2 * ARM_IN + 1) for number in shown)
    return Scene((*marks, *words(said, area, rooms, tallest_in=TALLEST_IN).marks))


def _beside(at: Point, area: Sequence[Point]) -> Point:
    """Where the number stands: off the arms, towards the middle of the lit area."""
    middle = (sum(x for x, _ in area) / len(area), sum(y for _, y in area) / len(area))
    return (at[0] + (1.0 if at[0] < middle[0] else -1.0), at[1] + (1.0 if at[1] < middle[1] else -1.0))


def startup_check_text(page: Page, check: StartupCheck, keys: Keys, unit: Unit) -> Lines:
    """The words of the page, with the keys that answer."""
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    enter, single = spoken(Action.CUT_DONE, keys), spoken(Action.NEXT_CUT, keys)
    first, second = check.numbers
    if page is Page.STARTUP_CHECK:
        return (
            ("Has anything moved?", 1.8),
            *((notice, 1.0) for notice in check.notices),
            (f"Crosses are lit where marks {first} and {second} were set. Do they meet their tape?", 1.0),
            (f"{forward}: yes (or the tape is gone), go on", 1.3),
            (f"{enter} or an arrow: they miss", 1.3),
        )
    if page is Page.MOVING:
        number = check.numbers[check.at]
        alone: Lines = ((f"{single}: go by mark {first} alone", 1.0),)
        return (
            (f"Move the light onto mark {number}", 1.8),
            ("Arrow keys 1/16 in, with Shift 1/2, with Ctrl 1/64.", 1.0),
            (f"{enter} or {forward}: it meets now", 1.3),
            *alone,
            (f"{back}: back", 1.0),
        )
    return _judged_text(check, forward, back, spoken(Action.LIGHT_BACK, keys), spoken(Action.LEAVE, keys), unit)


def _judged_text(check: StartupCheck, forward: str, back: str, without: str, leave: str, unit: Unit) -> Lines:
    move = check.move
    if move is None or move.mend is Mend.REDO:
        what = describe_move(move, unit.value) if move else "These two crosses cannot tell how the light has moved."
        return (
            ("Calibrate anew", 1.8),
            (what, 1.0),
            (f"{leave}: leave, then run lightchalk calibrate", 1.3),
            (f"{back}: look again", 1.0),
            (f"{forward}: go on with the light as it is, at your own risk", 1.0),
        )
    if move.mend is Mend.NOTHING:
        return (("Nothing has moved", 1.8), (describe_move(move, unit.value), 1.0), (f"{forward}: go on", 1.3))
    return (
        ("The light has moved", 1.8),
        (describe_move(move, unit.value), 1.0),
        (f"{forward}: correct it for this session", 1.3),
        (f"{back}: look again", 1.0),
        (f"{without}: go on without the correction", 1.0),
    )
