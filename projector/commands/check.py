"""``lightchalk check``: read a job and say what was understood."""

from __future__ import annotations

from pathlib import Path

import click

from projector.commands.loading import FILE, in_words, load_job
from projector.commands.styling import headed, heading


@click.command("check", epilog="Example: lightchalk check jobs/examples/reading_room.yaml")
@click.argument("job", type=FILE)
def command(job: Path) -> None:
    """Read a job and say what was understood.

    Every problem of the file is named in one go, with its line and column and what to write instead.
    """
    from jobs.cutting import cut_list
    from jobs.ordering import assumed
    from projector.commands.job_lines import job_lines
    from projector.light.letters import missing

    read = load_job(job)
    with in_words(job):
        read = assumed(read).job
        cuts = cut_list(read)
    names = " ".join(window.name for window in read.windows)
    title, *lines = job_lines(read, cuts, sorted(missing(names)))
    click.echo(heading(title))
    for line in lines:
        click.echo(headed(line))
