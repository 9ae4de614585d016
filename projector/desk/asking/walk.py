"""The order of the questions: from what was said, the next question; from an answer, what is said then."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.io.writer import job_text
from projector.desk.asking.about_cloth import PRINT, REST, SIZES
from projector.desk.asking.about_pieces import FLAW, MORE_FLAWS, MORE_PIECES, PIECE
from projector.desk.asking.about_windows import MORE_WINDOWS, WINDOW
from projector.desk.asking.answers import Unfit
from projector.desk.asking.gathered import job_of
from projector.desk.asking.opening import ALLOWANCES, OPENING, TABLE
from projector.desk.asking.question import Question
from projector.desk.asking.said import Said
from projector.words.wording import words


def next_question(said: Said) -> Question | None:
    """The first question that is asked and not answered yet, None when all is said."""
    return next((question for question in questions(said) if not said.has(question.key)), None)


def answered(said: Said, question: Question, typed: str) -> Said:
    """What is said once ``typed`` is the answer; raises Unfit with the reason where it cannot be.

    The job so far is written and read as a job file, so that no answer is taken which the file would be refused for.
    """
    after = said.plus(question.key, question.accept(typed, said))
    try:
        parse_job(job_text(job_of(after)), "answers")
    except FileRefused as refused:
        raise Unfit(*words(refused.problems[0], said.unit)) from None
    except ValueError as too_long:
        raise Unfit(str(too_long), "type a shorter number") from None
    question.check(after, question.key)
    return after


def replayed(answers: tuple[tuple[str, str], ...]) -> Said:
    """As many of these answers, kept from an earlier talk, as still follow from one another."""
    said = Said()
    for key, answer in answers:
        question = next_question(said)
        if question is None or question.key != key:
            return said
        try:
            said = answered(said, question, answer)
        except Unfit:
            return said
    return said


def questions(said: Said) -> Iterator[Question]:
    """The questions in order, as far as what was said tells which ones there are."""
    for section in (OPENING, SIZES, PRINT, REST):
        yield from _asked(section, said)
    if said.yes("bought"):
        yield from _pieces(said)
    yield from _asked(ALLOWANCES, said)
    yield from _windows(said)
    yield from _asked(TABLE, said)


def _asked(section: tuple[Question, ...], said: Said, group: str = "") -> Iterator[Question]:
    for question in section:
        one = question.in_group(group) if group else question
        if one.when(said, one.group):
            yield one


def _windows(said: Said) -> Iterator[Question]:
    number, more = 0, True
    while more:
        number += 1
        first, *rest = WINDOW
        group = f"window {number}"
        yield from _asked((replace(first, heading=group.capitalize()), *rest), said, group)
        another = MORE_WINDOWS.in_group(group)
        yield another
        more = said.yes(another.key)


def _pieces(said: Said) -> Iterator[Question]:
    number, more = 0, True
    while more:
        number += 1
        first, *rest = PIECE
        group = f"piece {number}"
        yield from _asked((replace(first, heading=group.capitalize()), *rest), said, group)
        yield from _flaws(said, group)
        another = MORE_PIECES.in_group(group)
        yield another
        more = said.yes(another.key)


def _flaws(said: Said, piece: str) -> Iterator[Question]:
    number, more = 0, True
    while more:
        number += 1
        group = f"{piece} flaw {number}"
        any_more = MORE_FLAWS.in_group(group)
        yield any_more if number == 1 else replace(any_more, ask="Is there another flaw?")
        more = said.yes(any_more.key)
        if more:
            yield from _asked(FLAW, said, group)
