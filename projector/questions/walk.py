"""From the answers so far, the next question; from what was typed, the answers then."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from dataclasses import replace

from jobs.io.log import FileRefused
from jobs.io.writer import job_text
from jobs.model.problems import Path
from projector.questions import further, order
from projector.questions.answers import Answers, job_of
from projector.questions.question import BOUGHT, Question, fixed
from projector.questions.typed import Unfit
from projector.words.wording import words


def next_question(answers: Answers) -> Question | None:
    """The first question that is asked and not answered yet, None when all are."""
    return next((question for question in questions(answers) if not answers.has(question.path)), None)


def answered(answers: Answers, question: Question, typed: str) -> Answers:
    """The answers once ``typed`` is one of them; raises Unfit with the reason where it cannot be.

    The job so far is read as a job file, so that no answer is taken which the file would be refused for.
    """
    after = answers.plus(question.path, question.accept(typed))
    try:
        job_text(job_of(after))
    except FileRefused as refused:
        raise Unfit(*words(refused.problems[0], answers.unit)) from None
    except ValueError as too_long:
        raise Unfit(str(too_long), "type a shorter number") from None
    question.check(after, question.path)
    return after


def replayed(kept: tuple[tuple[Path, str], ...]) -> Answers:
    """As many of these answers, kept from an earlier time, as still follow from one another."""
    answers = Answers()
    for path, answer in kept:
        question = next_question(answers)
        if question is None or question.path != path:
            return answers
        try:
            answers = answered(answers, question, answer)
        except Unfit:
            return answers
    return answers


def questions(answers: Answers) -> Iterator[Question]:
    """The questions in order, as far as the answers tell which ones there are."""
    for section in (order.OPENING, order.CLOTH):
        yield from _asked(section, answers)
    if answers.yes(BOUGHT):
        yield from _pieces(answers)
    yield from _asked(order.ALLOWANCES, answers)
    yield from _windows(answers)
    yield from _asked(order.TABLE, answers)


def _asked(section: tuple[Question, ...], answers: Answers, group: Path = ()) -> Iterator[Question]:
    for question in section:
        one = question.in_group(group)
        if one.when(answers, group):
            yield one


def _windows(answers: Answers) -> Iterator[Question]:
    number, cloths, more = 0, 0, True
    while more:
        first, *rest = order.WINDOW
        group: Path = ("windows", number)
        yield from _asked((replace(first, heading=f"Window {number + 1}"), *rest), answers, group)
        another = order.MORE_WINDOWS.in_group(group)
        yield another
        if answers.text(another.path) == "more":
            cloths += yield from _further_cloths(answers, group, cloths)
            yield from _asked(further.BESIDE_FACE, answers, group)
            yield from _listed(further.BAND, further.MORE_BANDS, answers, (*group, "bands"))
            yield from _asked(further.TIED_BACK, answers, group)
            another = order.LAST_WINDOW.in_group(group)
            yield another
        number, more = number + 1, answers.yes(another.path)


def _further_cloths(answers: Answers, window: Path, there: int) -> Generator[Question, None, int]:
    """Cloths besides the first for a window, so many described before; how many are described for it."""
    found, more = 0, True
    while more:
        any_cloth = further.ANY_CLOTH.in_group((*window, "cloths", found))
        yield any_cloth if found == 0 else replace(any_cloth, ask="Is there another cloth yet?", default=fixed("no"))
        more = answers.yes(any_cloth.path)
        if more:
            yield from _asked(further.FURTHER_CLOTH, answers, ("cloths", there + found))
            found += 1
    return found


def _pieces(answers: Answers) -> Iterator[Question]:
    number, more = 0, True
    while more:
        first, *rest = order.PIECE
        group: Path = ("cloth", "pieces", number)
        yield from _asked((replace(first, heading=f"Piece {number + 1}"), *rest), answers, group)
        yield from _listed(order.FLAW, order.MORE_FLAWS, answers, (*group, "flaws"))
        another = order.MORE_PIECES.in_group(group)
        yield another
        number, more = number + 1, answers.yes(another.path)


def _listed(section: tuple[Question, ...], any_more: Question, answers: Answers, place: Path) -> Iterator[Question]:
    """The items of a list, whether there is one before each."""
    number, more = 0, True
    while more:
        group: Path = (*place, number)
        there = any_more.in_group(group)
        yield there if number == 0 else replace(there, ask=there.ask.replace("a ", "another ", 1), default=fixed("no"))
        number, more = number + 1, answers.yes(there.path)
        if more:
            yield from _asked(section, answers, group)
