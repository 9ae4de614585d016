"""``lightchalk new``: ask the questions of a job one by one and write the file."""

from __future__ import annotations

import shutil
import textwrap
from collections.abc import Callable
from pathlib import Path

import click

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.writer import job_text
from jobs.model.lengths import show_cut, show_order
from jobs.model.problems import JobRefused
from jobs.model.problems import Path as JobPath
from jobs.ordering import assumed_to_order, order
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import in_words
from projector.commands.shared.options import FILE
from projector.commands.shared.terminal import heading
from projector.files.write import write_whole
from projector.questions.answers import Answers, NotADraft, draft_of, job_of, keep_draft, kept_draft
from projector.questions.pair_picture import window_picture
from projector.questions.question import ANOTHER, LAST, Question
from projector.questions.typed import Unfit
from projector.questions.walk import answered, next_question, replayed
from projector.words.wording import words


@click.command("new", epilog="Example: lightchalk new parlour.yaml")
@click.argument("file", type=FILE)
def command(file: Path) -> None:
    """Ask the questions of a job one by one and write the file.

    Lengths may be typed in any way. Enter takes the answer in brackets, back goes back one question, ? tells more.
    Leave whenever you like with Ctrl-C: the answers are kept beside the file and the next start goes on with them.
    """
    beside = draft_of(file)
    try:
        agreed = file.exists() and not beside.exists()
        if agreed:
            _may_be_replaced(file)
        answers = _begun(beside)
        keep_draft(beside, answers)
        answers = ask_all(answers, lambda now: keep_draft(beside, now))
        if file.exists() and not agreed:
            _may_be_replaced(file)
    except (EOFError, KeyboardInterrupt):
        click.echo()
        if beside.exists():
            click.echo(f"Your answers are kept in {beside}. To go on: lightchalk new {file}", err=True)
        raise
    write_whole(file, job_text(job_of(answers)))
    beside.unlink(missing_ok=True)
    click.echo(f"Written: {file}")
    click.echo(f"Next: lightchalk check {file}, then lightchalk order {file}")


def _may_be_replaced(file: Path) -> None:
    if not file.is_file():
        raise InputAtFault(f"{file}: this is not a file; give another name")
    if not ask_yes_no(f"{file} is there already. Shall the new job take its place?", "no"):
        raise InputAtFault(f"{file}: it is as it was; give another name to keep both")


def _begun(beside: Path) -> Answers:
    """What is kept of an earlier time, when the person wants to go on with it."""
    click.echo("Enter takes the answer in brackets; back goes back; ? tells more; Ctrl-C leaves and keeps all.")
    if not beside.exists():
        return Answers()
    with in_words(beside):
        try:
            kept = kept_draft(beside)
        except NotADraft:
            raise InputAtFault(f"{beside}: these are not kept answers; move the file away, then start anew") from None
    if not kept:
        return Answers()
    answers = replayed(kept)
    count = len(answers.pairs)
    if not ask_yes_no(f"{count} answers are kept from last time. Go on with them?", "yes"):
        _put_aside(beside)
        return Answers()
    if count < len(kept):
        click.echo(f"From answer {count + 1} on they do not fit any more and are asked again.")
        _put_aside(beside)
    return answers


def _put_aside(beside: Path) -> None:
    old = beside.with_name(beside.name + ".old")
    beside.replace(old)
    click.echo(f"They are kept in {old}.")


WIDEST = 96
UNITS = ("units",)
READ_BACK = "All is answered. Enter writes the file; back changes the last answer."


def ask_all(answers: Answers, keep: Callable[[Answers], None]) -> Answers:
    """Ask until all is answered and the person agrees; ``keep`` is called after every change.

    Raises EOFError and KeyboardInterrupt when the person leaves.
    """
    taken_back: dict[JobPath, str] = {}
    while True:
        question = next_question(answers)
        before = answers
        if question is None:
            click.echo()
            if _line(READ_BACK).casefold() != "back":
                return answers
            answers = answers.back()
        else:
            answers = _one(answers, question, taken_back.get(question.path) or question.enter(answers))
        if len(answers.pairs) < len(before.pairs):
            taken_back.update(before.pairs[-1:])
        elif question is not None and question.path == UNITS and answers.text(UNITS) != taken_back.get(UNITS):
            # A bare number meant another length in the other unit.
            taken_back.clear()
        keep(answers)


def ask_yes_no(words: str, default: str) -> bool:
    """A plain question of the host."""
    while True:
        typed = _line(f"{words} [{default}]").casefold() or default
        if typed in ("yes", "y", "no", "n"):
            return typed.startswith("y")
        click.echo("  Type yes or no.")


def _one(answers: Answers, question: Question, enter: str) -> Answers:
    """Ask one question until it is answered or the person goes back; ``enter`` is what Enter alone answers.

    What was explained for one window is not explained again for the next, unless the person asks.
    """
    explained = _asked_before(answers, question)
    _head(question)
    if not explained:
        _explain(question)
    for line in question.drawn(answers, question.group):
        click.echo(f"  {line}")
    while True:
        typed = _line(f"{question.ask} [{enter}]" if enter else question.ask)
        command = typed.casefold()
        if command == "back":
            if answers.pairs:
                return answers.back()
            click.echo("  This is the first question; there is nothing before it.")
            continue
        if command in ("?", "help"):
            if explained:
                _explain(question)
            _wrapped(question.more)
            continue
        if not typed and not enter:
            click.echo("  This one needs an answer. Type ? for more about it.")
            continue
        try:
            after = answered(answers, question, typed or enter)
        except Unfit as unfit:
            _wrapped(f"{unfit.what}: {unfit.advice}.")
            continue
        if next_question(after) is None or question.path[0] == "windows":
            _show_window(after, question)
        return after


def _asked_before(answers: Answers, question: Question) -> bool:
    """Whether the same was answered for an earlier window, piece or flaw: their paths differ in numbers only."""
    names = _names(question.path)
    return bool(question.group) and any(_names(path) == names for path, _ in answers.pairs)


def _names(path: JobPath) -> list[str | int]:
    return [name for name in path if isinstance(name, str)]


def _head(question: Question) -> None:
    click.echo()
    if question.heading:
        click.echo(heading(question.heading))
        click.echo()


def _explain(question: Question) -> None:
    _wrapped(question.term)
    for line in question.picture:
        click.echo(line)


def _show_window(answers: Answers, question: Question) -> None:
    """After the last question of a window: the window as it hangs, and the order so far."""
    following = next_question(answers)
    if following is None or following.path[0] != "windows" or following.path[-1] not in (ANOTHER, LAST):
        return
    job = job_of(answers)
    click.echo()
    try:
        cloths = [(one, assumed_to_order(one.job)) for one in jobs_of_cloths(job)]
    except JobRefused as refused:
        for problem in refused.problems:
            _wrapped(f"This cannot be cut: {words(problem, job.unit)[0]}. Type back to change an answer.")
        return
    path: JobPath = ("windows", len(job.windows) - 1)
    taken, number = next((t, one.frame.windows.index(path)) for one, t in cloths if path in one.frame.windows)
    cuts = taken.resolved.windows[number].cuts
    for line in window_picture(taken.job, job.windows[-1], cuts):
        click.echo(f"  {line}")
    click.echo(f"  {len(cuts)} {'cut' if len(cuts) == 1 else 'cuts'} of {show_cut(cuts[0].length, job.unit)}")
    for one, taken in cloths:
        bought = show_order(order(taken.resolved).buy, job.unit, one.job.cloth.sold_by)
        of = f" of {one.name}" if len(cloths) > 1 else ""
        dearest = ", in the dearest case: not all is known of the print" if taken.is_dearest else ""
        click.echo(heading(f"  To buy so far: {bought}{of}{dearest}"))


def _line(words: str) -> str:
    _wrapped(words, "")
    return input("> ").strip()


def _wrapped(words: str, indent: str = "  ") -> None:
    width = min(WIDEST, max(40, shutil.get_terminal_size().columns - 1))
    for line in textwrap.wrap(words, width, initial_indent=indent, subsequent_indent=indent):
        click.echo(line)
