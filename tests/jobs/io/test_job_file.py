"""A job file: every key read, every default said, every problem found at once and at its place."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.log import FileRefused, Place
from jobs.io.reader import parse_job, read_job
from jobs.model.allowances import Allowances
from jobs.model.choices import End, Hang, Panels, Symmetry, Unit
from jobs.model.job import CuttingTable
from jobs.model.piece import Flaw, Piece
from jobs.model.print import Repeat
from jobs.model.problems import Code, problem
from jobs.model.window import RowRule
from tests.jobs.io.texts import SMALL, at, changed, job_of, only_problem_of, problems_of, refusal_of

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
    assert (stair.cuts_per_panel, stair.rod, stair.fullness) == (None, 60, 2)
    assert stair.row == RowRule(level_with="Landing")
    assert job.table == CuttingTable(F(96), F(60))
    assert job.notices == (problem(("windows", 1, "fullness"), Code.LEFT_OUT),)


def test_the_least_job_is_read_and_says_what_it_takes_instead() -> None:
    job = job_of(LEAST)
    assert job.windows[0].cuts_per_panel == 1
    assert job.allowances == Allowances()
    assert {at(notice) for notice in job.notices} == {
        "units",
        "cloth.selvedge",
        "allowances",
        "windows.0.cuts_per_panel",
    }
    assert {notice.code for notice in job.notices} == {Code.LEFT_OUT}


def test_a_patterned_cloth_without_a_row_gets_one_at_the_top_and_says_so() -> None:
    job = job_of(changed("\n    row: {below_top: 6 1/2}", ""))
    assert job.windows[0].row == RowRule(below_top=F(0))
    assert problem(("windows", 0, "row"), Code.LEFT_OUT, sideways=0) in job.notices


def test_allowances_left_out_are_named() -> None:
    job = job_of(changed("{heading: 4, hem: 8, side_hem: 2, seam: 1/2, squaring: 1}", "{heading: 4, hem: 8}"))
    left_out = [at(notice) for notice in job.notices if notice.code is Code.LEFT_OUT]
    assert left_out[:3] == ["allowances.side_hem", "allowances.seam", "allowances.squaring"]


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
    refusal = refusal_of(text)
    found = [(place.line, place.column, at(one)) for one, place in zip(refusal.problems, refusal.places, strict=True)]
    assert found == [
        (2, 8, "units"),
        (4, 3, "cloth.widht"),
        (5, 13, "cloth.selvedge"),
        (6, 22, "cloth.repeat.5"),
        (7, 10, "cloth.colour"),
        (8, 9, "cloth.drop"),
        (9, 26, "cloth.print.top_to_bottom"),
        (10, 14, "cloth.shrinkage"),
        (12, 45, "cloth.pieces.0.flaws.0.to"),
        (12, 64, "cloth.pieces.0.flaws.1.to"),
        (13, 7, "cloth.pieces.1"),
        (16, 13, "windows.0.panels"),
        (17, 22, "windows.0.finished_length"),
        (18, 37, "windows.0.row.above_foot"),
        (19, 11, "windows.1.name"),
        (21, 11, "windows.1.hang"),
        (23, 5, "windows.1.finished_length"),
        (24, 21, "windows.1.cuts_per_panel"),
        (25, 71, "windows.2.row.level_with"),
        (26, 1, "extra"),
        (26, 8, ""),
    ]


@pytest.mark.parametrize(
    ("old", "new", "code", "where"),
    [
        ("job: Ferry-house porch\n", "", Code.MISSING_KEY, "job"),
        ("  width: 54\n", "", Code.MISSING_KEY, "cloth.width"),
        ("table: {length: 96, width: 60}", "table: {length: 96}", Code.MISSING_KEY, "table.width"),
        ("width: 54", "width: 0", Code.MUST_BE_ABOVE_ZERO, "cloth.width"),
        ("selvedge: 1/2", "selvedge: 27", Code.SELVEDGES_LEAVE_NOTHING, "cloth.selvedge"),
        ("drop: 1/2", "drop: -1/2", Code.BELOW_ZERO, "cloth.drop"),
        ("drop: 1/2", "drop: 1", Code.OUT_OF_BOUNDS, "cloth.drop"),
        ("mirror_offset: 2", "mirror_offset: 12 3/8", Code.OFFSET_BEYOND_REPEAT, "cloth.print.mirror_offset"),
        ("top_to_bottom: mirror", "top_to_bottom: none", Code.OFFSET_WITHOUT_MIRROR, "cloth.print.mirror_offset"),
        ("along: 12 3/8", "along: 1/16", Code.REPEAT_TOO_SMALL, "cloth.repeat.along"),
        ("sold_by: 1/4 yd", "sold_by: yd", Code.NOT_A_LENGTH, "cloth.sold_by"),
        ('"#5a6672"', "5a6672", Code.NOT_A_COLOUR, "cloth.colour"),
        ('"#5a6672"', "#5a6672", Code.COLOUR_IS_A_REMARK, "cloth.colour"),
        ("sold_by: 1/4 yd", "shrinkage: 50 %", Code.SHARE_TOO_LARGE, "cloth.shrinkage"),
        ("first_row: 4 3/4", "first_row: 217", Code.FIRST_ROW_BEYOND_PIECE, "cloth.pieces.0.first_row"),
        ("to: 81 1/2", "to: 79", Code.FLAW_ENDS_BEFORE, "cloth.pieces.0.flaws.0.to"),
        ("across: [20, 26]", "across: [26, 20]", Code.FLAW_ACROSS_ORDER, "cloth.pieces.0.flaws.0.across"),
        ("across: [20, 26]", "across: [20, 55]", Code.FLAW_BEYOND_WIDTH, "cloth.pieces.0.flaws.0.across"),
        ("across: [20, 26]", "across: [20]", Code.NOT_TWO, "cloth.pieces.0.flaws.0.across"),
        ("length: 6 yd", "length: 80", Code.FLAW_BEYOND_PIECE, "cloth.pieces.0.flaws.0.to"),
        (
            "panels: pair\n    hang: mirrored",
            "panels: left\n    hang: mirrored",
            Code.ONLY_PAIRS_HANG,
            "windows.0.hang",
        ),
        ("finished_length: 58", "finished_length: -58", Code.LENGTH_BELOW_ZERO, "windows.0.finished_length"),
        ("cuts_per_panel: 1 1/2", "cuts_per_panel: 1 1/3", Code.NOT_HALVES, "windows.0.cuts_per_panel"),
        ("cuts_per_panel: 1 1/2", "cuts_per_panel: 0", Code.OUT_OF_BOUNDS, "windows.0.cuts_per_panel"),
        ("cuts_per_panel: 1 1/2", "cuts_per_panel: 2\n    fullness: 2", Code.ONLY_WITH_ROD, "windows.0.fullness"),
        ("rod: 60", "rod: 60, fullness: 1/2", Code.OUT_OF_BOUNDS, "windows.1.fullness"),
        ("rod: 60", "rod: 60, cuts_per_panel: 2", Code.CUTS_AND_ROD, "windows.1.rod"),
        ("{below_top: 6 1/2}", "{}", Code.NOTHING_FIXES_ROW, "windows.0.row"),
        ("{below_top: 6 1/2}", "{below_top: 59}", Code.ROW_OUTSIDE_PANEL, "windows.0.row"),
        ("{below_top: 6 1/2}", "{level_with: Landing}", Code.LEVEL_WITH_ITSELF, "windows.0.row.level_with"),
        ("{below_top: 6 1/2}", "{level_with: Cellar}", Code.NO_SUCH_WINDOW, "windows.0.row.level_with"),
        ("name: Stair", "name: landing", Code.NAME_TWICE, "windows.1.name"),
        ("name: Stair, ", "name: '', ", Code.NOTHING_WRITTEN, "windows.1.name"),
        ("    top_height: 86\n", "", Code.HEIGHT_NOT_KNOWN, "windows.1.row.level_with"),
        ("hang: mirrored", "hang: mirrored\n    hang: same", Code.REPEATED_KEY, "windows.0.hang"),
        ("units: in", "units: in\ntabel: 3", Code.MISSPELT_KEY, "tabel"),
        ("heading: 4,", "heading: [4],", Code.SINGLE_VALUE_BELONGS_HERE, "allowances.heading"),
        ("pieces:\n    - {", "pieces: []\n  note: {", Code.LIST_TOO_SHORT, "cloth.pieces"),
    ],
)
def test_what_contradicts_itself_is_refused(old: str, new: str, code: Code, where: str) -> None:
    first = problems_of(changed(old, new))[0]
    assert (first.code, at(first)) == (code, where)


def test_windows_level_with_each_other_in_a_circle_are_refused() -> None:
    problems = problems_of(changed("{below_top: 6 1/2}", "{level_with: Stair}"))
    assert [at(problem) for problem in problems] == ["windows.0.row.level_with", "windows.1.row.level_with"]
    assert all(problem.code is Code.LEVEL_IN_A_CIRCLE for problem in problems)


@pytest.mark.parametrize(
    ("key", "code", "where"),
    [
        ("drop: 1/2", Code.DROP_NEEDS_REPEAT, "cloth.drop"),
        ("print: {half_turn: yes}", Code.SYMMETRY_NEEDS_REPEAT, "cloth.print"),
        ("print: {group: p1}", Code.SYMMETRY_NEEDS_REPEAT, "cloth.print"),
        ("pieces: [{length: 99, first_row: 3}]", Code.ROW_NEEDS_REPEAT, "cloth.pieces.0.first_row"),
    ],
)
def test_what_only_a_patterned_cloth_has_is_refused_on_plain_cloth(key: str, code: Code, where: str) -> None:
    found = only_problem_of(LEAST.replace("width: 54", f"width: 54, {key}"))
    assert (found.code, at(found)) == (code, where)


def test_a_row_on_plain_cloth_is_refused() -> None:
    assert only_problem_of(LEAST.replace("whole,", "whole, row: {below_top: 3},")).code is Code.PLAIN_HAS_NO_ROWS


def test_plain_cloth_may_be_one_way() -> None:
    job = job_of(LEAST.replace("width: 54", "width: 54, drop: 0, print: {one_way: yes, top_towards: last end}"))
    assert job.cloth.print.one_way
    assert job.cloth.print.top_towards is End.LAST


def test_a_refused_repeat_brings_no_further_problems_with_it() -> None:
    assert at(only_problem_of(changed("along: 12 3/8", "along: twelve"))) == "cloth.repeat.along"
    assert at(only_problem_of(changed("{along: 12 3/8, across: 13 1/4}", "12 3/8"))) == "cloth.repeat"


def test_a_file_is_read_from_disk_with_its_name_in_the_problems(tmp_path: Path) -> None:
    path = tmp_path / "porch.yaml"
    path.write_text(SMALL, encoding="utf-8")
    assert read_job(path) == parse_job(SMALL, "anything")
    path.write_text(changed("width: 54", "width: x"), encoding="utf-8")
    with pytest.raises(FileRefused) as caught:
        read_job(path)
    assert (caught.value.file, caught.value.places) == (str(path), (Place(4, 10),))


@pytest.mark.parametrize(
    "example", sorted((Path(__file__).parents[3] / "jobs" / "examples").glob("*.yaml")), ids=lambda path: path.stem
)
def test_the_example_jobs_are_in_order(example: Path) -> None:
    job = read_job(example)
    assert job.windows
    assert all(one.job.windows for one in jobs_of_cloths(job))
