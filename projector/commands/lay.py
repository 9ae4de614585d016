"""``lightchalk lay``: the light fitted to the print as it really lies."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.model.records import dataclass
from projector.commands.shared.cloths import Where, with_option
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import in_words, load_job
from projector.commands.shared.options import FILE, Length, as_value

if TYPE_CHECKING:
    from calibration.registration.lattice import PrintLattice
    from calibration.registration.registering import Registration
    from jobs.model.job import Job


@dataclass(frozen=True)
class How:
    """By motif points of a file, or by a photograph, perhaps with a second one in white light: its table, which piece
    place lies at x = 0 there, what was lit."""

    points: Path | None
    photo: Path | None
    pattern: Path | None
    table: Path | None
    at_left: float | None
    on_white: bool | None
    white: Path | None
    back: str | None
    beside: tuple[tuple[str, Path], ...]

    def refuse(self) -> None:
        """Raises UsageError for options that do not go together."""
        if sum(one is not None for one in (self.points, self.photo, self.pattern)) != 1:
            raise click.UsageError("give motif points with --points, or a photograph with --photo and its --table")
        if (self.table is not None) != (self.points is None) or (self.at_left is not None and self.photo is None):
            raise click.UsageError("--photo and --table belong together; --at-left belongs to them")
        if self.back is not None and (self.photo is None or self.at_left is not None):
            raise click.UsageError("--back belongs to --photo and --table, and needs no --at-left")
        if self.beside and self.back is None:
            raise click.UsageError("--beside belongs to --back")
        if self.on_white is not None and self.points is not None:
            raise click.UsageError("--on-white and --whole belong to --photo and to --pattern")
        if self.white is not None and (self.photo is None or self.back is not None):
            raise click.UsageError("--white is a second photograph: give the one of the pattern with --photo")


@click.command("lay", epilog="Example: lightchalk lay jobs/examples/reading_room.yaml --points points.yaml")
@click.argument("job", type=FILE)
@with_option
@click.option("--points", type=FILE, help="Motif points as they lie: row, column, table place.")
@click.option("--photo", type=FILE, help="A photograph of the lit pattern over the cloth (--pattern).")
@click.option("--pattern", type=FILE, metavar="FILE.png", help="Only write the frame that is lit for that.")
@click.option(
    "--on-white/--whole",
    default=None,
    help="That frame has codes on a white field, or is the whole pattern. Not told: by the colours of the cloth; whole "
    "with --back.",
)
@click.option("--white", type=FILE, help="A second photograph from the same place, in white light or the room's.")
@click.option("--table", type=FILE, help="The calibration of that light.")
@click.option("--at-left", type=Length(), help="Which place of the piece lies at x = 0, about; 0 if not told.")
@click.option("--back", metavar="CUT", help="The photograph is of this cut, made and laid back: will its mates match?")
@click.option(
    "--beside",
    type=(str, FILE),
    multiple=True,
    metavar="CUT FILE",
    help="A mate of it that is cut too, in a photograph of its own.",
)
@click.option("--piece", type=click.IntRange(min=1), default=1, show_default=True, help="Which piece of cloth lies.")
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs, lengths in inches.")
@as_value("how", How)
def command(job: Where, how: How, piece: int, as_json: bool) -> None:
    """Fit the light to the print as it really lies: repeat, turn, skew, bow, verdict.

    Two points tell shift and turn, three or more also stretch and skew, three on one row and one off it the bow. Rows
    count along the piece from its first row, columns away from you, both from 0. A point that lies on another motif
    than it was marked as is named.

    With --photo nothing is touched: the pattern for photographs is lit over the cloth and photographed once, all of it
    in the picture. Every repeat in it is compared with the picture of the print that the job keeps (measure --into).
    A cloth that lies turned or on its face, another print and another width are refused.

    With --back a panel that is cut is laid back flat under the same light, its printed side up, bare table in the
    light beyond its cut ends and beside it. Told is, edge by edge, by how much its print will miss its mate's at top
    and foot, and by how much to move the mate's cut where that is too much. The mate is taken to be cut as planned,
    or as it was photographed (--beside). Of a panel longer than the table the end in the picture is judged.

    Where the pattern hides too much of a print, --white gives a second photograph, taken by hand from nearly the same
    place with the whole frame lit white, or in the light of the room: the print is looked for in that one.
    """
    from jobs.cutting.resolve import unanswered
    from jobs.model.choices import PrintKey
    from jobs.model.problems import JobRefused
    from jobs.ordering import assumed
    from projector.commands.shared import json_text, lay_report
    from projector.scene.print_marks import NoLattice, lattice_of

    how.refuse()
    read = load_job(job)
    if how.pattern is not None and how.table is not None:
        from projector.commands.shared.laid import write_pattern

        write_pattern(how.pattern, how.table, on_white=_on_white(how, read))
        return
    if how.back is not None and how.photo is not None and how.table is not None:
        _tell_mates(job, how, as_json=as_json)
        return
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
    more: dict[str, object] = {}
    told: tuple[str, ...] = ()
    laying: Registration
    if how.photo is not None and how.table is not None:
        from projector.commands.shared.laid import Files, by_photograph

        files = Files(how.photo, how.table, _on_white(how, read), how.white)
        laying, more, told = by_photograph(job, read, files, lattice, how.at_left or 0.0)
    else:
        assert how.points is not None
        laying = _by_points(how.points, lattice)
    document = {**lay_report.document(read, laying, longest), **more}
    if as_json:
        click.echo(json_text.dump(document))
        return
    for line in (*lay_report.lines(read, laying, document, longest), *told):
        click.echo(line)


def _tell_mates(job: Where, how: How, *, as_json: bool) -> None:
    """Tell whether the mates of a panel that is laid back will match it."""
    from projector.commands.shared import json_text
    from projector.commands.shared.laid import Files
    from projector.commands.shared.laid_back import Backs, mates_of

    assert how.photo is not None
    assert how.table is not None
    assert how.back is not None
    document, lines = mates_of(job, Files(how.photo, how.table, bool(how.on_white)), Backs(how.back, how.beside))
    for line in (json_text.dump(document),) if as_json else lines:
        click.echo(line)


def _on_white(how: How, read: Job) -> bool:
    """What is lit: as told, else as it is chosen for the colours of the cloth."""
    from projector.light.field import on_white
    from projector.session.cutting.light import light_on

    cloth = read.cloth
    return on_white(cloth.colour, cloth.motif_colours, light_on(read)) if how.on_white is None else how.on_white


def _by_points(points: Path, lattice: PrintLattice) -> Registration:
    """The print through the points of a file. Raises InputAtFault."""
    from calibration.problems import PointsRefused
    from calibration.registration.fit import PrintFit
    from calibration.registration.lattice import PrintPoint
    from calibration.registration.registering import register
    from projector.files.measurements import read_points
    from projector.words.wording import sentence

    with in_words(points):
        found = read_points(points).points
    try:
        laying = register([PrintPoint(p.row, p.column, p.table) for p in found], PrintFit.plain(lattice))
    except PointsRefused as refused:
        raise InputAtFault(f"{points}: points: {sentence(refused.problems[0])}") from None
    if len({point.motif for point in laying.points}) < 2:
        raise InputAtFault(f"{points}: points: all are on one motif; mark two or more different ones, far apart")
    return laying


def _no_lattice(none: Exception) -> str:
    if getattr(none, "plain", False):
        return "cloth: plain cloth has no print to lay it by; lay it by its selvedge, or give the repeat"
    return "cloth, repeat: the repeat across is not given, so columns have no place; measure it and add across"
