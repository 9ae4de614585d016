"""Keys of columns, returns, sharing and the run of the cloth."""

from __future__ import annotations

from fractions import Fraction

import pytest

from jobs.model.choices import ReturnsAdded, Run
from jobs.model.job import Job
from jobs.model.problems import Code
from tests.jobs.io.texts import SMALL, at, changed, job_of, only_problem_of, problems_of

F = Fraction
ACROSS, LOST = "cloth.print.mirror_offset_across", "cloth.shrinkage_across"
SIDE = "{side_to_side: mirror, mirror_offset_across: 2 1/4}"


def with_print(keys: str) -> str:
    return changed("{top_to_bottom: mirror, mirror_offset: 2}", keys)


def test_what_is_left_out_is_as_before() -> None:
    job = job_of(SMALL)
    assert job.returns_added is ReturnsAdded.BEFORE
    assert (job.cloth.run, job.cloth.first_column, job.cloth.side_by_side) == (Run.UP, None, True)
    assert job.cloth.print.mirror_offset_across is None
    assert all(window.side_by_side for window in job.windows)


def test_the_keys_are_read() -> None:
    text = changed("drop: 1/2", "drop: 1/2\n  first_column: 7 1/2\n  side_by_side: no\n  run: sideways")
    text = text.replace("rod: 60", "rod: 60, side_by_side: no").replace(
        "units: in", "units: in\nreturns_added: after fullness"
    )
    job: Job = job_of(text)
    assert (job.cloth.run, job.cloth.first_column, job.cloth.side_by_side) == (Run.SIDEWAYS, F(15, 2), False)
    assert [window.side_by_side for window in job.windows] == [True, False]
    assert job.returns_added is ReturnsAdded.AFTER
    assert job_of(with_print(SIDE)).cloth.print.mirror_offset_across == F(9, 4)


@pytest.mark.parametrize(
    ("text", "code", "where"),
    [
        (changed("drop: 1/2", "drop: 1/2\n  first_column: 13 1/4"), Code.BEYOND_REPEAT_ACROSS, "cloth.first_column"),
        (with_print(SIDE.replace("2 1/4", "14")), Code.BEYOND_REPEAT_ACROSS, ACROSS),
        (
            with_print("{top_to_bottom: mirror, mirror_offset_across: 2}"),
            Code.OFFSET_WITHOUT_MIRROR,
            ACROSS,
        ),
        (changed(", across: 13 1/4}", "}\n  first_column: 3"), Code.ACROSS_NEEDS_REPEAT, "cloth.first_column"),
        (changed("units: in", "units: in\nreturns_added: later"), Code.NOT_A_WORD, "returns_added"),
        (changed("drop: 1/2", "drop: 1/2\n  run: down"), Code.NOT_A_WORD, "cloth.run"),
        (changed("drop: 1/2", "drop: 1/2\n  shrinkage_across: 2 %"), Code.ONLY_SIDEWAYS, LOST),
        (
            changed("drop: 1/2", "drop: 1/2\n  run: sideways\n  shrinkage_across: 60 %"),
            Code.SHARE_TOO_LARGE,
            LOST,
        ),
        (with_print("{top_towards: last end}\n  run: sideways"), Code.TOPS_TO_A_SELVEDGE, "cloth.print.top_towards"),
        (changed("rod: 60", "rod: 60, side_by_side: maybe"), Code.NOT_YES_OR_NO, "windows.1.side_by_side"),
    ],
)
def test_what_has_no_meaning_is_refused(text: str, code: Code, where: str) -> None:
    found = only_problem_of(text)
    assert (found.code, at(found)) == (code, where)


def test_two_fixes_of_a_row_are_refused_with_both_named() -> None:
    text = changed("row: {below_top: 6 1/2}", "row:\n      below_top: 6\n      above_foot: 3")
    twice = next(one for one in problems_of(text) if one.code is Code.ROW_FIXED_TWICE)
    assert twice.value("keys") == ("below_top", "above_foot")
