"""Words for people: every code has them, every template fills, and a few whole lines as a person reads them."""

from __future__ import annotations

import string
from enum import StrEnum
from fractions import Fraction
from typing import Any

import pytest

from calibration.problems import Code as CalibrationCode
from jobs.io.reader import parse_job
from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.problems import Code, Problem, Value, problem
from jobs.model.schema import walk
from jobs.prints.photographs.problems import PhotoCode
from projector.files.codes import FileCode
from projector.words.notices import notice_lines
from projector.words.wording import WORDS, Voice, file_lines, sentence, where, words
from tests.jobs.io.texts import SMALL, changed, problems_of, refusal_of

F = Fraction
TOLD = {
    *(Code.LEFT_OUT, Code.MIRROR_FOLLOWS, Code.ASSUMED, Code.ROWS_UNLEVEL),
    *(Code.ALLOWANCE_OF_KIND, Code.COLUMNS_TAKEN),
    *(Code.TABLE_ENDS_AT_MARK, Code.LIGHT_REACHES),
    *(Code.CUT_PANELS_CHANGED, Code.CUT_WINDOW_RENAMED, Code.CUT_SPARE_NO_WINDOW, Code.CUT_SPARE_NOT_ASKED),
    *(Code.CUT_TO_TRIM, Code.CUT_OTHER_TURNINGS, Code.CUT_OFF_ROWS),
    *(Code.WISH_FOR_NO_CUT, Code.WISH_FOR_NO_PIECE, Code.WISH_FOUND_NO_PLACE),
    *(Code.WISH_FROM_ANOTHER_LOT, Code.WISH_LEAVES_NO_ROOM),
    *(Code.ROWS_MOVED, Code.PAIR_MIRRORED, Code.RUN_SIDEWAYS, Code.SHALLOWER, Code.ANOTHER_PIECE),
}
"""What is told beside a job that can be used: notices, with words of their own."""
SAMPLES: dict[str, Any] = {
    "length": F(135, 2), "number": F(3, 2), "share": F(1, 8), "hex": 7, ",": 12_000, "much": 1, "at": 1, "line": 4,
    "key": "row", "belongs": "length", "below": 1, "better": "28.6 cm", "mirror": "top_to_bottom",
    "offset": "top_to_bottom", "settings": "pmg", "quoted": "x", "there are marks": 3, "by": 0.5,
    "there are photographs": 2, "taped": 36.0, "read": 36.0, "standing": 3, "high": 1,
    "marks": (1, 3), "all but the first": (1, 3), "swaps": (2, 1), "plain": "x", "reason": "x", "meant": "up", "": "x",
}  # fmt: skip
LISTS = ("or", "and", "names", "lines", "list", "known")


def sample(code: StrEnum) -> Problem:
    """A problem of this code with a value for each one its words need."""
    values: dict[str, Value] = {}
    for template in WORDS[code]:
        for _, name, spec, _ in string.Formatter().parse(template):
            if name == "key" and spec == "row_value":
                values |= {"key_name": "below_top", "value": F(7)}
            elif name == "key" and spec == "key_value":
                values["key"] = "row"
            elif name and name not in ("write", "key", "groups"):
                values[name] = ("one", "two") if spec in LISTS else SAMPLES.get(spec or "", "")
    return problem((), code, **values)


def test_every_code_has_words_and_no_words_are_without_a_code() -> None:
    codes = [*Code, *FileCode, *CalibrationCode, *PhotoCode]
    assert set(WORDS) | TOLD == set(codes)
    assert len(set(codes)) == len(codes), "two codes are spelt alike"
    assert not set(WORDS) & TOLD


@pytest.mark.parametrize("code", WORDS, ids=str)
@pytest.mark.parametrize("voice", Voice)
def test_every_template_fills_for_a_file_and_for_the_form(code: StrEnum, voice: Voice) -> None:
    what, advice = words(sample(code), Unit.INCH, voice)
    for said in (what, advice):
        assert said.strip() == said
        assert said
        assert said.isprintable()
        assert not said.endswith(".")
    if voice is Voice.FORM:
        assert "_" not in what + advice


def test_every_key_that_words_name_is_a_key_of_the_job() -> None:
    known = {key.name for _, key in walk(Job)}
    for code, templates in WORDS.items():
        for template in templates:
            for _, name, spec, _ in string.Formatter().parse(template):
                if (
                    name in ("key", "write")
                    and spec not in ("key_value", "row_value", "", None)
                    and not isinstance(code, FileCode)
                ):
                    assert str(spec).split("=")[0] in known, (code, spec)


def test_lengths_are_told_in_the_unit_of_the_job() -> None:
    too_long = problem((), Code.FLAW_BEYOND_PIECE, length=F(50))
    # 50 in = 127 cm
    assert "50 in" in sentence(too_long)
    assert "127 cm" in sentence(too_long, Unit.CENTIMETRE)


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        (
            "selvedge: 1/2",
            "selvedge: 1/0",
            "porch.yaml:5:13: cloth, selvedge: 1/0 divides by nothing; "
            "write the fraction with a number under the line, such as 1/2",
        ),
        (
            "    top_height: 86\n",
            "",
            'porch.yaml:21:98: windows 2, row, level_with: the height of "Landing" (line 15) above the floor is not '
            "known; add `top_height` to it",
        ),
        (
            "{below_top: 6 1/2}",
            "{level_with: Cellar}",
            'porch.yaml:21:23: windows 1, row, level_with: there is no window named "Cellar"; write one of "Landing" '
            'or "Stair"',
        ),
        (
            "units: in",
            "units: in\ntabel: 3",
            "porch.yaml:3:1: tabel: this key is not known; write table if that is meant",
        ),
        (
            "side_hem: 2",
            "side_hem: 28,6",
            'porch.yaml:13:47: allowances, "6": this key is not known; write decimals with a point, such as 28.6',
        ),
        (
            "{length: 96, width: 60}",
            "{length: 96, width: 60, colour: red}",
            "porch.yaml:23:32: table, colour: this key is not known; leave it out (nothing else belongs here)",
        ),
    ],
)
def test_a_problem_reads_as_file_line_column_where_what_and_advice(old: str, new: str, line: str) -> None:
    assert file_lines(refusal_of(changed(old, new))) == (line,)


def test_the_form_names_fields_and_choices_where_a_file_names_keys() -> None:
    (found,) = problems_of(changed("panels: pair\n    hang: mirrored", "panels: left\n    hang: mirrored"))
    assert sentence(found).endswith("leave `hang` out, or write `panels: pair`")
    assert "`" not in sentence(found, voice=Voice.FORM)


def test_a_place_counts_from_one_and_calls_a_window_by_its_name() -> None:
    assert where(("cloth", "pieces", 1, "flaws", 0, "from")) == "cloth, pieces 2, flaws 1, from"
    assert where(("windows", 1, "row"), ("window Landing", "window Stair")) == "window Stair, row"
    assert where(("odd key",)) == '"odd key"'
    assert where(()) == "file"


LEAST = "job: Porch\ncloth: {width: 54}\nwindows: [{name: Landing, panels: whole, finished_length: 58}]\n"


def test_what_a_job_leaves_out_is_told_in_a_line_each() -> None:
    assert list(notice_lines(parse_job(LEAST, "porch"))) == [
        "No units are given: numbers without a unit are taken as inches.",
        "No selvedge is given: the whole cloth width is taken as usable.",
        "No allowances are given: heading, hem, side hem, seam and squaring are taken as 0.",
        "Landing: neither cuts_per_panel nor rod is given; one cut per panel is taken.",
    ]
    assert list(notice_lines(parse_job(SMALL, "porch"))) == ["Stair: no fullness is given; 2 is taken."]
    some = changed("{heading: 4, hem: 8, side_hem: 2, seam: 1/2, squaring: 1}", "{heading: 4, hem: 8}")
    assert "No allowance is given for side hem, seam, squaring: 0 is taken." in notice_lines(parse_job(some, "porch"))
    rowless = changed("\n    row: {below_top: 6 1/2}", "")
    assert "Landing: no row is given; a row is put at the finished top (below_top 0)." in notice_lines(
        parse_job(rowless, "porch")
    )


def test_a_mirror_that_follows_is_told() -> None:
    text = changed("{top_to_bottom: mirror, mirror_offset: 2}", "{top_to_bottom: mirror, half_turn: yes}")
    said = "The print is taken to mirror from side to side too, as its other mirror and half-turn say."
    assert said in notice_lines(parse_job(text, "porch"))
