"""``lightchalk lay``: the light fitted to the print as it really lies."""

from __future__ import annotations

from pathlib import Path

import click

from projector.commands.shared.cloths import Where, with_option
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import in_words, load_job
from projector.commands.shared.options import FILE


@click.command("lay", epilog="Example: lightchalk lay jobs/examples/reading_room.yaml --points points.yaml")
@click.argument("job", type=FILE)
@with_option
@click.option("--points", type=FILE, required=True, help="Motif points as they lie: row, column, table place.")
@click.option("--piece", type=click.IntRange(min=1), default=1, show_default=True, help="Which piece of cloth lies.")
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs, lengths in inches.")
def command(job: Where, points: Path, piece: int, as_json: bool) -> None:
    """Fit the light to the print as it really lies: repeat, turn, skew, bow, verdict.

    Two points tell shift and turn, three or more also stretch and skew, three on one row and one off it the bow. Rows
    count along the piece from its first row, columns away from you, both from 0. A point that lies on another motif
    than it was marked as is named.
    """
    from calibration.problems import PointsRefused
    from calibration.registration.fit import PrintFit
    from calibration.registration.lattice import PrintPoint
    from calibration.registration.registering import register
    from jobs.cutting.resolve import unanswered
    from jobs.model.choices import PrintKey
    from jobs.model.problems import JobRefused
    from jobs.ordering import assumed
    from projector.commands.shared import json_text, lay_report
    from projector.files.measurements import read_points
    from projector.scene.print_marks import NoLattice, lattice_of
    from projector.words.wording import sentence

    read = load_job(job)
    pieces = read.cloth.pieces
    if piece > max(1, len(pieces)):
        raise InputAtFault(f"{job}: cloth, pieces: there are {len(pieces)}; give --piece 1 to {max(1, len(pieces))}")
    with in_words(job):
        if PrintKey.DROP in read.cloth.not_known:
            raise JobRefused(unanswered([PrintKey.DROP]))
        longest = max(float(cut.length) for cut in assumed(read).resolved.cuts)
    try:
        lattice = lattice_of(read.cloth, pieces[piece - 1] if pieces else None)
    except NoLattice as none:
        raise InputAtFault(f"{job}: {_no_lattice(none)}") from None
    with in_words(points):
        found = read_points(points).points
    try:
        laying = register([PrintPoint(p.row, p.column, p.table) for p in found], PrintFit.plain(lattice))
    except PointsRefused as refused:
        raise InputAtFault(f"{points}: points: {sentence(refused.problems[0])}") from None
    if len({point.motif for point in laying.points}) < 2:
        raise InputAtFault(f"{points}: points: all are on one motif; mark two or more different ones, far apart")
    document = lay_report.document(read, laying, longest)
    if as_json:
        click.echo(json_text.dump(document))
        return
    for line in lay_report.lines(read, laying, document, longest):
        click.echo(line)


def _no_lattice(none: Exception) -> str:
    if getattr(none, "plain", False):
        return "cloth: plain cloth has no print to lay it by; lay it by its selvedge, or give the repeat"
    return "cloth, repeat: the repeat across is not given, so columns have no place; measure it and add across"
