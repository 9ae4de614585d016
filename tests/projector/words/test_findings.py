"""What calibration finds, as a person reads it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calibration.advice import LensUncertainty, Untested
from calibration.checking import Check, CheckedMark, Verdict
from calibration.marks import Mark, TapeReading
from calibration.moved import Mend, Move
from calibration.registration.outliers import Outlier
from calibration.slips.hypotheses import Slip
from calibration.slips.judging import Finding
from calibration.tape import ReadingResult, Stretch, TapeResult
from jobs.prints.photographs.combining import About, Disagreement
from jobs.prints.photographs.scale import Scale, Source
from projector.words.findings import (
    describe_check,
    describe_disagreement,
    describe_lens,
    describe_move,
    describe_outlier,
    describe_scale,
    describe_slip,
    describe_tape,
    describe_untested,
    format_spot,
)

AREA = [(0, 0), (90, 0), (90, 60), (0, 60)]
TYPED = np.array([(0.0, 0.0), (48.0, 0.0), (48.5, 31.0), (0.0, 30.0), (24.0, 15.0)])


@pytest.mark.parametrize(
    ("point", "where"),
    [
        ((85, 55), "at the far right corner"),
        ((5, 5), "at the near left corner"),
        ((45, 5), "at the middle of the near side"),
        ((88, 30), "at the middle of the right end"),
        ((45, 30), "at the middle"),
        ((67, 5), "between the middle of the near side and the near right corner"),
        ((56, 22), "between the middle and the middle of the near side"),
    ],
)
def test_places_are_told_as_the_person_sees_them(point: tuple[float, float], where: str) -> None:
    assert format_spot(point, AREA) == where


def test_marks_that_nothing_tests_are_named_with_how_much_may_be_wrong() -> None:
    assert describe_untested(Untested((2,), 0.6)).startswith(
        "A number in mark 2 may be up to 5/8 in wrong and not show"
    )
    assert describe_untested(Untested((3, 4), 2.0), "cm").startswith("A number in marks 3 and 4 may be up to 5.08 cm")
    assert describe_untested(Untested((3, 4), 13.0)).startswith("A wrong number in marks 3 and 4 would not show")


def test_what_the_marks_leave_open_of_the_lens_is_told_with_its_place() -> None:
    doubt = LensUncertainty(0.02, 0.1, (85.0, 55.0), by_marks=False)
    assert "cannot show whether the lens bends straight lines: by up to 7/64 in, at the far right" in describe_lens(
        doubt, AREA
    )
    known = replace(doubt, by_marks=True)
    assert "leave no more than 2.6 mm open, at the far right corner." in describe_lens(known, AREA, "mm")


def check(*verdicts: Verdict, missed_in: float = 0.02) -> Check:
    """Check marks of these verdicts, the later ones the less likely."""
    mark = Mark((0.0, 0.0), (0.0, 0.0))
    return Check(
        tuple(CheckedMark(mark, missed_in, 0.125, 0.5 / (1 + at), one) for at, one in enumerate(verdicts)), 1 / 16
    )


def test_check_marks_agree_agree_but_not_closely_enough_or_miss() -> None:
    assert "agree with the calibration; the light misses them by 1/64 in at most" in describe_check(
        check(Verdict.AGREES)
    )
    assert "more than 1/16 in: set more marks" in describe_check(check(Verdict.AGREES, missed_in=0.1))
    doubtful = describe_check(check(Verdict.AGREES, Verdict.DOUBTFUL, missed_in=0.2))
    assert doubtful.startswith("The light misses check mark 2 by 3/16 in, where up to 1/8 in was to be expected.")
    assert "a mark is wrong or the light is bent" in describe_check(check(Verdict.MISSES))


def taped(*off_in: float, verdict: Verdict = Verdict.AGREES, along: Stretch | None = None) -> TapeResult:
    """Lengths of 48 in along, across and slantwise that a tape reads ``off_in`` longer."""
    ends = ((48.0, 0.0), (0.0, 48.0), (33.9, 33.9))
    return TapeResult(
        tuple(
            ReadingResult(TapeReading((0.0, 0.0), end, 48.0 + off), 48.0, off, 0.1, 0.05, 0.03, verdict)
            for off, end in zip(off_in, ends, strict=False)
        ),
        along,
        None,
        1 / 16,
    )


@pytest.mark.parametrize(
    ("result", "said"),
    [
        (taped(0.01, 0.03, 0.02), "no length is off by more than 1/32 in. The calibration can be used."),
        (taped(0.01, 0.02), "agrees so far. Measure along, across and both diagonals"),
        (taped(0.01, 0.08, 0.02), "may still be off by more than 1/16 in: set more marks"),
        (taped(0.01, 0.12, 0.0, verdict=Verdict.DOUBTFUL), "Reading 2 is 1/8 in off, where up to 7/64 in was to be"),
        (taped(0.01, -0.5, 0.0, verdict=Verdict.MISSES), "Reading 2 is 1/2 in off, where up to 7/64 in was to be"),
        (taped(0.5, 0.0, 0.3, along=Stretch(0.0101, 0.001)), "What is lit measures 1.01% too long along the table."),
        (taped(-0.5, 0.0, 0.3, along=Stretch(-0.0101, 0.001)), "What is lit measures 1.01% too short along the table."),
    ],
)
def test_a_check_with_a_tape_says_what_to_do(result: TapeResult, said: str) -> None:
    assert said in describe_tape(result)


@pytest.mark.parametrize(
    ("move", "said"),
    [
        (Move(Mend.NOTHING, (0, 0), 0, 0, (0, 0), (0.02,)), "Nothing has moved: the light misses the marks by 1/64 in"),
        (Move(Mend.SHIFT, (0.5, 0), 0, 0, (0, 0), (0.5,)), "a turn would stay unseen"),
        (Move(Mend.SHIFT, (0.5, 0), 0, 0, (0, 0), (0.5, 0.4)), "moved by 1/2 in. A shift puts it right"),
        (Move(Mend.SHIFT_AND_TURN, (0.5, 0), -0.4, 0, (0, 0), (0.5, 0.4)), "A shift and a turn of 0.40 degrees puts"),
        (Move(Mend.REDO, (9, 0), 0, 0, (0, 0), (9.0, 9.0)), "misses the marks by 9 in, in a way that no shift"),
    ],
)
def test_how_the_light_has_moved_and_what_mends_it(move: Move, said: str) -> None:
    assert said in describe_move(move)


@pytest.mark.parametrize(
    ("proposed", "sure", "said"),
    [
        ((2, 1), True, "row 1, column 1, does not go with the rest: by that it lies on row 2, column 1."),
        ((2, 1), False, "it lies on row 2, column 1, unless another point is the wrong one."),
        (None, True, "it is 1.25 in from where it should be. Count and mark it again."),
    ],
)
def test_a_point_that_does_not_go_with_the_rest_is_named(
    proposed: tuple[int, int] | None, sure: bool, said: str
) -> None:
    told = describe_outlier(Outlier(3, (1, 1), proposed, 1.25, (20.0, 13.0), sure))
    assert told.startswith("Point 3, row 1, column 1, does not go with the rest")
    assert told.endswith(said)


def slip(kind: str, marks: tuple[int, ...], *meant: tuple[float, float]) -> Finding:
    """These marks (numbers from 1) named beyond doubt."""
    known = Slip(kind, tuple(mark - 1 for mark in marks), np.array(meant), np.zeros((len(meant), 2), dtype=bool), 0.1)
    return Finding((marks,), known, (48.2, 30.9) if len(marks) == 1 else None)


@pytest.mark.parametrize(
    ("found", "said"),
    [
        (Finding((), is_sure=False), "no single slip explains it. Check each of them."),
        (
            Finding(((1,), (2, 5)), is_sure=False),
            "wrong with mark 1 or marks 2 and 5: check these. One more",
        ),
        (Finding(((4,),), is_sure=False), "Something may be wrong with mark 4: check it."),
        (Finding(((3,),), None, (48.2, 30.9)), "Mark 3 does not go with the others: they want it near (48.2, 30.9)."),
        (Finding(((1, 2, 3),)), "Marks 1, 2 and 3 do not go with the others: check which is which."),
        (slip("exchanged numbers", (3,), (31.0, 48.5)), "Were its inches swapped, and should be (31, 48.5)?"),
        (slip("both in another unit", (3,), (19.1, 12.2)), "the other side of the tape, and should be (19.1, 12.2)?"),
        (slip("digit", (3,), (45.5, 31.0)), "Is its first number of inches 45.5 instead of 48.5?"),
        (slip("digit", (3,), (48.5, 37.0)), "Is its second number of inches 37 instead of 31?"),
        (slip("two marks exchanged", (2, 4), (0, 30), (48, 0)), "Should they be mark 2 (0, 30), mark 4 (48, 0)?"),
    ],
)
def test_what_was_mistyped_is_asked_in_the_numbers_as_they_were_typed(found: Finding, said: str) -> None:
    assert said in describe_slip(found, "inches", TYPED, lambda value: f"{value:g}")


def test_pictures_that_disagree_are_named() -> None:
    assert describe_disagreement(Disagreement(About.ALONG, 2, 12.5)).startswith(
        "the repeat along in picture 2 is 12.500"
    )
    drop = describe_disagreement(Disagreement(About.DROP, 3, 0.0, 1, 0.5))
    assert drop == "picture 3 shows a drop of 0.000, picture 1 one of 0.500"
    assert "other mirror lines than picture 1" in describe_disagreement(Disagreement(About.MIRRORS, 3, best=1))


def test_what_a_scale_was_taken_from_is_told() -> None:
    assert describe_scale(Scale(20.0, 0.01, Source.POINTS)) == "two points"
    assert describe_scale(Scale(20.0, 0.01, Source.WHOLE_PICTURE)) == "cloth width, taken as the whole picture"
    assert describe_scale(Scale(20.0, 0.01, Source.TAPE, 95.62)) == "a tape: 95.6 ticks between the two points"
