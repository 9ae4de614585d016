"""A calibration from a file of marks that were set and measured by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import click

from calibration.height import LensPosition
from calibration.mark_checks import OF_THE_MAP
from calibration.marks import outside_frame
from calibration.problems import MarksRefused
from calibration.table import fit_table
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import in_words
from projector.files.measurements import MarksFile, read_marks
from projector.files.table_file import Stored
from projector.session.calibrating.findings import slip_in
from projector.words.measures import format_marks
from projector.words.wording import sentence


def from_marks(path: Path, lens: LensPosition | None) -> tuple[Stored, str]:
    """The fitted marks of a file, and the unit they were measured in. Raises InputAtFault; doubts are printed."""
    with in_words(path):
        read = read_marks(path)
    try:
        fitted = fit_table(read.marks, read.width_px, read.height_px, read.placing)
    except MarksRefused as refused:
        slips = [f"{path}: {slip}" for slip in _mistyped(read)]
        # The slip that explains the marks says more than how their map came out, and may blame another mark.
        problems = [one for one in refused.problems if not (slips and one.code in OF_THE_MAP)]
        lines = [f"{path}: {_named(one.marks)}: {sentence(one, read.unit)}" for one in problems]
        raise InputAtFault(*lines, *slips) from None
    for slip in _mistyped(read):
        click.echo(f"Look: {slip}")
    outside = outside_frame(read.marks, read.width_px, read.height_px)
    if outside:
        click.echo(f"Look: {_named(outside)}: outside the frame, where no projector can have lit it.")
    today, position = date.today().isoformat(), lens or read.lens_position
    table = replace(fitted, gamma=read.gamma, date=today, lens_position=position)
    return Stored(table, read.checks), read.unit.value


def _mistyped(read: MarksFile) -> list[str]:
    """The mark that does not go with the others, in words; marks are counted without the check marks."""
    found = slip_in(read.marks, read.width_px, read.height_px, read.unit, read.placing)
    counted = " (Marks are counted without the check marks.)" if read.checks else ""
    return [found.said + counted] if found else []


def _named(numbers: Sequence[int]) -> str:
    return format_marks(numbers) if numbers else "marks"
