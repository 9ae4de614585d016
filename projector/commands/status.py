"""``lightchalk status``: which cuts are done, which is next."""

from __future__ import annotations

from pathlib import Path

import click

from projector.commands.loading import FILE, load_fitting_plan
from projector.commands.styling import heading, important


@click.command("status", epilog="Example: lightchalk status jobs/examples/reading_room.yaml")
@click.argument("job", type=FILE)
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs.")
def command(job: Path, as_json: bool) -> None:
    """Which cuts are done and which is next.

    It is read from the record that a session keeps beside the job file.
    """
    from projector.commands import json_text
    from projector.commands.recording import done_cuts, recorded_repeat, torn

    plan = load_fitting_plan(job, repeat=recorded_repeat(job))
    done = done_cuts(job, plan)
    left = [placement.cut for placement in plan.placements if placement.cut.id not in done]
    if as_json:
        document = {
            "job": plan.job.title,
            "done": list(done),
            "next": left[0].id if left else None,
            "left": [cut.id for cut in left],
        }
        click.echo(json_text.dump(document))
        return
    names = {cut.id: f"{cut.panel}, {cut.number} of {cut.of}" for cut in plan.cuts}
    click.echo(heading(f"{plan.job.title}: {len(done)} of {len(plan.cuts)} cuts done"))
    for cut_id in done:
        click.echo(f"  done  {names[cut_id]}")
    for position, cut in enumerate(left):
        line = f"  {'next' if position == 0 else 'left'}  {names[cut.id]}"
        click.echo(important(line) if position == 0 else line)
    if torn(job):
        click.echo("The record ends in a torn line, as after a power cut: look whether the last cut is ticked.")
