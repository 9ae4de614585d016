"""Doubts: what is legal and hardly meant is told, and nothing that is usual is."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from jobs.io.reader import read_job
from jobs.model.doubts import doubts
from jobs.model.job import Job
from jobs.model.problems import Code
from jobs.model.schema import walk
from tests.jobs.io.texts import SMALL, at, changed, job_of

F = Fraction


@pytest.mark.parametrize(
    ("old", "new", "where", "code"),
    [
        # 54 typed with a digit too many, and a tape in centimetres read as inches.
        ("width: 54", "width: 154", "cloth.width", Code.DOUBTFUL_LENGTH),
        ("width: 54", "width: 29", "cloth.width", Code.DOUBTFUL_LENGTH),
        ("selvedge: 1/2", "selvedge: 2 1/4", "cloth.selvedge", Code.DOUBTFUL_LENGTH),
        ("sold_by: 1/4 yd", "shrinkage: 13 %", "cloth.shrinkage", Code.DOUBTFUL_SHARE),
        ("sold_by: 1/4 yd", "layers: 13", "cloth.layers", Code.DOUBTFUL_NUMBER),
        ("rod: 60", "rod: 60, fullness: 5", "windows.1.fullness", Code.DOUBTFUL_NUMBER),
        ("rod: 60", "rod: 60, fullness: 1", "windows.1.fullness", Code.DOUBTFUL_NUMBER),
        ("{length: 96, width: 60}", "{length: 960, width: 60}", "table.length", Code.DOUBTFUL_LENGTH),
        ("length: 6 yd", "length: 101 yd", "cloth.pieces.0.length", Code.DOUBTFUL_LENGTH),
    ],
)
def test_a_value_that_is_hardly_meant_is_doubted_and_not_refused(old: str, new: str, where: str, code: Code) -> None:
    (doubt,) = doubts(job_of(changed(old, new)))
    assert (at(doubt), doubt.code) == (where, code)


def test_a_doubt_tells_the_value_the_limit_and_on_which_side_it_is() -> None:
    (much,) = doubts(job_of(changed("width: 54", "width: 154")))
    assert [much.value(name) for name in ("value", "limit", "much")] == [154, 130, 1]
    (little,) = doubts(job_of(changed("width: 54", "width: 29")))
    assert [little.value(name) for name in ("value", "limit", "much")] == [29, 30, 0]


def test_the_limits_themselves_are_not_doubted() -> None:
    assert doubts(job_of(changed("width: 54", "width: 130"))) == ()
    assert doubts(job_of(changed("width: 54", "width: 30"))) == ()


def test_a_panel_that_reaches_below_the_floor_is_doubted() -> None:
    (doubt,) = doubts(job_of(changed("finished_length: 58", "finished_length: 88")))
    # Its top is 86 above the floor.
    assert (at(doubt), doubt.code, doubt.value("over")) == (
        "windows.0.finished_length", Code.LONGER_THAN_ITS_HEIGHT, 2,
    )  # fmt: skip
    assert doubts(job_of(changed("finished_length: 58", "finished_length: 86"))) == ()


def test_a_cut_under_six_inches_is_doubted() -> None:
    least = (
        "job: P\nunits: {unit}\ncloth: {{width: 54 in}}\nwindows: [{{name: L, panels: whole, finished_length: 14}}]\n"
    )
    assert doubts(job_of(least.format(unit="in"))) == ()
    # 14 cm is 5.51 in.
    codes = [doubt.code for doubt in doubts(job_of(least.format(unit="cm")))]
    assert codes == [Code.DOUBTFUL_LENGTH, Code.SHORT_CUT]


def test_a_repeat_longer_than_every_cut_is_doubted() -> None:
    # The longest cut is 58 + 4 + 8 = 70.
    longer = changed("along: 12 3/8", "along: 70 1/8")
    assert {(at(doubt), doubt.code) for doubt in doubts(job_of(longer))} == {
        ("cloth.repeat.along", Code.DOUBTFUL_LENGTH),
        ("cloth.repeat.along", Code.REPEAT_BEYOND_CUTS),
    }
    as_long = changed("along: 12 3/8", "along: 70")
    assert {doubt.code for doubt in doubts(job_of(as_long))} == {Code.DOUBTFUL_LENGTH}


@pytest.mark.parametrize(
    "example", sorted((Path(__file__).parents[3] / "jobs" / "examples").glob("*.yaml")), ids=lambda path: path.stem
)
def test_nothing_of_the_examples_is_doubted(example: Path) -> None:
    assert doubts(read_job(example)) == ()
    assert doubts(job_of(SMALL)) == ()


def test_what_is_taken_for_a_key_left_out_is_never_doubted() -> None:
    for path, key in walk(Job):
        if key.doubt is not None and isinstance(key.taken, Fraction | int):
            least, most = key.doubt
            assert least is None or key.taken >= least, path
            assert most is None or key.taken <= most, path
