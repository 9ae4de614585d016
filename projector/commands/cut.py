"""``lightchalk cut``: the session at the table."""

from __future__ import annotations

from pathlib import Path

import click

from projector.commands.errors import InputAtFault
from projector.commands.loading import FILE, load_fitting_plan, load_table
from projector.commands.recording import open_record


@click.command("cut", epilog="Example: lightchalk cut jobs/examples/reading_room.yaml --table table.yaml")
@click.argument("job", type=FILE)
@click.option("--table", "table_file", type=FILE, required=True, help="The table file that calibrate wrote.")
@click.option("--display", type=click.IntRange(min=1), help="Which screen the projector is (see: lightchalk displays).")
def command(job: Path, table_file: Path, display: int | None) -> None:
    """Light the cuts of a job on the table, one after another.

    Space or PageDown goes on, Enter says that a cut is done, H shows all keys. Each tick is written to a record beside
    the job file at once, so that leaving or a power cut loses nothing; the next session goes on from there.
    """
    from projector.session.cutting_host import Cutting
    from projector.session.displays import Display, DisplayError
    from projector.session.lighting import bench_of
    from projector.session.recording import recording_in
    from projector.session.window import run_full_screen

    table = load_table(table_file)
    plan = load_fitting_plan(job, table)
    for notice in plan.job.notices:
        click.echo(f"Note: {notice}")
    with open_record(job, plan) as (journal, done):
        if journal.torn:
            click.echo(
                "The record of cuts ended in a torn line, as after a power cut; look whether the last cut is ticked."
            )

        def host(screen: Display) -> Cutting:
            return Cutting(bench_of(plan, table), table, recording_in(journal, plan), done)

        try:
            run_full_screen(host, display=display)
        except DisplayError as fault:
            raise InputAtFault(f"{table_file}: {fault}") from None
    click.echo(f"The record of cuts is kept in {journal.path}. See it with: lightchalk status {job}")
