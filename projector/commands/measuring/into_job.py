"""What was measured, put into a job file with the mean repeat beside it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import in_words

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from jobs.io.measured import Change, Measured


def tile_beside(job: Path) -> Path:
    """Where the mean repeat of a job is kept."""
    return job.with_name(f"{job.stem}-repeat.png")


LEAST_SHARE = 0.01
"""Of a mean repeat that a colour takes to be named: threads and dust are averaged away in it, fins are not."""


def check_job(job: Path) -> str:
    """The text of the job file that is to be changed, read strictly before anything is measured."""
    from jobs.io.reader import parse_job
    from jobs.io.source import read_text

    with in_words(job):
        text = read_text(job)
        parse_job(text, str(job))
    return text


def colours_in(tile: NDArray[np.uint8]) -> tuple[str, tuple[str, ...]]:
    """The ground and the colours of the motifs."""
    from projector.light.cloth_photo import colours_of

    ground, *motifs = (one.colour for one in colours_of(tile, LEAST_SHARE))
    return ground, tuple(motifs)


def for_job(document: dict[str, Any], tile: NDArray[np.uint8], picture: str) -> Measured:
    """What goes into a job file: the print, the colours of its mean repeat, and the name of the picture of that."""
    from jobs.io.measured import measured_from

    ground, motifs = colours_in(tile)
    return replace(measured_from(document), ground=ground, motifs=motifs, picture=picture)


def put_into(job: Path, measured: Measured, tile: NDArray[np.uint8]) -> tuple[Change, ...]:
    """Write the mean repeat and the job; nothing is written where the job would no longer be read."""
    from jobs.io.editing import CannotEdit
    from jobs.io.measured import with_measured
    from jobs.io.source import read_text
    from projector.commands.shared.pictures import write_pixels
    from projector.files.write import write_whole

    try:
        with in_words(job):
            raw = read_text(job)
            text, changes = with_measured(raw, measured, str(job))
    except CannotEdit as refused:
        raise InputAtFault(f"{job}: {refused}") from None
    write_pixels(tile, tile_beside(job))
    mark = "\ufeff" if job.read_bytes().startswith(b"\xef\xbb\xbf") else ""
    write_whole(job, mark + text)
    return changes


def change_lines(job: Path, changes: tuple[Change, ...]) -> list[str]:
    """What was changed, old and new."""
    if not changes:
        return [f"{job} says all this already."]
    lines = [f"Changed in {job}:"]
    for one in changes:
        before = "(not there)" if one.before is None else " ".join(one.before.split())
        lines.append(f"  {one.key}: {before} -> {one.after if one.after is not None else '(taken out)'}")
    return lines
