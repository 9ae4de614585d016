"""``lightchalk measure``: repeat, drop and symmetry of a print from a photograph."""

from __future__ import annotations

import math
from pathlib import Path

import click

from projector.commands.errors import InputAtFault
from projector.commands.lengths import Length, PixelPair
from projector.commands.loading import FILE


@click.command("measure", epilog="Example: lightchalk measure cloth.jpg --points 412,950 2820,960 --distance 12")
@click.argument("photo", type=FILE)
@click.option(
    "--pixels-per-inch", type=click.FloatRange(min=0, min_open=True), metavar="N", help="The scale, as of a scan."
)
@click.option("--points", type=PixelPair(), nargs=2, metavar="X,Y X,Y", help="Two points of the picture, in pixels.")
@click.option("--distance", type=Length(), help="How far apart those two points are on the cloth, such as 12 or 30 cm.")
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs, lengths in inches.")
def command(
    photo: Path,
    pixels_per_inch: float | None,
    points: tuple[tuple[float, float], tuple[float, float]] | None,
    distance: float | None,
    as_json: bool,
) -> None:
    """Repeat, drop and symmetry of a print from a photograph.

    Photograph or scan the cloth flat and from straight above, selvedge upright, tops up, with three or more repeats
    each way. The scale comes from --pixels-per-inch, or from two points of a ruler in the picture and their --distance.
    """
    from jobs.photo.measuring import COARSE_PIXELS, measure
    from jobs.photo.opening import open_photo
    from jobs.photo.refusals import NoPrint, PhotoRefused
    from projector.commands import json_text, measure_report

    scale = _scale(pixels_per_inch, points, distance)
    try:
        found = measure(open_photo(photo, COARSE_PIXELS))
    except (PhotoRefused, NoPrint) as refused:
        raise InputAtFault(f"{photo}: {refused.what}; {refused.advice}") from None
    document = measure_report.document(found, scale)
    if as_json:
        click.echo(json_text.dump(document))
        return
    for line in measure_report.lines(found, document):
        click.echo(line)


def _scale(
    pixels_per_inch: float | None,
    points: tuple[tuple[float, float], tuple[float, float]] | None,
    distance: float | None,
) -> float:
    """Pixels an inch, from the one way of telling it that was used."""
    if (pixels_per_inch is None) == (points is None) or (points is None) != (distance is None):
        raise click.UsageError("give the scale: --pixels-per-inch, or --points with --distance")
    if pixels_per_inch is not None:
        return pixels_per_inch
    assert points is not None
    assert distance is not None
    apart = math.dist(*points)
    if not apart or not distance:
        raise click.UsageError("the two points must lie apart, in the picture and on the cloth")
    return apart / distance
