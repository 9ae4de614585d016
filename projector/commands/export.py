"""``lightchalk export``: a plan, or the lines of a stop, for those who mark or cut by other means."""

from __future__ import annotations

from pathlib import Path

import click

from projector.commands.shared.cloths import Where, with_option
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import load_table
from projector.commands.shared.options import FILE, check_ending
from projector.commands.shared.planned import load_fitting_plan


@click.command("export", epilog="Example: lightchalk export jobs/examples/reading_room.yaml --as csv --out plan.csv")
@click.argument("job", type=FILE)
@with_option
@click.option("--as", "kind", type=click.Choice(["csv", "dxf"]), required=True, help="Which kind of file.")
@click.option("--out", type=FILE, required=True, metavar="FILE.csv|.dxf", help="The file to write.")
@click.option("--table", "table_file", type=FILE, help="A table file: stops are those of its projector.")
@click.option("--stop", "number", type=click.IntRange(min=1), default=1, show_default=True, help="Which stop, for dxf.")
def command(job: Where, kind: str, out: Path, table_file: Path | None, number: int) -> None:
    """The plan as CSV, or the lines of a stop as DXF.

    csv: a line for each cut, lengths in inches. dxf: what is lit at a stop, in table inches, each kind of line on a
    layer of its own.
    """
    from projector.files.write import write_whole

    check_ending(out, f"a {kind} file", f".{kind}")
    plan = load_fitting_plan(job, load_table(table_file) if table_file else None)
    if kind == "csv":
        from projector.papers.exchange import plan_csv

        text = plan_csv(plan)
    else:
        from projector.papers.exchange import dxf_text
        from projector.scene.stop_scene import scene_of_stop

        if number > len(plan.stops):
            raise InputAtFault(
                f"{job}: --stop {number}: the plan has {len(plan.stops)} stops; give one of 1 to {len(plan.stops)}"
            )
        text = dxf_text(scene_of_stop(plan, plan.stops[number - 1]))
    write_whole(out, text)
    click.echo(f"Wrote {out}")
