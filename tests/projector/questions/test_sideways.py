"""The talk about cloth that is tall enough to run sideways."""

from __future__ import annotations

from fractions import Fraction

import pytest

from jobs.model.choices import Run
from jobs.model.cuts import Edge
from projector.questions.answers import Answers, job_of
from projector.questions.pair_picture import window_picture
from projector.questions.walk import next_question
from tests.jobs.made import cut_list
from tests.projector.questions.scripts import after, reason

F = Fraction
CLOTH = ["in", "Grain store", "Waves on linen", "118", "1", "yes", "yes", "24", "10"]
PRINT = ["0", "no", "yes", "no", "0", "white", "1 yd", "no"]
SEWN = ["8", "10", "3", "0", "1"]
WINDOW = ["North", "pair", "mirrored", "", "90", "60", "4", "0", "2"]


def asked(answers: Answers) -> str:
    question = next_question(answers)
    return question.ask if question is not None else ""


def test_wide_cloth_alone_is_asked_about() -> None:
    assert "run sideways" in asked(after("in", "A", "B", "118", "1", "no"))
    assert "run sideways" not in asked(after("in", "A", "B", "54", "1", "no"))


def test_its_panels_are_worked_out_from_the_rod_and_no_row_is_asked_for() -> None:
    answers = after(*CLOTH, *PRINT, *SEWN, *WINDOW)
    job = job_of(answers)
    assert job.cloth.run is Run.SIDEWAYS
    assert (job.windows[0].rod, job.windows[0].cuts_per_panel, job.windows[0].row) == (60, None, None)
    assert asked(answers).startswith("Is there another window")
    left, right = cut_list(job)
    assert (left.length, left.top_edge, right.top_edge) == (74, Edge.FAR, Edge.NEAR)


def test_the_repeat_across_may_not_be_skipped() -> None:
    assert "must be known" in reason("skip", *CLOTH[:-1])


def test_a_window_too_high_for_the_cloth_is_refused_at_once() -> None:
    before = (*CLOTH, *PRINT, *SEWN, *WINDOW[:4])
    # 100 + 18 with heading and hem, 116 between the selvedges.
    assert "2 in more than lies between the selvedges" in reason("100", *before)


def test_the_little_picture_shows_rows_a_repeat_across_apart_and_the_pair_mirrored() -> None:
    answers = after(*CLOTH, *PRINT, *SEWN, *WINDOW)
    job = job_of(answers)
    lines = window_picture(job, job.windows[0], cut_list(job))
    assert any(">-" in line and "-<" in line for line in lines)
    assert sum(">-" in line for line in lines) == 9


@pytest.mark.parametrize("answer", ["no", ""])
def test_wide_cloth_may_be_run_upright_all_the_same(answer: str) -> None:
    assert job_of(after(*CLOTH[:6], answer)).cloth.run is Run.UP
