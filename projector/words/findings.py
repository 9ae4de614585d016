"""The words of what is found: in marks and their map, with check marks and tape, in points and pictures of a print."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from calibration.advice import LensUncertainty, Untested
from calibration.checking import Check, Verdict
from calibration.homography import points_of
from calibration.moved import Mend, Move
from calibration.photographs.settling import Settled
from calibration.registration.outliers import Outlier
from calibration.slips.judging import Finding
from calibration.tape import Action, TapeResult, action_after
from jobs.prints.photographs.combining import About, Disagreement
from jobs.prints.photographs.scale import Scale, Source
from projector.words.measures import format_error, format_length, format_marks

Array = NDArray[np.float64]

ENDLESS_IN = 12.0
"""A slip that shows only beyond this never shows."""
AT_SPOT = 0.12
"""A place is at a corner, a side or the middle when it is nearer to it than this share of the area's diagonal."""


LIKE_A_LAMP_IN = 0.75
"""Lights that had not moved were found moved by up to this under another lamp (rendered ones, see
``tests.benchmarks.calibration_moved``)."""


def describe_settled(found: Settled, area_in: ArrayLike, unit: str) -> str:
    """Whether the light has moved since it was calibrated, in one sentence with what to do."""
    most = format_error(found.most_in, unit)
    if found.holds:
        return f"Nothing has moved by more than {most} anywhere (in 95 of 100 cases): the calibration holds."
    if found.has_moved:
        far = format_length(float(found.far_in[found.worst]), unit)
        where = format_spot(found.places_in[found.worst], area_in)
        if found.far_in.max() < LIKE_A_LAMP_IN:
            return (
                f"The light seems to have moved by about {far} {where}, and a lamp or another place of the camera can "
                "look the same: see whether it still meets your bits of tape, and calibrate again where it does not."
            )
        return f"The light has moved by about {far} {where}: calibrate again."
    return (
        f"It may have moved by up to {most}; these photographs cannot tell it closer. Look whether the light still "
        "meets your bits of tape, or calibrate again."
    )


def format_spot(point_in: ArrayLike, area_in: ArrayLike) -> str:
    """Where a table point lies in an area (N, 2): "at the far right corner", "at the middle of the near side".

    A place that is at none of these is "between" the two it is nearest to.
    """
    area, point = points_of(area_in), points_of(point_in)[0]
    size = np.ptp(area, axis=0)
    corners = {
        f"the {across} {along} corner": area[np.argmax((area / size) @ (sx, sy))]
        for across, sy in (("near", -1), ("far", 1))
        for along, sx in (("left", -1), ("right", 1))
    }
    near_left, near_right, far_left, far_right = corners.values()
    spots = corners | {
        "the middle of the near side": (near_left + near_right) / 2,
        "the middle of the far side": (far_left + far_right) / 2,
        "the middle of the left end": (near_left + far_left) / 2,
        "the middle of the right end": (near_right + far_right) / 2,
        "the middle": (near_left + near_right + far_left + far_right) / 4,
    }
    ranked = sorted(spots, key=lambda name: float(np.linalg.norm(point - spots[name])))
    if np.linalg.norm(point - spots[ranked[0]]) <= AT_SPOT * np.linalg.norm(size):
        return f"at {ranked[0]}"
    return f"between {ranked[0]} and {ranked[1]}"


def describe_untested(found: Untested, unit: str = "in") -> str:
    """Marks whose slips would stay unseen, and what helps."""
    marks = format_marks(found.marks)
    if found.up_to_in > ENDLESS_IN:
        return f"A wrong number in {marks} would not show. One more mark would show it."
    size = format_error(found.up_to_in, unit)
    return f"A number in {marks} may be up to {size} wrong and not show. One more mark would show it."


DISAGREE = "The marks disagree more than 19 in 20 careful sets do: measure them once more. The figures allow for it."


def describe_lens(doubt: LensUncertainty, area_in: ArrayLike, unit: str = "in") -> str:
    """What the marks leave open of the lens; ``area_in`` (N, 2) is the lit area."""
    size, where = format_error(doubt.error_in, unit), format_spot(doubt.at_in, area_in)
    if doubt.by_marks:
        return f"Of a lens that bends straight lines the marks leave no more than {size} open, {where}."
    return (
        f"These marks cannot show whether the lens bends straight lines: by up to {size}, {where}. "
        "The expected error allows for it; marks at the middles of the edges would show it."
    )


def describe_check(found: Check, unit: str = "in") -> str:
    """The verdict of check marks, and what to do."""
    worst = max(found.marks, key=lambda checked: (-checked.chance, checked.missed_in))
    missed, expected = format_length(worst.missed_in, unit), format_error(worst.expected_in, unit)
    largest = format_length(max(checked.missed_in for checked in found.marks), unit)
    if found.verdict == Verdict.AGREES and found.within_tolerance:
        return f"The check marks agree with the calibration; the light misses them by {largest} at most."
    if found.verdict == Verdict.AGREES:
        return (
            f"The light misses a check mark by {largest}. That was to be expected of these marks, but it is more "
            f"than {format_length(found.tolerance_in, unit)}: set more marks."
        )
    number = format_marks([found.marks.index(worst) + 1])
    where = f"The light misses check {number} by {missed}, where up to {expected} was to be expected"
    if found.verdict == Verdict.DOUBTFUL:
        return f"{where}. Measure that mark once more, or check another one."
    return f"{where}: a mark is wrong or the light is bent. Look over the marks, or set more at mid-edge."


def describe_move(found: Move, unit: str = "in") -> str:
    """How the light has moved, what a shift and a turn mend and what they cannot mend."""
    missed = format_length(max(found.misses_in), unit)
    if found.mend == Mend.NOTHING:
        return f"Nothing has moved: the light misses the marks by {missed} at most."
    if found.mend == Mend.SHIFT and len(found.misses_in) == 1:
        return (
            f"The light has moved by {missed}. A shift puts it right at this mark; "
            "a turn would stay unseen, and grow with the distance from it. Light a second mark to be sure."
        )
    if found.mend == Mend.REDO:
        return (
            f"The light misses the marks by {missed}, in a way that no shift and turn can mend: "
            "height, tilt or zoom have changed. Calibrate anew."
        )
    what = "A shift" if found.mend == Mend.SHIFT else f"A shift and a turn of {abs(found.turn_deg):.2f} degrees"
    return (
        f"The light has moved by {missed}. {what} puts it right for a table or projector pushed sideways; "
        "a changed tilt, height or zoom would need a full calibration."
    )


def describe_tape(found: TapeResult, unit: str = "in") -> str:
    """What a tape says of the light, and what to do."""
    action = action_after(found)
    number, worst = max(enumerate(found.readings, 1), key=lambda pair: abs(pair[1].off_in) / pair[1].allowed_in)
    off, allowed = format_length(abs(worst.off_in), unit), format_error(worst.allowed_in, unit)
    expected = f"Reading {number} is {off} off, where up to {allowed} was to be expected"
    if action == Action.REDO and found.stretched:
        ways = [
            f"{abs(stretch.share):.2%} too {'short' if stretch.share < 0 else 'long'} {name}"
            for name, stretch in found.stretched.items()
        ]
        return (
            f"What is lit measures {' and '.join(ways)} the table. "
            "The marks were measured wrong that way: measure them again and calibrate anew."
        )
    if action == Action.REDO:
        return f"{expected}: check the marks, calibrate anew."
    if action == Action.MEASURE_MORE and worst.verdict == Verdict.DOUBTFUL:
        return f"{expected}: measure that length once more."
    if action == Action.MEASURE_MORE:
        return "The tape agrees so far. Measure along, across and both diagonals before you trust it."
    if action == Action.ADD_MARKS:
        tolerance = format_length(found.tolerance_in, unit)
        return (
            f"The tape agrees, but lengths may still be off by more than {tolerance}: "
            "set more marks, or read a finer tape."
        )
    return f"The tape agrees: no length is off by more than {off}. The calibration can be used."


def describe_scale(found: Scale) -> str:
    """What the scale of a picture was taken from."""
    if found.source is Source.TAPE:
        return f"a tape: {found.ticks:.1f} ticks between the two points"
    return "cloth width, taken as the whole picture" if found.source is Source.WHOLE_PICTURE else found.source.value


def describe_disagreement(found: Disagreement) -> str:
    """Where two pictures of one print do not go together."""
    if found.about is About.MIRRORS:
        return f"picture {found.number} shows other mirror lines than picture {found.best}, which is surer"
    if found.about is About.DROP:
        return f"picture {found.number} shows a drop of {found.its:.3f}, picture {found.best} one of {found.theirs:.3f}"
    return (
        f"the repeat {found.about} in picture {found.number} is {found.its:.3f} in, the others say otherwise by "
        "more than their uncertainty: check its scale"
    )


def describe_outlier(found: Outlier) -> str:
    """A motif point that does not go with the rest, and what to do."""
    start = f"Point {found.number}, row {found.motif[0]}, column {found.motif[1]}, does not go with the rest"
    other = "" if found.sure else ", unless another point is the wrong one"
    if found.proposed is None:
        return f"{start}: it is {found.missed_in:.2f} in from where it should be{other}. Count and mark it again."
    return f"{start}: by that it lies on row {found.proposed[0]}, column {found.proposed[1]}{other}."


def describe_slip(found: Finding, spelt: str, typed: Array, show: Callable[[float], str]) -> str:
    """What was mistyped: ``spelt`` names the unit ("inches"), ``typed`` (N, 2) the numbers, ``show`` writes one."""

    def pair(numbers: Array) -> str:
        return f"({show(float(numbers[0]))}, {show(float(numbers[1]))})"

    if not found.suspects:
        return "These marks do not go together as careful ones do, and no single slip explains it. Check each of them."
    if not found.is_sure:
        either = " or ".join(format_marks(group) for group in found.suspects)
        one = "it" if len(found.suspects) == 1 else "these"
        return f"Something may be wrong with {either}: check {one}. One more mark would tell."
    marks, slip = found.suspects[0], found.slip
    if len(marks) > 1:
        several = format_marks(marks).capitalize()
        if slip is None:
            return f"{several} do not go with the others: check which is which."
        right = ", ".join(f"mark {mark} {pair(meant)}" for mark, meant in zip(marks, slip.meant, strict=True))
        return f"{several} were taken for each other. Should they be {right}?"
    start = f"Mark {marks[0]} does not go with the others"
    if found.wanted is not None:
        start += f": they want it near ({found.wanted[0]:.1f}, {found.wanted[1]:.1f})"
    if slip is None:
        return f"{start}. Measure it once more."
    was, meant = typed[marks[0] - 1], slip.meant[0]
    if slip.kind == "exchanged numbers":
        return f"{start}. Were its {spelt} swapped, and should be {pair(meant)}?"
    if slip.kind == "both in another unit":
        return f"{start}. Was it measured with the other side of the tape, and should be {pair(meant)}?"
    at, which = (0, "first") if was[0] != meant[0] else (1, "second")
    return f"{start}. Is its {which} number of {spelt} {show(float(meant[at]))} instead of {show(float(was[at]))}?"
