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

    from calibration.table import Table


@click.command("calibrate", epilog="Example: lightchalk calibrate table.yaml --marks marks.yaml")
@click.argument("table", type=FILE)
@click.option("--marks", "marks_file", type=FILE, help="Fit the marks of this file instead of asking at the table.")
@click.option("--display", type=click.IntRange(min=1), help="Which screen the projector is (see: lightchalk displays).")
@click.option(
    "--units",
    type=click.Choice(["in", "cm", "mm"]),
    default="in",
    show_default=True,
    help="What you measure the marks in.",
)
def command(table: Path, marks_file: Path | None, display: int | None, units: str) -> None:
    """Teach the projector where the inches of the table are.

    Writes the table file. Four or more points are marked on the table with tape, their inches from the near-left one
    measured. Without --marks the projector lights a cross for each; move it onto the mark with the arrow keys or the
    mouse and type its inches.
    """
    made = _from_marks(marks_file) if marks_file else _at_the_table(table, display, units)
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


def _at_the_table(path: Path, display: int | None, units: str) -> Table | None:
    from jobs.job import Unit
    from projector.session.displays import DisplayError
    from projector.session.run import run_calibrating

    earlier = load_table(path) if path.exists() else None
    try:
        return run_calibrating(
            lambda table: _write(path, table),
            unit=Unit(units),
            display=display,
            marks=earlier.marks if earlier else (),
            gamma=earlier.gamma if earlier else 2.2,
        )
    except DisplayError as fault:
        raise InputAtFault(str(fault)) from None


def _write(path: Path, table: Table) -> None:
    from projector.files.table_file import write_table

    write_table(path, table)
