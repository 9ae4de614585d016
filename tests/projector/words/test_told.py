"""What is told of cuts that are made already and of ways to need less, in words."""

from fractions import Fraction

import pytest

from jobs.io.reader import parse_job
from jobs.model.choices import Unit
from jobs.model.problems import Code, Problem, problem
from jobs.planning.planner import plan_job
from projector.words.told import change_words, note_lines, unmet_lines

F = Fraction


def trimmed(*names: str, **trims: Fraction) -> list[Problem]:
    return [problem((), Code.CUT_TO_TRIM, cut=name, **trims) for name in names]


def test_what_is_the_same_for_many_cuts_is_said_once():
    notes = trimmed("A", "B", "C", "D", "E", foot=F(2))
    assert note_lines(notes, Unit.INCH) == (
        "A; B; C and 2 more: cut longer than the job now asks for: trim 2 in at the foot.",
    )


@pytest.mark.parametrize(
    ("note", "said"),
    [
        (
            problem((), Code.CUT_TO_TRIM, cut="A", top=F(1), foot=F(1, 2)),
            "A: cut longer than the job now asks for: trim 1 in at the top and 1/2 in at the foot.",
        ),
        (
            problem((), Code.CUT_TO_TRIM, cut="A", returning=F(3)),
            "A: cut longer than the job now asks for: trim 3 in at the return edge.",
        ),
        (
            problem((), Code.CUT_OTHER_TURNINGS, cut="A", heading=F(4), hem=F(8)),
            "A: cut with a heading of 4 in and a hem of 8 in: sew with these.",
        ),
        (
            problem((), Code.CUT_OFF_ROWS, cut="A", off=F(1, 2)),
            "A: cut 1/2 in off the rows that the job has now: look where the rows lie, and match the next cut to them.",
        ),
        (
            problem((), Code.CUT_WINDOW_RENAMED, window="East", name="West"),
            "East is taken to be called West now: what is cut for it is kept for that.",
        ),
        (
            problem((), Code.CUT_SPARE_NO_WINDOW, cut="A"),
            "A is cut already, and the job has no such window any more: it is kept as a spare.",
        ),
        (
            problem((), Code.CUT_SPARE_NOT_ASKED, cut="A"),
            "A is cut already, and the job asks for no such cut any more: it is kept as a spare.",
        ),
    ],
)
def test_what_is_told_of_a_cut_that_is_made(note, said):
    assert note_lines([note], Unit.INCH) == (said,)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (problem((), Code.ROWS_MOVED, down=F(1)), "let every row hang 1 in lower"),
        (problem((), Code.ROWS_MOVED, down=F(-1, 2)), "let every row hang 1/2 in higher"),
        (problem((), Code.PAIR_MIRRORED, window="East"), "hang East as a mirrored pair, its right panel turned"),
        (
            problem(("allowances", "hem"), Code.SHALLOWER, left=F(6), now=F(8)),
            "make the hem 6 in instead of 8 in",
        ),
        (
            problem((), Code.ANOTHER_PIECE, length=F(90), sold_by=F(9)),
            "buy one more piece of 2 1/2 yd, a little more if no row lies at its first end",
        ),
    ],
)
def test_ways_to_need_less(change, said):
    assert change_words(change, Unit.INCH) == said


def test_a_wish_that_is_not_met_says_which_cut_where_and_why():
    text = """\
job: Loft
units: in
cloth: {width: 54, pieces: [{length: 100}, {length: 20}]}
windows:
  - {name: Bay, panels: whole, finished_length: 30, places: [{panel: whole, near: 60 1/2, piece: 2}]}
  - {name: Porch, panels: pair, finished_length: 30, places: [{panel: left, cut: 2, near: 4}]}
"""
    plan = plan_job(parse_job(text, "loft.yaml"))
    assert unmet_lines(plan) == (
        "Bay, whole: it cannot lie near 60 1/2 in, for on piece 2 no place is long enough, on its rows and free of "
        "flaws and of other cuts.",
        "Porch, left, cut 2: it cannot lie near 4 in, for there is no such cut.",
    )
