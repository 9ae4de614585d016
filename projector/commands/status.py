"""``lightchalk status``: which cuts are done, which is next."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from projector.commands.errors import InputAtFault
from projector.commands.loading import FILE, load_fitting_plan
from projector.commands.styling import heading, important

if TYPE_CHECKING:
    from jobs.journal.events import Journal
    from jobs.plan import Cut, Plan


@click.command("status", epilog="Example: lightchalk status jobs/examples/reading_room.yaml")
@click.argument("job", type=FILE)
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs.")
@click.option("--mend", is_flag=True, help="First write a damaged record anew from all lines that can be read.")
def command(job: Path, as_json: bool, mend: bool) -> None:
    """Which cuts are done and which is next.

    It is read from the record that a session keeps beside the job file. Where lines of it are damaged, all that the
    others tell is shown; look at the cloth before you --mend it. The record as it was is kept beside it.
    """
    from projector.commands import json_text
    from projector.commands.recording import damage_in_words, done_cuts, mend_record, record_of, recorded_repeat

    if mend and record_of(job).damaged:
        click.echo(f"The record is written anew; as it was it is kept in {mend_record(job)}", err=as_json)
    record = record_of(job)

    plan = load_fitting_plan(job, repeat=recorded_repeat(job))
    done = done_cuts(job, plan)
    left = [placement.cut for placement in plan.placements if placement.cut.id not in done]
    if as_json:
        document = {
            "job": plan.job.title,
            "done": list(done),
            "next": left[0].id if left else None,
            "left": [cut.id for cut in left],
            "torn": record.torn,
            "damaged": [{"line": bad.line, "what": bad.what} for bad in record.damaged],
        }
        click.echo(json_text.dump(document))
    else:
        _say(plan, done, left, record)
    if record.damaged:
        raise InputAtFault(*damage_in_words(job, record))


def _say(plan: Plan, done: tuple[str, ...], left: list[Cut], record: Journal) -> None:
    names = {cut.id: f"{cut.panel}, {cut.number} of {cut.of}" for cut in plan.cuts}
    click.echo(heading(f"{plan.job.title}: {len(done)} of {len(plan.cuts)} cuts done"))
    for cut_id in done:
        click.echo(f"  done   {names[cut_id]}")
    for position, cut in enumerate(left):
        line = f"  {'next ' if position == 0 else 'to do'}  {names[cut.id]}"
        click.echo(important(line) if position == 0 else line)
    if record.torn:
        click.echo("The record ends in a torn line, as after a power cut: look whether the last cut is ticked.")
