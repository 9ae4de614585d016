"""``lightchalk demo``: a pair cut on the simulated table."""

from __future__ import annotations

from datetime import date
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING

import click

from projector.commands.shared.loading import load_job

if TYPE_CHECKING:
    from jobs.model.plan import Plan
    from projector.demo.setup import DemoSetup


@click.command("demo", epilog="Example: lightchalk demo --out pictures")
@click.option(
    "--out", type=click.Path(path_type=Path, file_okay=False), help="Write pictures into this folder; no window."
)
@click.option("--as-it-lies", is_flag=True, help="Cloth 1 % long, skewed and bowed, laid aslant: press L to lay it.")
def command(out: Path | None, as_it_lies: bool) -> None:
    """See a pair cut on a simulated table; no projector needed.

    A virtual projector hangs slantwise above a table on which a patterned cloth lies. A window shows the table from
    above with the light on it; the keys are those of a real session (H shows them). Where there is no screen, or with
    --out, pictures are written instead: the piece, every stop as the table looks and as the projector's frame, and the
    pair as it hangs.
    """
    from projector.commands.shared import practice
    from projector.demo.setup import demo_setup
    from projector.scene.lit_stretch import plan_on_table
    from projector.session.windows.displays import NoDisplayError

    with as_file(files("jobs.examples") / "reading_room.yaml") as path:
        job = load_job(path)
    demo = demo_setup(job, date=date.today().isoformat())
    plan = plan_on_table(job, demo.table.lit_area())
    if out is None:
        try:
            lies = practice.as_it_lies(as_it_lies)
            session = practice.run_on_demo_table(plan, demo, lies)
            for line in practice.match_lines(plan, session, lies):
                click.echo(line)
            return
        except NoDisplayError:
            out = Path("demo")
            click.echo(f"No screen was found, so pictures are written to the folder {out}.")
    _pictures(plan, demo, out)


def _pictures(plan: Plan, demo: DemoSetup, out: Path) -> None:
    from projector.commands.shared import pictures, practice
    from projector.files.write import make_folder
    from projector.session.cutting.begin import arrive, session_for

    make_folder(out)
    session = session_for(plan, demo.table)
    with click.progressbar(plan.stops, label="Lighting the stops", show_pos=True) as stops:
        for at, stop in enumerate(stops):
            arrive(session, at)
            frame = practice.frame_of(session)
            pictures.write_pixels(practice.rgb_of(frame), out / f"stop-{stop.number}-frame.png")
            seen = practice.table_picture(session, frame)
            pictures.write_pixels(seen, out / f"stop-{stop.number}-table.png")
    for what in ("cloth", "hung"):
        pictures.write_drawn(plan, what, out / f"{what}.png")
    click.echo(f"Pictures of {plan.job.title} are in {out}:")
    for path in sorted(out.glob("*.png")):
        click.echo(f"  {path}")
