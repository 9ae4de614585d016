"""``lightchalk plan``: where each cut lies on the piece."""

from __future__ import annotations

from pathlib import Path

import click

from projector.commands.errors import InputAtFault
from projector.commands.loading import FILE, PICTURES, load_plan, load_table, short_in_words
from projector.commands.styling import heading
from projector.commands.watching import watching


@click.command("plan", epilog="Example: lightchalk plan jobs/examples/reading_room.yaml --picture piece.png")
@click.argument("job", type=FILE)
@click.option(
    "--table", "table_file", type=FILE, help="A table file: pulls are planned for what its projector can light."
)
@click.option("--json", "as_json", is_flag=True, help="Print the plan for other programs, lengths in inches.")
@click.option("--picture", type=FILE, metavar="FILE.png|.svg", help="Also write the picture of the piece.")
def command(job: Path, table_file: Path | None, as_json: bool, picture: Path | None) -> None:
    """Where each cut lies on the piece, the pulls and the leftovers.

    The shortest placement is found, and the plan says whether it is proved that none is shorter. When the piece is too
    short nothing is planned; what is missing is said instead.
    """
    from projector.commands import json_text
    from projector.commands.plan_lines import plan_lines

    if picture and picture.suffix.lower() not in PICTURES:
        raise InputAtFault(f"{picture}: a picture file ends in .png or .svg; name it so")
    plan = load_plan(job, load_table(table_file) if table_file else None)
    if as_json:
        click.echo(json_text.dump(json_text.of_plan(plan)))
    if plan.short:
        raise InputAtFault(short_in_words(job, plan))
    if not as_json:
        before = None
        for line in plan_lines(plan):
            opens = before is None or (before == "" and not line.startswith("Leftover"))
            click.echo(heading(line) if opens else line)
            before = line
    if picture:
        from projector.papers.cloth_picture import cloth_picture
        from projector.papers.write import write_drawing

        with watching("Drawing, lines of the picture") as tell:
            write_drawing(cloth_picture(plan), picture, tell)
        click.echo(f"Picture of the piece: {picture}", err=as_json)
