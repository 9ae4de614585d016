"""``lightchalk table``: what a calibration says."""

from __future__ import annotations

from pathlib import Path

import click

from projector.commands.errors import InputAtFault
from projector.commands.lengths import Pair
from projector.commands.loading import FILE, load_table


@click.command("table", epilog="Example: lightchalk table table.yaml --at 30,12 --at '60 1/4,0'")
@click.argument("table", type=FILE)
@click.option(
    "--at",
    "points",
    type=Pair(),
    multiple=True,
    metavar="X,Y",
    help="A point in inches; may be repeated.",
)
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs.")
def command(table: Path, points: tuple[tuple[float, float], ...], as_json: bool) -> None:
    """What a calibration says: pixels, inches, expected error.

    The expected error is the distance that the light stays within in 95 of 100 cases, worked out from how well a mark
    is placed with tape and light. With four marks the fit itself is always perfect, which proves nothing.
    """
    from calibration.reach import OutOfReach
    from projector.commands import json_text, table_report

    read = load_table(table)
    try:
        document = table_report.document(read, points)
    except OutOfReach:
        raise InputAtFault(
            f"{table}: a point given with --at lies beyond what this projector can light; give one nearer"
        ) from None
    if as_json:
        click.echo(json_text.dump(document))
        return
    for line in table_report.lines(read, document):
        click.echo(line)
