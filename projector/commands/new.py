"""``lightchalk new``: ask the questions of a job one by one and write the file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from projector.commands.errors import InputAtFault
from projector.commands.loading import FILE, in_words

if TYPE_CHECKING:
    from projector.questions.said import Said


@click.command("new", epilog="Example: lightchalk new parlour.yaml")
@click.argument("file", type=FILE)
def command(file: Path) -> None:
    """Ask the questions of a job one by one and write the file.

    Lengths may be typed in any way. Enter takes the answer in brackets, back goes back one question, ? tells more.
    Leave whenever you like with Ctrl-C: the answers are kept beside the file and the next start goes on with them.
    """
    from jobs.io.writer import job_text
    from projector.commands.talk import talk
    from projector.files.write import write_whole
    from projector.questions import draft
    from projector.questions.gathered import job_of

    beside = draft.draft_of(file)
    try:
        agreed = file.exists() and not beside.exists()
        if agreed:
            _may_be_replaced(file)
        said = _begun(beside)
        draft.keep(beside, said)
        said = talk(said, lambda now: draft.keep(beside, now))
        if file.exists() and not agreed:
            _may_be_replaced(file)
    except (EOFError, KeyboardInterrupt):
        click.echo()
        if beside.exists():
            click.echo(f"Your answers are kept in {beside}. To go on: lightchalk new {file}", err=True)
        raise
    write_whole(file, job_text(job_of(said)))
    beside.unlink(missing_ok=True)
    click.echo(f"Written: {file}")
    click.echo(f"Next: lightchalk check {file}, then lightchalk order {file}")


def _may_be_replaced(file: Path) -> None:
    from projector.commands.talk import ask_yes_no

    if not file.is_file():
        raise InputAtFault(f"{file}: this is not a file; give another name")
    if not ask_yes_no(f"{file} is there already. Shall the new job take its place?", "no"):
        raise InputAtFault(f"{file}: it is as it was; give another name to keep both")


def _begun(beside: Path) -> Said:
    """What an earlier talk left, when the person wants to go on with it."""
    from projector.commands.talk import ask_yes_no
    from projector.questions import draft
    from projector.questions.said import Said
    from projector.questions.walk import replayed

    click.echo("Enter takes the answer in brackets; back goes back; ? tells more; Ctrl-C leaves and keeps all.")
    if not beside.exists():
        return Said()
    with in_words(beside):
        try:
            answers = draft.kept(beside)
        except draft.NotADraft:
            raise InputAtFault(f"{beside}: these are not kept answers; move the file away, then start anew") from None
    if not answers:
        return Said()
    said = replayed(answers)
    count = len(said.answers)
    if not ask_yes_no(f"{count} answers are kept from last time. Go on with them?", "yes"):
        _put_aside(beside)
        return Said()
    if count < len(answers):
        click.echo(f"From answer {count + 1} on they do not fit any more and are asked again.")
        _put_aside(beside)
    return said


def _put_aside(beside: Path) -> None:
    old = beside.with_name(beside.name + ".old")
    beside.replace(old)
    click.echo(f"They are kept in {old}.")
