"""``lightchalk table``: what a calibration says."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.model.records import dataclass
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import load_stored
from projector.commands.shared.options import FILE, Pair, as_value, check_picture

if TYPE_CHECKING:
    from projector.files.table_file import Stored


@dataclass(frozen=True)
class Moved:
    """Photographs of the lit pattern, of now and of then."""

    photo: Path | None
    then: Path | None


@click.command("table", epilog="Example: lightchalk table table.yaml --at 30,12 --at '60 1/4,0' --picture error.png")
@click.argument("table", type=FILE)
@click.option(
    "--at",
    "points",
    type=Pair(),
    multiple=True,
    metavar="X,Y",
    help="A point in inches; may be repeated.",
)
@click.option("--picture", type=FILE, metavar="FILE.png|.svg", help="Write a picture of the expected error too.")
@click.option("--photo", type=FILE, metavar="PHOTO", help="A photograph of the pattern lit now: has anything moved?")
@click.option("--then", type=FILE, metavar="PHOTO", help="One of when it was calibrated, if none is kept beside TABLE.")
@click.option(
    "--units",
    type=click.Choice(["in", "cm", "mm"]),
    default="in",
    show_default=True,
    help="What the lines are given in; --json keeps to inches.",
)
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs.")
@as_value("moved", Moved)
def command(
    table: Path, points: tuple[tuple[float, float], ...], picture: Path | None, moved: Moved, units: str, as_json: bool
) -> None:
    """What a calibration says: pixels, inches, expected error.

    The expected error is the distance that the light stays within in 95 of 100 cases: over the whole lit area at once,
    and at single places. It is worked out from how well a mark is placed with tape and light and from what the lens of
    a projector may do unseen. With four marks the fit itself is always perfect, which proves nothing. Told as well
    are the one further mark that would help most, the check marks, the last tape proof, and how old the calibration
    is. The picture shows the lit area with contours of the expected error at each place.

    With --photo, a photograph of the pattern lit again (calibrate --photograph), it says instead how far the light has
    moved since, everywhere, and draws that: what is fixed on the table is compared with a photograph of then.
    """
    from calibration.homography import OutOfReach
    from projector.commands.shared import json_text, table_report

    if picture is not None:
        check_picture(picture)
    if moved.then and not moved.photo:
        raise click.UsageError("--then belongs to --photo")
    stored, today = load_stored(table), date.today()
    if moved.photo:
        from projector.commands.shared.settled import tell_settled
        from projector.files.lit_reference import reference_of

        tell_settled(stored.table, (moved.then or reference_of(table), moved.photo), picture, units, as_json=as_json)
        return
    try:
        document = table_report.document(stored, points, today)
    except OutOfReach:
        raise InputAtFault(
            f"{table}: a point given with --at lies beyond what this projector can light; give one nearer"
        ) from None
    if picture is not None:
        _draw(stored, picture)
    if as_json:
        click.echo(json_text.dump(document))
        return
    for line in table_report.lines(stored, document, today, units):
        click.echo(line)
    if picture is not None:
        click.echo(f"Wrote {picture}")


def _draw(stored: Stored, picture: Path) -> None:
    from calibration.advice import next_mark
    from projector.commands.shared.pictures import write_drawing
    from projector.papers.error_picture import error_picture

    write_drawing(error_picture(stored.table, stored.checks, next_mark(stored.table)), picture)
