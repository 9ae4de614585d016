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
    from projector.scene.lit_stretch import reach_across
    from projector.session.displays import DisplayError
    from projector.session.recording import recording_in
    from projector.session.run import run_cutting

    table = load_table(table_file)
    plan = load_fitting_plan(job, table)
    for notice in plan.job.notices:
        click.echo(f"Note: {notice}")
    with open_record(job, plan) as (journal, done):
        if journal.torn:
            click.echo(
                "The record of cuts ended in a torn line, as after a power cut; look whether the last cut is ticked."
            )

        reach = reach_across(plan.job, table.lit_area())
        try:
            run_cutting(plan, table, recording_in(journal, plan), done, display=display, lit_width_in=reach)
        except DisplayError as fault:
            raise InputAtFault(f"{table_file}: {fault}") from None
    click.echo(f"The record of cuts is kept in {journal.path}. See it with: lightchalk status {job}")
