"""What a person types, for the tests of the talk."""

from __future__ import annotations

import re
from dataclasses import replace

from jobs.model.job import Job
from projector.questions.answers import Answers
from projector.questions.typed import Unfit
from projector.questions.walk import answered, next_question

INCHES = [
    "in",
    "Harbour office",
    "Kites on sand",
    "55",
    "3/4",
    "yes",
    "18 3/4",
    "13.5",
    "0",
    "yes",
    "0",
    "no",
    "no",
    "3",
    "cream",
    "1/4 yd",
    "yes",
    "first",
    "9 yd",
    "7 1/4",
    "yes",
    "96",
    "8 ft 2 1/2 in",
    "10",
    "14",
    "slub",
    "no",
    "no",
    "4 1/2",
    "8",
    "3",
    "",
    "",
    "East bay",
    "pair",
    "m",
    "92",
    "7 ft",
    "cuts",
    "1",
    "top",
    "5",
    "",
    "yes",
    "West",
    "left",
    "",
    "60",
    "rod",
    "40",
    "4",
    "0",
    "2.5",
    "level",
    "East bay",
    "no",
    "yes",
    "",
    "",
]
METRIC = [
    "cm",
    "Quay loft",
    "Plain linen",
    "140 cm",
    "0",
    "no",
    "yes",
    "2.5 %",
    "#aabbcc",
    "10 cm",
    "no",
    "10",
    "20",
    "4",
    "1.5",
    "30 mm",
    "Hatch",
    "whole",
    "skip",
    "172.5",
    "cuts",
    "1 1/2",
    "no",
    "no",
]


def after(*typed: str) -> Answers:
    """The answers after these; an empty one is Enter. Raises Unfit."""
    answers = Answers()
    for answer in typed:
        question = next_question(answers)
        assert question is not None
        answers = answered(answers, question, answer or question.enter(answers))
    return answers


def reason(typed: str, *before: str) -> str:
    """Why an answer is not taken."""
    answers = after(*before)
    question = next_question(answers)
    assert question is not None
    try:
        answered(answers, question, typed)
    except Unfit as unfit:
        return str(unfit)
    raise AssertionError(f"{typed} was taken")


def without_notices(job: Job) -> Job:
    return replace(job, notices=())


def plain(shown: str) -> str:
    """Text of a terminal without its colours."""
    return re.sub(r"\x1b\[[0-9;?]*[a-zA-Z]", "", shown).replace("\r", "")
