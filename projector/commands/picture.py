"""``lightchalk picture``: pictures of a job."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.model.records import dataclass
from projector.commands.shared.cloths import Where, light_beside, with_option
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import load_job, load_table
from projector.commands.shared.options import FILE, as_value, check_picture
from projector.commands.shared.planned import load_fitting_plan, on_cloth

if TYPE_CHECKING:
    from projector.session.cutting.begin import Before


@dataclass(frozen=True)
class Cloth:
    """How cloth is drawn: with the picture of one repeat, in folds."""

    tile: Path | None
    folds: bool


@click.command("picture", epilog="Example: lightchalk picture jobs/examples/reading_room.yaml --of hung --out pair.png")
@click.argument("job", type=FILE)
@with_option
@click.option(
    "--of", "what", type=click.Choice(["frame", "table", "cloth", "hung"]), required=True, help="What to show."
)
@click.option("--table", "table_file", type=FILE, help="A table file; without one a simulated projector is taken.")
@click.option(
    "--stop", "number", type=click.IntRange(min=1), default=1, show_default=True, help="Which stop of the plan."
)
@click.option(
    "--tile",
    type=click.Path(path_type=Path),
    metavar="PICTURE",
    help="For cloth and hung: a scan of one repeat of the print, the motif you measure rows from in its middle.",
)
@click.option("--folds", is_flag=True, help="For hung: gathered in folds, as full as each window says.")
@click.option("--out", type=FILE, required=True, metavar="FILE.png|.svg", help="The picture to write.")
@as_value("cloth", Cloth)
def command(job: Where, what: str, table_file: Path | None, number: int, cloth: Cloth, out: Path) -> None:
    """A picture of the frame, the table, the cloth or the pair as hung.

    frame: what `cut` lights at a stop for a person who comes there by forward alone, pixel for pixel: in the colours
    for the cloth, and with --table as the light was set before. table: how the table looks with that light on it.
    cloth: the piece with its cuts. hung: every window as it will hang, at its height above the floor where the job
    gives it. With --tile, or a picture of the repeat in the job, they show the print itself.
    """
    from projector.commands.shared import pictures, practice
    from projector.demo.setup import demo_setup
    from projector.prints.face import face_of
    from projector.session.cutting.begin import AT_FIRST, arrive, session_for

    check_picture(out)
    if cloth.tile is not None and what not in ("cloth", "hung"):
        raise click.UsageError("--tile is for pictures of cloth and hung")
    if cloth.folds and what != "hung":
        raise click.UsageError("--folds is for the picture of hung")
    if what in ("cloth", "hung"):
        plan = load_fitting_plan(job)
        face = face_of(plan.job.cloth) if cloth.tile is None else pictures.face_from(cloth.tile, plan.job)
        for notice in face.notices:
            click.echo(f"Look: {notice}", err=True)
        pictures.write_drawn(plan, what, out, folded=cloth.folds, face=face)
    else:
        table = load_table(table_file) if table_file else demo_setup(load_job(job)).table
        plan = load_fitting_plan(job, table)
        if number > len(plan.stops):
            raise InputAtFault(
                f"{job}: --stop {number}: the plan has {len(plan.stops)} stops; give one of 1 to {len(plan.stops)}"
            )
        session = session_for(plan, on_cloth(job, table, plan.job), _before(job) if table_file else AT_FIRST)
        arrive(session, number - 1)
        for notice in face_of(plan.job.cloth).notices if what == "table" else ():
            click.echo(f"Look: {notice}", err=True)
        practice.write_lit(session, what, out)
    click.echo(f"Wrote {out}")


def _before(job: Where) -> Before:
    """How the person has set the light of the job at the table."""
    from projector.files.settings import light_or_usual
    from projector.session.cutting.begin import Before
    from projector.session.cutting.light import LAYER_NAMES, light_of

    settings, damaged = light_or_usual(light_beside(job), LAYER_NAMES)
    if damaged:
        click.echo(f"Note: {damaged}", err=True)
    return Before(light=light_of(settings))
