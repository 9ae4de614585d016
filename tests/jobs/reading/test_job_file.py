"""A job file: every key read, every default said, every problem found at once and at its place."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from jobs.job import (
    Allowances,
    CuttingTable,
    End,
    Flaw,
    Hang,
    Panels,
    Piece,
    Place,
    Repeat,
    RowRule,
    Symmetry,
    Unit,
)
from jobs.reading.job_file import parse_job, read_job
from jobs.reading.problems import Problems
from tests.jobs.reading.texts import SMALL, changed, job_of, only_problem_of, problems_of

F = Fraction
LEAST = "job: Porch\ncloth: {width: 54}\nwindows: [{name: Landing, panels: whole, finished_length: 58}]\n"


def test_every_key_is_read_exactly() -> None:
    job = job_of(SMALL)
    assert job.title == "Ferry-house porch"
    assert job.unit is Unit.INCH
    assert job.cloth.width == 54
    assert job.cloth.selvedge == F(1, 2)
    assert job.cloth.repeat == Repeat(F(99, 8), F(53, 4))
    assert job.cloth.drop == F(1, 2)
    assert job.cloth.print.top_to_bottom is Symmetry.MIRROR
    assert job.cloth.print.mirror_offset == 2
    assert job.cloth.print.top_towards is End.FIRST
    assert job.cloth.sold_by == 9
    assert job.cloth.pieces == (Piece(F(216), F(19, 4), (Flaw(F(79), F(163, 2), (F(20), F(26)), "thick thread"),)),)
    assert job.allowances == Allowances(F(4), F(8), F(2), F(1, 2), F(1))
    landing, stair = job.windows
    assert (landing.panels, landing.hang, landing.top_height) == (Panels.PAIR, Hang.MIRRORED, 86)
    assert (landing.finished_length, landing.cuts_per_panel, landing.rod) == (58, F(3, 2), None)
    assert landing.row == RowRule(below_top=F(13, 2))
    assert landing.place == Place(15, 5)
    assert (stair.cuts_per_panel, stair.rod, stair.fullness) == (None, 60, 2)
    assert stair.row == RowRule(level_with="Landing")
    assert job.table == CuttingTable(F(96), F(60))
    assert job.notices == ("Stair: no fullness is given; 2 is taken.",)


def test_the_least_job_is_read_and_says_what_it_takes_instead() -> None:
    job = job_of(LEAST)
    assert job.windows[0].cuts_per_panel == 1
    assert job.allowances == Allowances()
    assert job.notices == (
        "No units are given: numbers without a unit are taken as inches.",
        "No selvedge is given: the whole cloth width is taken as usable.",
        "No allowances are given: heading, hem, side hem, seam and squaring are taken as 0.",
        "Landing: neither cuts_per_panel nor rod is given; one cut per panel is taken.",
    )


def test_a_patterned_cloth_without_a_row_gets_one_at_the_top_and_says_so() -> None:
    job = job_of(changed("\n    row: {below_top: 6 1/2}", ""))
    assert job.windows[0].row == RowRule(below_top=F(0))
    assert any("Landing" in notice and "finished top" in notice for notice in job.notices)


def test_allowances_left_out_are_named() -> None:
    job = job_of(changed("{heading: 4, hem: 8, side_hem: 2, seam: 1/2, squaring: 1}", "{heading: 4, hem: 8}"))
    assert "No allowance is given for side hem, seam, squaring: 0 is taken." in job.notices


def test_units_stand_for_bare_numbers_wherever_they_are_written() -> None:
    job = job_of(LEAST.replace("54", "137.16") + "units: cm\n")
    assert job.cloth.width == 54
    assert job.windows[0].finished_length == F(58) / F(254, 100)


def test_any_row_of_a_piece_may_be_measured() -> None:
    # 29 1/2 = 2 x 12 3/8 + 4 3/4
    assert job_of(changed("first_row: 4 3/4", "first_row: 29 1/2")).cloth.pieces[0].first_row == F(19, 4)


def test_values_stay_what_was_written() -> None:
    job = job_of(SMALL.replace("Landing", "1:30").replace("Stair", "0x10").replace("Ferry-house porch", "no"))
    assert [window.name for window in job.windows] == ["1:30", "0x10"]
    assert job.title == "no"


def test_a_job_written_as_json_is_read() -> None:
    text = '{"job": "P", "cloth": {"width": 54, "faces_alike": true}, "windows": [{"name": "L", "panels": "left",'
    job = job_of(text + ' "finished_length": "58 1/2"}]}')
    assert job.cloth.faces_alike is True
    assert job.windows[0].finished_length == F(117, 2)


def test_every_problem_of_a_file_is_found_at_once_and_at_its_place() -> None:
    text = """\
job: Porch
units: feet
cloth:
  widht: 55
  selvedge: -3/4
  repeat: {along: 18,5, across: 13 1/2}
  colour: #8d8f92
  drop: 1
  print: {top_to_bottom: miror}
  shrinkage: 3
  pieces:
    - {length: 9 yd, flaws: [{from: 98, to: 96}, {from: 1, to: 9999}]}
    - 3
windows:
  - name: East
    panels: pairs
    finished_length: 1:30
    row: {below_top: 5, above_foot: 3}
  - name: East
    panels: left
    hang: same
    finished_length: 84
    finished_length: 85
    cuts_per_panel: 1 1/4
  - {name: West, panels: left, finished_length: 84, row: {level_with: Weest}}
extra: *foo
"""
    found = [(problem.line, problem.column, problem.where) for problem in problems_of(text)]
    assert found == [
        (2, 8, "units"),
        (4, 3, "cloth, widht"),
        (5, 13, "cloth, selvedge"),
        (6, 22, 'cloth, repeat, "5"'),
        (7, 10, "cloth, colour"),
        (8, 9, "cloth, drop"),
        (9, 26, "cloth, print, top_to_bottom"),
        (10, 14, "cloth, shrinkage"),
        (12, 45, "cloth, pieces 1, flaws 1, to"),
        (12, 64, "cloth, pieces 1, flaws 2, to"),
        (13, 7, "cloth, pieces 2"),
        (16, 13, "windows 1, panels"),
        (17, 22, "windows 1, finished_length"),
        (18, 37, "windows 1, row"),
        (19, 11, "windows 2, name"),
        (21, 11, "windows 2, hang"),
        (23, 5, "windows 2, finished_length"),
        (24, 21, "windows 2, cuts_per_panel"),
        (25, 58, "windows 3, row, level_with"),
        (26, 1, "extra"),
        (26, 8, "file"),
    ]


def test_a_problem_reads_as_file_line_column_where_what_and_advice() -> None:
    assert only_problem_of(changed("selvedge: 1/2", "selvedge: 1/0")) == (
        "porch.yaml:5:13: cloth, selvedge: 1/0 divides by nothing; "
        "write the fraction with a number under the line, such as 1/2"
    )


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("job: Ferry-house porch\n", "", "job: this key is missing"),
        ("  width: 54\n", "", "cloth, width: this key is missing"),
        ("table: {length: 96, width: 60}", "table: {length: 96}", "table, width: this key is missing"),
        ("width: 54", "width: 0", "above zero"),
        ("selvedge: 1/2", "selvedge: 27", "leave nothing of the cloth width"),
        ("drop: 1/2", "drop: -1/2", "below zero"),
        ("drop: 1/2", "drop: 1", "below 1"),
        ("mirror_offset: 2", "mirror_offset: 12 3/8", "not less than the repeat"),
        ("top_to_bottom: mirror", "top_to_bottom: none", "no top-to-bottom mirror line"),
        ("along: 12 3/8", "along: 1/16", "too small to be matched"),
        ("sold_by: 1/4 yd", "sold_by: yd", "not a length"),
        ('"#5a6672"', "5a6672", "not a colour"),
        ('"#5a6672"', "#5a6672", "in quotes"),
        ("sold_by: 1/4 yd", "shrinkage: 50 %", "loses half its length"),
        ("first_row: 4 3/4", "first_row: 217", "beyond the end of the piece"),
        ("to: 81 1/2", "to: 79", "ends before it begins"),
        ("across: [20, 26]", "across: [26, 20]", "not the larger"),
        ("across: [20, 26]", "across: [20, 55]", "beyond the cloth width"),
        ("across: [20, 26]", "across: [20]", "two values belong here"),
        ("length: 6 yd", "length: 80", "beyond the piece, which is 80 in long"),
        ("panels: pair\n    hang: mirrored", "panels: left\n    hang: mirrored", "only a pair hangs"),
        ("finished_length: 58", "finished_length: -58", "below zero"),
        ("cuts_per_panel: 1 1/2", "cuts_per_panel: 1 1/3", "whole and half cuts"),
        ("cuts_per_panel: 1 1/2", "cuts_per_panel: 0", "from 1/2"),
        ("cuts_per_panel: 1 1/2", "cuts_per_panel: 2\n    fullness: 2", "only together with rod"),
        ("rod: 60", "rod: 60, fullness: 1/2", "from 1 to 10"),
        ("rod: 60", "rod: 60, cuts_per_panel: 2", "cuts_per_panel is given as well"),
        ("{below_top: 6 1/2}", "{}", "nothing fixes the row"),
        ("{below_top: 6 1/2}", "{below_top: 59}", "outside the finished panel"),
        ("{below_top: 6 1/2}", "{level_with: Landing}", "level with itself"),
        ("{below_top: 6 1/2}", "{level_with: Cellar}", 'no window named "Cellar"'),
        ("name: Stair", "name: landing", "is the name of the window in line 15 as well"),
        ("name: Stair, ", "name: '', ", "nothing is written here"),
        ("    top_height: 86\n", "", 'height of "Landing" (line 15) above the floor is not known'),
        ("hang: mirrored", "hang: mirrored\n    hang: same", "a second time"),
        ("units: in", "units: in\ntabel: 3", "write table if that is meant"),
        ("heading: 4,", "heading: [4],", "a single value belongs here"),
        ("pieces:\n    - {", "pieces: []\n  note: {", "one or more"),
    ],
)
def test_what_contradicts_itself_is_refused(old: str, new: str, says: str) -> None:
    assert any(says in str(problem) for problem in problems_of(changed(old, new)))


def test_windows_level_with_each_other_in_a_circle_are_refused() -> None:
    problems = problems_of(changed("{below_top: 6 1/2}", "{level_with: Stair}"))
    assert [problem.where for problem in problems] == ["windows 1, row, level_with", "windows 2, row, level_with"]
    assert all("hang on those of this window again" in problem.what for problem in problems)


@pytest.mark.parametrize(
    ("key", "says"),
    [
        ("drop: 1/2", "a drop needs a repeat"),
        ("print: {half_turn: yes}", "symmetry of a print needs a repeat"),
        ("print: {group: p1}", "symmetry of a print needs a repeat"),
        ("pieces: [{length: 99, first_row: 3}]", "first_row needs a repeat"),
    ],
)
def test_what_only_a_patterned_cloth_has_is_refused_on_plain_cloth(key: str, says: str) -> None:
    assert says in only_problem_of(LEAST.replace("width: 54", f"width: 54, {key}"))


def test_a_row_on_plain_cloth_is_refused() -> None:
    assert "plain cloth has no rows" in only_problem_of(LEAST.replace("whole,", "whole, row: {below_top: 3},"))


def test_plain_cloth_may_be_one_way() -> None:
    job = job_of(LEAST.replace("width: 54", "width: 54, drop: 0, print: {one_way: yes, top_towards: last end}"))
    assert job.cloth.print.one_way
    assert job.cloth.print.top_towards is End.LAST


def test_a_refused_repeat_brings_no_further_problems_with_it() -> None:
    assert "along: " in only_problem_of(changed("along: 12 3/8", "along: twelve"))
    assert "repeat: keys" in only_problem_of(changed("{along: 12 3/8, across: 13 1/4}", "12 3/8"))


def test_a_file_is_read_from_disk_with_its_name_in_the_problems(tmp_path: Path) -> None:
    path = tmp_path / "porch.yaml"
    path.write_text(SMALL, encoding="utf-8")
    assert read_job(path) == parse_job(SMALL, "anything")
    path.write_text(changed("width: 54", "width: x"), encoding="utf-8")
    with pytest.raises(Problems, match=r"porch\.yaml:4:10: cloth, width: "):
        read_job(path)


@pytest.mark.parametrize(
    "example", sorted((Path(__file__).parents[3] / "jobs" / "examples").glob("*.yaml")), ids=lambda path: path.stem
)
def test_the_example_jobs_are_in_order(example: Path) -> None:
    assert read_job(example).windows
