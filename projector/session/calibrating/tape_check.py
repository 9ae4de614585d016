"""The light checked with a tape: lit lengths one after another, what the tape says typed, the verdict. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction

from calibration.marks import TapeCheck, TapeClass, TapeReading
from calibration.table import Table
from calibration.tape import Action as Advice
from calibration.tape import TapeResult, action_after, judge_tape, lengths_to_light
from jobs.model.choices import Unit
from jobs.model.records import dataclass
from projector.scene.marks import Point
from projector.session.actions import Action, AnyAction, Chosen, Typed
from projector.session.calibrating.reducer import ENTERING_KEYS, JUDGING_KEYS, WORDS_KEYS, Parse, typed_on

LONGEST_IN = 360
"""Longer lengths than this no tape class tells of."""


class TapeStep(StrEnum):
    """What the person is asked for."""

    CAUTIONS = "cautions"
    READING = "reading"
    VERDICT = "verdict"
    LEAVE = "leave?"
    LEFT = "left"


@dataclass(frozen=True)
class LitLength:
    """A lit line, and what the tape says of it: as typed, and exact in inches (None: not measured)."""

    start_in: Point
    end_in: Point
    typed: str = ""
    tape: Fraction | None = None


@dataclass(frozen=True)
class TapeChecking:
    """Everything the frame depends on. ``at`` is the length in hand, ``result`` the judgement once there is one."""

    table: Table
    unit: Unit
    tape: TapeClass
    nearest_in: float
    date: str
    lengths: tuple[LitLength, ...]
    at: int = 0
    step: TapeStep = TapeStep.CAUTIONS
    behind: TapeStep = TapeStep.CAUTIONS
    typing: str = ""
    problem: str = ""
    dark: bool = False

    @property
    def length(self) -> LitLength:
        """The length in hand."""
        return self.lengths[self.at]

    @property
    def readings(self) -> tuple[TapeReading, ...]:
        """The lengths that were measured."""
        return tuple(
            TapeReading(one.start_in, one.end_in, float(one.tape)) for one in self.lengths if one.tape is not None
        )

    @property
    def result(self) -> TapeResult | None:
        """The readings judged; None before the first."""
        readings = self.readings
        return judge_tape(self.table, readings, self.tape, self.nearest_in) if readings else None

    @property
    def check(self) -> TapeCheck | None:
        """What is kept with the calibration; None before the first reading."""
        return check_of(self.table, TapeCheck(self.readings, self.tape, self.nearest_in), self.date)

    def with_length(self, length: LitLength) -> TapeChecking:
        """The same with the length in hand replaced."""
        return replace(self, lengths=(*self.lengths[: self.at], length, *self.lengths[self.at + 1 :]))


def begin_tape_check(
    table: Table, unit: Unit, tape: TapeClass = TapeClass.II, nearest_in: float = 1 / 16, date: str = ""
) -> TapeChecking:
    """The check of a table by six lit lengths. Raises ``OutOfReach`` where no such lengths can be lit."""
    return TapeChecking(table, unit, tape, nearest_in, date, tuple(_short_enough(lengths_to_light(table))))


def _short_enough(lines: Iterable[tuple[Point, Point]]) -> Iterable[LitLength]:
    for start, end in lines:
        if (start[0] - end[0]) ** 2 + (start[1] - end[1]) ** 2 <= LONGEST_IN**2:
            yield LitLength(start, end)


def check_of(table: Table, read: TapeCheck, date: str) -> TapeCheck | None:
    """Readings as a dated check, accepted when the judgement says so; None without readings."""
    if not read.readings:
        return None
    result = judge_tape(table, read.readings, read.tape, read.nearest_in)
    return replace(read, date=date, accepted=action_after(result) is Advice.ACCEPT)


Outcome = tuple[TapeChecking, tuple[TapeCheck, ...]]
"""The state that follows, and the check that is to be kept with the calibration."""

READING_KEYS: dict[str, AnyAction] = {
    **ENTERING_KEYS,
    "PageDown": Action.ENTER,
    "PageUp": Action.PREVIOUS_STOP,
}
KEYS = {TapeStep.READING: READING_KEYS, TapeStep.VERDICT: JUDGING_KEYS}


def keys_of(step: TapeStep) -> Mapping[str, AnyAction]:
    """What each key asks for at a step."""
    return KEYS.get(step, WORDS_KEYS)


def press(state: TapeChecking, action: AnyAction, parse: Parse) -> Outcome:
    """What one action does. In the dark any key only brings the light back."""
    if state.step is TapeStep.LEFT:
        return state, ()
    if state.dark or action is Action.DARK:
        return replace(state, dark=not state.dark), ()
    leaves = action is Action.LEAVE
    match state.step:
        case TapeStep.LEAVE:
            return replace(state, step=TapeStep.LEFT if leaves else state.behind), ()
        case _ if leaves and not state.readings:
            return replace(state, step=TapeStep.LEFT), ()
        case _ if leaves:
            return replace(state, step=TapeStep.LEAVE, behind=state.step), ()
        case TapeStep.CAUTIONS:
            return replace(state, step=TapeStep.READING), ()
        case TapeStep.READING:
            return _reading(state, action, parse), ()
    return _verdict(state, action)


def _reading(state: TapeChecking, action: AnyAction, parse: Parse) -> TapeChecking:
    match action:
        case Action.RUB_OUT:
            return replace(state, typing=state.typing[:-1], problem="")
        case Action.PREVIOUS_STOP if state.at > 0:
            return _at(state, state.at - 1)
        case Typed(text):
            return replace(state, typing=typed_on(state.typing, text), problem="")
        case Action.ENTER:
            return _entered(state, parse)
    return state


def _entered(state: TapeChecking, parse: Parse) -> TapeChecking:
    """Enter: the length is read, or left out where nothing was typed; then the next, or the verdict."""
    if state.typing.strip():
        try:
            tape = parse(state.typing)
        except ValueError as fault:
            return replace(state, problem=str(fault))
        if tape <= 0:
            return replace(state, problem="A lit length is more than nothing: type what the tape says.")
        kept = state.with_length(replace(state.length, typed=state.typing, tape=tape))
    else:
        kept = state.with_length(replace(state.length, typed="", tape=None))
    later = state.at + 1
    if later < len(kept.lengths) and kept.lengths[later].tape is None:
        return _at(kept, later)
    if not kept.readings:
        return replace(_at(kept, 0), problem="No length was measured: measure at least one, best all.")
    return replace(kept, step=TapeStep.VERDICT, typing="", problem="")


def _at(state: TapeChecking, number: int) -> TapeChecking:
    return replace(state, at=number, step=TapeStep.READING, typing=state.lengths[number].typed, problem="")


def _verdict(state: TapeChecking, action: AnyAction) -> Outcome:
    check, count = state.check, len(state.lengths)
    match action:
        case Action.SAVE if check is not None:
            return replace(state, step=TapeStep.LEFT), (check,)
        case Action.AGAIN:
            return _at(state, state.at), ()
        case Chosen(number) if 1 <= number <= count:
            return _at(state, number - 1), ()
        case Action.CHOOSE_BEFORE | Action.CHOOSE_AFTER:
            return replace(state, at=(state.at + (1 if action is Action.CHOOSE_AFTER else -1)) % count), ()
    return state, ()
