"""Whether the light has moved since it was calibrated, by two photographs of it."""

from __future__ import annotations

from pathlib import Path

import click

from calibration.homography import OutOfReach
from calibration.photographs.pattern import Pattern
from calibration.photographs.settling import Settled, settled
from calibration.problems import PhotographRefused
from calibration.table import Table
from jobs.model.problems import Code
from jobs.prints.photographs.problems import PhotoRefused
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.json_text import dump
from projector.commands.shared.pictures import write_drawing
from projector.files.lit_photograph import seen_in
from projector.papers.settled_picture import settled_picture
from projector.words.findings import describe_settled
from projector.words.wording import sentence

NO_THEN = (
    "{path}: there is no photograph of when it was calibrated; give one with --then (take one right after calibrating, "
    "with the pattern lit, and keep it)"
)


def tell_settled(
    table: Table, photos: tuple[Path, Path], picture: Path | None, units: str, *, as_json: bool = False
) -> None:
    """Print, and draw, how far the light has moved from the first photograph to the second. Raises InputAtFault."""
    found = _settled(table, photos)
    said = describe_settled(found, table.lit_area(), units)
    if picture is not None:
        write_drawing(settled_picture(found, table, said, units), picture)
    click.echo(dump(_document(found)) if as_json else said)
    if picture is not None and not as_json:
        click.echo(f"Wrote {picture}")


def _settled(table: Table, photos: tuple[Path, Path]) -> Settled:
    pattern, seen = Pattern(table.width_px, table.height_px), []
    for path in photos:
        try:
            seen.append(seen_in(path, pattern))
        except PhotoRefused as unread:
            if path is photos[0] and unread.problems[0].code is Code.NO_SUCH_FILE:
                raise InputAtFault(NO_THEN.format(path=path)) from None
            raise InputAtFault(f"{path}: {sentence(unread.problems[0])}") from None
        except PhotographRefused as refused:
            raise InputAtFault(f"{path}: {sentence(refused.problems[0])}") from None
    try:
        return settled(table, *seen)
    except OutOfReach:
        raise InputAtFault(f"{photos[1]}: it does not go with this table; calibrate again") from None


def _document(found: Settled) -> dict[str, object]:
    places = zip(found.places_in.tolist(), found.shift_in.tolist(), found.within_in.tolist(), strict=True)
    return {
        "most_in": found.most_in,
        "moved": found.has_moved,
        "holds": found.holds,
        "at": [{"table": at, "shift_in": shift, "within_in": within} for at, shift, within in places],
    }
