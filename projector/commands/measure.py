"""``lightchalk measure``: repeat, drop and symmetry of a print from photographs."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.model.records import dataclass
from projector.commands.measuring.scale import GivenScale, Pixel
from projector.commands.shared.options import FILE, Length, Number, PixelPair, Size, YamlPath, as_value, check_ending

if TYPE_CHECKING:
    from projector.commands.measuring.photo import MeasuredPhoto


@dataclass(frozen=True)
class Wanted:
    """What is made of a measured print: the photograph drawn on, the mean repeat, a job file, JSON."""

    picture: Path | None
    tile: Path | None
    into: Path | None
    as_json: bool


@click.command(
    "measure", epilog="Example: lightchalk measure cloth.jpg --points 412,950 2820,960 --distance 12 --picture seen.png"
)
@click.argument("photos", type=FILE, nargs=-1, required=True, metavar="PHOTO...")
@click.option("--pixels-per-inch", type=Number(0.01, 1_000_000), metavar="N", help="The scale, as of a scan.")
@click.option("--points", type=PixelPair(), nargs=2, metavar="X,Y X,Y", help="Two points of the picture, in pixels.")
@click.option("--distance", type=Length(), help="How far apart those two points are on the cloth, such as 12 or 30 cm.")
@click.option(
    "--cloth-width", type=Length(), help="The cloth shows from selvedge to selvedge and is so wide; edges are found."
)
@click.option("--selvedges", type=Number(), nargs=2, metavar="X X", help="Where they are at half height, if not found.")
@click.option(
    "--corners", type=PixelPair(), nargs=4, metavar="X,Y X,Y X,Y X,Y", help="Corners of a rectangle on the cloth."
)
@click.option("--size", type=Size(), help="How wide and high that rectangle is, such as 24x18 or '60 cm x 40 cm'.")
@click.option("--tape", type=PixelPair(), nargs=2, metavar="X,Y X,Y", help="Two points on the edge of a tape.")
@click.option("--tick", type=Length(), help="From tick to tick between them, such as 1/8 or '1 mm'.")
@click.option("--inside", type=PixelPair(), nargs=2, metavar="X,Y X,Y", help="Look only between these two corners.")
@click.option("--row", type=PixelPair(), metavar="X,Y", help="The place of the motif that rows are measured from.")
@click.option("--picture", type=FILE, metavar="OUT.png", help="Write the photograph with what was found drawn on it.")
@click.option("--tile", type=FILE, metavar="OUT.png", help="Write the mean repeat, as picture --tile takes it.")
@click.option("--into", type=YamlPath(path_type=Path), metavar="JOB", help="Put what was found into this job file.")
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs, lengths in inches.")
@as_value("given", GivenScale)
@as_value("wanted", Wanted)
def command(
    photos: tuple[Path, ...], given: GivenScale, inside: tuple[Pixel, Pixel] | None, row: Pixel | None, wanted: Wanted
) -> None:
    """Repeat, drop and symmetry of a print from a photograph.

    Photograph or scan the cloth flat and from straight above, selvedge upright, tops up, with three or more repeats
    each way. Tell the scale in one way: --pixels-per-inch; two --points of a ruler and their --distance; the
    --cloth-width; the --corners of a rectangle and its --size, which take out any slant; or two points of a --tape and
    its --tick. Several photographs of one print are measured together.

    --into writes repeat, drop, mirrors and colours into a job file and leaves its remarks alone.
    """
    from projector.commands.measuring import into_job, photo

    given.check(len(photos))
    if len(photos) > 1 and (row or inside):
        raise click.UsageError("--row and --inside belong to one picture: give one photograph")
    for out in (wanted.picture, wanted.tile):
        if out is not None:
            check_ending(out, "this picture", ".png")
    if wanted.into is not None:
        into_job.check_job(wanted.into)
    _show([photo.measured_photo(path, given, inside, row) for path in photos], wanted)


def _show(seen: list[MeasuredPhoto], wanted: Wanted) -> None:
    from jobs.prints.photographs.combining import combined
    from projector.commands.measuring import into_job, report
    from projector.commands.shared import json_text
    from projector.commands.shared.pictures import write_pixels

    together = combined([one.sized for one in seen])
    best = seen[together.best]
    document = report.document(best, together, [one.path for one in seen])
    lines = list(report.lines(best, document))
    if wanted.picture is not None:
        from projector.papers.photo_sheet import measured_picture

        words = report.picture_words(document)
        write_pixels(measured_picture(best.photo, best.found, best.origin, best.tile, words), wanted.picture)
        lines.append(f"Wrote {wanted.picture}")
    if wanted.tile is not None:
        write_pixels(best.tile, wanted.tile)
        lines.append(f"Wrote {wanted.tile}")
    if wanted.into is not None:
        measured = into_job.for_job(document, best.tile, into_job.tile_beside(wanted.into).name)
        changes = into_job.put_into(wanted.into, measured, best.tile)
        lines += into_job.change_lines(wanted.into, changes)
        lines.append(f"Wrote {into_job.tile_beside(wanted.into)}")
        document["changed"] = [{"key": one.key, "before": one.before, "after": one.after} for one in changes]
    if wanted.as_json:
        click.echo(json_text.dump(document))
        return
    for line in lines:
        click.echo(line)
