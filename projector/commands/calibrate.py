"""``lightchalk calibrate``: from marked points to a table file."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from projector.commands.errors import InputAtFault
from projector.commands.loading import FILE, in_words, load_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from calibration.marks import Mark
    from calibration.table import Table


@click.command("calibrate", epilog="Example: lightchalk calibrate table.yaml --marks marks.yaml")
@click.argument("table", type=FILE)
@click.option("--marks", "marks_file", type=FILE, help="Fit the marks of this file instead of asking at the table.")
@click.option("--display", type=click.IntRange(min=1), help="Which screen the projector is (see: lightchalk displays).")
def command(table: Path, marks_file: Path | None, display: int | None) -> None:
    """Teach the projector where the inches of the table are; writes the table file.

    Four or more points are marked on the table with tape, their inches from the near-left one measured. Without --marks
    the projector lights a cross for each; move it onto the mark with the arrow keys or the mouse and type its inches.
    """
    made = _from_marks(marks_file) if marks_file else _at_the_table(table, display)
    if made is None:
        click.echo(f"Left without saving; {table} is as it was.")
        return
    if marks_file:
        _write(table, made)
    from projector.commands import table_report

    click.echo(f"Wrote {table}")
    for line in table_report.lines(made, table_report.document(made, ())):
        click.echo(line)


def _from_marks(path: Path) -> Table:
    from calibration.homography import OriginOnHorizon
    from calibration.marks import MarksRefused
    from calibration.table import fit_table
    from projector.files.marks_file import read_marks

    with in_words(path):
        read = read_marks(path)
    try:
        return fit_table(
            read.marks,
            read.width_px,
            read.height_px,
            gamma=read.gamma,
            date=date.today().isoformat(),
            placing=read.placing,
            lens_position=read.lens_position,
        )
    except MarksRefused as refused:
        raise InputAtFault(
            *(f"{path}: {_named(one.marks)}: {one.what}; {one.advice}" for one in refused.problems)
        ) from None
    except OriginOnHorizon as refused:
        raise InputAtFault(f"{path}: marks: {refused}") from None


def _named(numbers: Sequence[int]) -> str:
    return f"mark{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}" if numbers else "marks"


def _at_the_table(path: Path, display: int | None) -> Table | None:
    from functools import partial

    from calibration.table import fit_table
    from jobs.job import Unit
    from jobs.lengths import parse_length
    from projector.session.calibrating_host import Calibration
    from projector.session.displays import Display, DisplayError
    from projector.session.window import run_full_screen

    earlier: tuple[Mark, ...] = load_table(path).marks if path.exists() else ()
    opened: list[Calibration] = []

    def host(screen: Display) -> Calibration:
        size = screen.width_px, screen.height_px
        fit = partial(fit_table, width_px=size[0], height_px=size[1], date=date.today().isoformat())
        parse = partial(parse_length, unit=Unit.INCH, signed=True)
        opened.append(Calibration(size, Unit.INCH, fit, parse, partial(_write, path), earlier))
        return opened[0]

    try:
        run_full_screen(host, display=display)
    except DisplayError as fault:
        raise InputAtFault(str(fault)) from None
    return opened[0].saved if opened else None


def _write(path: Path, table: Table) -> None:
    from projector.files.table_file import write_table

    write_table(path, table)
