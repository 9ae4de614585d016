"""From what was said, the next question; from an answer, what is said then."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jobs.io.log import FileRefused
from jobs.io.writer import job_text
from jobs.model.problems import Path
from projector.questions import order
from projector.questions.answers import Unfit
from projector.questions.gathered import job_of
from projector.questions.question import BOUGHT, Question
from projector.questions.said import Said
from projector.words.wording import words


def next_question(said: Said) -> Question | None:
    """The first question that is asked and not answered yet, None when all is said."""
    return next((question for question in questions(said) if not said.has(question.path)), None)


def answered(said: Said, question: Question, typed: str) -> Said:
    """What is said once ``typed`` is the answer; raises Unfit with the reason where it cannot be.

    The job so far is read as a job file, so that no answer is taken which the file would be refused for.
    """
    after = said.plus(question.path, question.accept(typed))
    try:
        job_text(job_of(after))
    except FileRefused as refused:
        raise Unfit(*words(refused.problems[0], said.unit)) from None
    except ValueError as too_long:
        raise Unfit(str(too_long), "type a shorter number") from None
    question.check(after, question.path)
    return after


def replayed(answers: tuple[tuple[Path, str], ...]) -> Said:
    """As many of these answers, kept from an earlier talk, as still follow from one another."""
    said = Said()
    for path, answer in answers:
        question = next_question(said)
        if question is None or question.path != path:
            return said
        try:
            said = answered(said, question, answer)
        except Unfit:
            return said
    return said


def questions(said: Said) -> Iterator[Question]:
    """The questions in order, as far as what was said tells which ones there are."""
    for section in (order.OPENING, order.CLOTH):
        yield from _asked(section, said)
    if said.yes(BOUGHT):
        yield from _pieces(said)
    yield from _asked(order.ALLOWANCES, said)
    yield from _windows(said)
    yield from _asked(order.TABLE, said)


def _asked(section: tuple[Question, ...], said: Said, group: Path = ()) -> Iterator[Question]:
    for question in section:
        one = question.in_group(group)
        if one.when(said, group):
            yield one


def _windows(said: Said) -> Iterator[Question]:
    number, more = 0, True
    while more:
        first, *rest = order.WINDOW
        group: Path = ("windows", number)
        yield from _asked((replace(first, heading=f"Window {number + 1}"), *rest), said, group)
        another = order.MORE_WINDOWS.in_group(group)
        yield another
        number, more = number + 1, said.yes(another.path)


def _pieces(said: Said) -> Iterator[Question]:
    number, more = 0, True
    while more:
        first, *rest = order.PIECE
        group: Path = ("cloth", "pieces", number)
        yield from _asked((replace(first, heading=f"Piece {number + 1}"), *rest), said, group)
        yield from _flaws(said, group)
        another = order.MORE_PIECES.in_group(group)
        yield another
        number, more = number + 1, said.yes(another.path)


def _flaws(said: Said, piece: Path) -> Iterator[Question]:
    number, more = 0, True
    while more:
        group: Path = (*piece, "flaws", number)
        any_more = order.MORE_FLAWS.in_group(group)
        yield any_more if number == 0 else replace(any_more, ask="Is there another flaw?")
        number, more = number + 1, said.yes(any_more.path)
        if more:
            yield from _asked(order.FLAW, said, group)
