"""``lightchalk calibrate``: from marked points to a table file."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.model.records import dataclass
from projector.commands.shared import screen
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import load_stored
from projector.commands.shared.options import (
    FILE,
    FramePixels,
    Length,
    Pair,
    as_value,
    check_ending,
    check_picture,
    units_option,
)

if TYPE_CHECKING:
    from calibration.height import LensPosition
    from jobs.model.choices import Unit
    from projector.files.table_file import Stored

USUAL_PX = (1920, 1080)
LENS_LEFT_OUT = (
    "Look: where the lens hangs was counted from a lit cross and is left out; "
    "if you cut thick cloth, measure it again from the first mark (--lens-height, --lens-foot)."
)


@dataclass(frozen=True)
class Lens:
    """Where the lens is, as measured with a tape."""

    lens_height: float | None
    lens_foot: tuple[float, float] | None

    @property
    def position(self) -> LensPosition | None:
        """None where it is not told. Raises UsageError for half of it."""
        from calibration.height import LensPosition

        if (self.lens_height is None) != (self.lens_foot is None):
            raise click.UsageError("--lens-height and --lens-foot belong together: give both, such as 96 and 36,20")
        if self.lens_height is None or self.lens_foot is None:
            return None
        return LensPosition(self.lens_foot, self.lens_height)


@dataclass(frozen=True)
class ByPhotographs:
    """What has to do with photographs of the lit pattern."""

    photograph: bool
    pattern: Path | None
    size: tuple[int, int] | None
    photos: tuple[Path, ...]
    more: tuple[Path, ...]
    tape: tuple[float, ...]
    picture: Path | None

    @property
    def files(self) -> tuple[Path, ...]:
        """The photographs; the shell gives those after the first as further files."""
        return (*self.photos, *self.more)

    def refuse(self, others: bool) -> None:
        """Raises UsageError for options that do not go together; ``others``: another way to calibrate is asked for."""
        if (self.size or self.more or self.tape) and not (self.photos or self.pattern):
            raise click.UsageError("--size, --tape and further files belong to --photos")
        if self.photos and (others or self.photograph or not self.tape):
            raise click.UsageError("--photos wants a --tape, and neither --marks nor --simulated")
        if self.picture:
            if not self.photos:
                raise click.UsageError("--picture draws what is left over of --photos")
            check_picture(self.picture)


@click.command("calibrate", epilog="Example: lightchalk calibrate table.yaml --marks marks.yaml")
@click.argument("table", type=FILE)
@click.option("--marks", "marks_file", type=FILE, help="Fit the marks of this file instead of asking at the table.")
@click.option("--display", metavar="SCREEN", help=screen.HELP)
@units_option("What you measure in; a length may carry its own, such as '70 1/4 in'.")
@click.option("--lens-height", type=Length(of_units=True), help="Height of the projector's lens above the table.")
@click.option("--lens-foot", type=Pair(of_units=True), metavar="X,Y", help="Place on the table plumb below the lens.")
@click.option("--simulated", is_flag=True, help="Practise in an ordinary window, on a simulated table.")
@click.option(
    "--photograph", is_flag=True, help="Light the pattern for photographs; page and phone take them, or your camera."
)
@click.option("--pattern", type=FILE, metavar="FILE.png", help="Only write the frame that is lit for photographs.")
@click.option("--size", type=FramePixels(), help="The projector's pixels; those of TABLE, or 1920x1080, if not told.")
@click.option(
    "--photos", type=FILE, multiple=True, metavar="PHOTO...", help="Photographs of the lit pattern, three or more."
)
@click.option(
    "--tape",
    type=Length(of_units=True),
    multiple=True,
    help="What a tape says from lit cross to cross; again for a second reading.",
)
@click.option("--picture", type=FILE, metavar="FILE.png|.svg", help="Draw what is left over at every corner seen.")
@click.argument("more", type=FILE, nargs=-1, metavar="")
@as_value("lit", ByPhotographs)
@as_value("measured", Lens)
def command(
    table: Path,
    marks_file: Path | None,
    display: str | None,
    units: str,
    simulated: bool,
    lit: ByPhotographs,
    measured: Lens,
) -> None:
    """Teach the projector where the inches of the table are.

    Writes the table file. Four or more points are marked on the table with tape, their inches from the near-left one
    measured. Without --marks the projector lights a cross for each; move it onto the mark with the arrow keys or the
    mouse and type its inches. How far off the light can be is said before you save, and which further mark would help
    most; check marks put it to the test.

    Or by photographs, with nothing to place or to move: light the pattern, take five photographs
    of it from around the table, some upright, some across, and measure from lit cross to lit cross (--photos, --tape).
    With --photograph the projector lights it, and the page's place Table, also on a phone, takes the photographs.
    Zero is then the left cross, and x runs towards the other.

    Light that falls slantwise on thick cloth shifts. With the height of the lens and the place plumb below it, both
    from a tape, the shift is taken out.
    """
    if marks_file and simulated:
        raise click.UsageError("--simulated has marks of its own: leave --marks out")
    lit.refuse(bool(marks_file or simulated))
    before = _there_already(table, simulated)
    if lit.pattern:
        _write_pattern(lit.pattern, lit.size or _size_of(before))
        return
    lens = measured.position
    made: Stored | None
    if lit.photos:
        from jobs.model.choices import Unit
        from projector.commands.shared.photographed import Readings, from_photographs

        there = before.table if before else None
        taped = Readings(lit.tape, Unit(units))
        made = from_photographs(lit.files, taped, lit.size or _size_of(before), there, lens, lit.picture)
        _keep(lit.files[0], table)
    elif marks_file:
        from projector.commands.shared.marked import from_marks

        made, units = from_marks(marks_file, lens)
    else:
        made = _at_the_table(table, None if simulated else before, display, units, measured, lit, simulated)
    if made is None:
        click.echo(f"Left without saving; {table} is as it was.")
        return
    if marks_file or lit.photos:
        _write(table, made)
    from projector.commands.shared import table_report

    click.echo(f"Wrote {table}")
    today = date.today()
    for line in table_report.lines(made, table_report.document(made, (), today), today, units):
        click.echo(line)


def _keep(photograph: Path, table: Path) -> None:
    """One photograph beside the table file, to be compared with another one later."""
    from projector.files.lit_reference import reference_of
    from projector.files.write import write_whole

    write_whole(reference_of(table), photograph.read_bytes())


def _there_already(path: Path, simulated: bool) -> Stored | None:
    """The calibration that the file holds, None where there is no file. Raises InputAtFault where it holds what must
    not be lost: something else, or a true calibration when one is practised."""
    from projector.files.table_file import SIMULATED

    if not path.exists():
        return None
    try:
        stored = load_stored(path)
    except InputAtFault as fault:
        because = fault.lines[0].removeprefix(f"{path}:")
        kept = f"{path}: it is there already and is no calibration that can be read, so nothing is written over it"
        raise InputAtFault(f"{kept}; name another file, or put this one away ({because.strip()})") from None
    if simulated and stored.display != SIMULATED:
        kept = f"{path}: it is the calibration of a true table, and practice would write over it"
        raise InputAtFault(f"{kept}; name another file, such as {path.with_name('practice-table.yaml')}")
    return stored


def _size_of(before: Stored | None) -> tuple[int, int]:
    """The frame of the calibration that is there, else the usual one."""
    return (before.table.width_px, before.table.height_px) if before else USUAL_PX


def _write_pattern(out: Path, size: tuple[int, int]) -> None:
    from calibration.photographs.pattern import NoPattern, Pattern
    from projector.commands.shared.json_text import dump
    from projector.commands.shared.pictures import write_pixels
    from projector.commands.shared.practice import rgb_of
    from projector.light.pattern import pattern_frame

    check_ending(out, "the pattern", ".png")
    try:
        pattern = Pattern(*size)
    except NoPattern:
        raise click.UsageError(f"a frame of {size[0]} x {size[1]} pixels is too small for the pattern") from None
    write_pixels(rgb_of(pattern_frame(pattern)), out)
    told = {
        "width_px": pattern.width_px,
        "height_px": pattern.height_px,
        "side_px": pattern.side_px,
        "columns": pattern.columns,
        "rows": pattern.rows,
        "crosses_px": pattern.crosses_px.tolist(),
    }
    click.echo(dump(told))


def _at_the_table(
    path: Path,
    earlier: Stored | None,
    display: str | None,
    units: str,
    measured: Lens,
    lit: ByPhotographs,
    simulated: bool,
) -> Stored | None:
    """The calibration that was saved while a light was on, here or by the page; None: none was."""
    from jobs.model.choices import Unit
    from projector.commands.shared.light import shared_rim
    from projector.session.run import Start, run_calibrating, run_practice
    from projector.session.windows.displays import DisplayError

    # The places that photographs saw are no marks of tape: nothing of them stands on the table, their zero neither.
    marked = None if earlier and earlier.table.photographed else earlier
    start = Start(
        Unit(units),
        marked,
        earlier.table.gamma if earlier else 2.2,
        measured.position or (marked.table.lens_position if marked else None),
        lit.photograph,
    )
    before = _changed(path)

    def save(stored: Stored) -> None:
        _write(path, stored)

    try:
        if simulated:
            made = run_practice(save, start, rim=shared_rim("calibrating", path.name, simulated=True, table=path))
        else:
            rim = shared_rim("calibrating", path.name, display=screen.screen_for(display), table=path)
            made = run_calibrating(save, start, rim)
    except DisplayError as fault:
        raise InputAtFault(str(fault)) from None
    if made is None and lit.photograph and _changed(path) != before:
        made = load_stored(path)
    elif made is not None and earlier and earlier.table.lens_position and not made.table.lens_position:
        click.echo(LENS_LEFT_OUT)
    if made is not None and simulated:
        _say_truth(made, start.unit)
    return made


def _changed(path: Path) -> int:
    """When the file was written last; 0 where there is none."""
    return path.stat().st_mtime_ns if path.exists() else 0


def _say_truth(stored: Stored, unit: Unit) -> None:
    from projector.demo.practice import practice
    from projector.words.measures import format_length

    off_in = practice().true_error_in(stored.table)
    click.echo("It is the calibration of the simulated table: practice, not for cutting.")
    click.echo(f"There the truth is known: your light is off by {format_length(off_in, unit)} at its worst place.")


def _write(path: Path, stored: Stored) -> None:
    from projector.files.table_file import write_stored

    write_stored(path, stored)
