"""Keys of columns, returns, sharing and the run of the cloth."""

from __future__ import annotations

from fractions import Fraction

import pytest

from jobs.job import Job, ReturnsAdded, Run
from tests.jobs.reading.texts import SMALL, changed, job_of, only_problem_of, problems_of

F = Fraction
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
    ("text", "says"),
    [
        (changed("drop: 1/2", "drop: 1/2\n  first_column: 13 1/4"), "first_column is not less than the repeat across"),
        (with_print(SIDE.replace("2 1/4", "14")), "mirror_offset_across is not less than the repeat across"),
        (with_print("{top_to_bottom: mirror, mirror_offset_across: 2}"), "no side-to-side mirror line"),
        (changed(", across: 13 1/4}", "}\n  first_column: 3"), "needs the repeat across"),
        (changed("units: in", "units: in\nreturns_added: later"), "before fullness or after fullness"),
        (changed("drop: 1/2", "drop: 1/2\n  run: down"), "write up or sideways"),
        (changed("drop: 1/2", "drop: 1/2\n  shrinkage_across: 2 %"), "or write `run: sideways` as well"),
        (changed("drop: 1/2", "drop: 1/2\n  run: sideways\n  shrinkage_across: 60 %"), "write it such as 3 %"),
        (with_print("{top_towards: last end}\n  run: sideways"), "point to a selvedge, not to an end"),
        (changed("rod: 60", "rod: 60, side_by_side: maybe"), "write yes or no"),
    ],
)
def test_what_has_no_meaning_is_refused(text: str, says: str) -> None:
    assert says in only_problem_of(text)


def test_two_fixes_of_a_row_are_refused_with_both_places() -> None:
    text = changed("row: {below_top: 6 1/2}", "row:\n      below_top: 6\n      above_foot: 3")
    assert any("below_top (line 22) and above_foot (line 23) fix the row twice" in str(p) for p in problems_of(text))
