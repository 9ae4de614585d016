"""What a tape proof means: accept, measure more, add marks or start again."""

from __future__ import annotations

from enum import StrEnum

from calibration import words
from calibration.checking import Verdict
from calibration.tape import Stretch, TapeResult


class Action(StrEnum):
    """What to do after a tape proof."""

    ACCEPT = "accept"
    MEASURE_MORE = "measure more"
    ADD_MARKS = "add marks"
    REDO = "redo"


def action_after(result: TapeResult) -> Action:
    """Redo when the tape and the light cannot both be right, add marks when they agree but not closely enough."""
    if result.verdict == Verdict.MISSES or any(_matters(stretch, result) for stretch in (result.along, result.across)):
        return Action.REDO
    if result.verdict == Verdict.DOUBTFUL or not {"along", "across", "diagonal"} <= {
        one.runs for one in result.readings
    }:
        return Action.MEASURE_MORE
    if any(max(abs(one.off_in), one.left_in) > result.tolerance_in for one in result.readings):
        return Action.ADD_MARKS
    return Action.ACCEPT


def sentence_after(result: TapeResult, unit: str = "in") -> str:
    """The outcome of the proof in words."""
    action = action_after(result)
    number, worst = max(enumerate(result.readings, 1), key=lambda pair: abs(pair[1].off_in) / pair[1].allowed_in)
    off, allowed = words.length(abs(worst.off_in), unit), words.error(worst.allowed_in, unit)
    if action == Action.REDO:
        stretched = [
            f"{abs(stretch.share):.2%} too {'short' if stretch.share < 0 else 'long'} {name}"
            for name, stretch in (("along", result.along), ("across", result.across))
            if stretch and _matters(stretch, result)
        ]
        if stretched:
            return (
                f"What is lit measures {' and '.join(stretched)} the table. "
                "The marks were measured wrong that way: measure them again and calibrate anew."
            )
        return (
            f"Reading {number} is {off} off, where up to {allowed} was to be expected: check the marks, calibrate anew."
        )
    if action == Action.MEASURE_MORE and worst.verdict == Verdict.DOUBTFUL:
        return (
            f"Reading {number} is {off} off, where up to {allowed} was to be expected: measure that length once more."
        )
    if action == Action.MEASURE_MORE:
        return "The tape agrees so far. Measure along, across and both diagonals before you trust it."
    if action == Action.ADD_MARKS:
        return (
            f"The tape agrees, but lengths may still be off by more than {words.length(result.tolerance_in, unit)}: "
            "set more marks, or read a finer tape."
        )
    return f"The tape agrees: no length is off by more than {off}. The calibration can be used."


def _matters(stretch: Stretch | None, result: TapeResult) -> bool:
    """Whether a scale error is more than chance and moves the longest reading by more than half the tolerance."""
    longest = max(one.lit_in for one in result.readings)
    return stretch is not None and stretch.matters and abs(stretch.share) * longest > result.tolerance_in / 2
