"""One photograph of the cloth under the lit pattern, read in the process that opens a stranger's pictures."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from calibration.laying.flattening import Lit
from calibration.laying.laying import Laid, Photo, Planned, laid_from_photograph
from calibration.laying.tile import Tile
from calibration.photographs.pattern import Pattern
from calibration.problems import PhotographRefused
from calibration.registration.record import record_of
from jobs.prints.photographs.opening import open_photo
from jobs.prints.photographs.problems import PhotoRefused
from projector.files.write import write_whole
from projector.light.pattern import levels_of, pattern_frame
from projector.page.work.judging import said
from projector.page.work.mating import mated
from projector.prints.face import face_of
from projector.session.cutting.photographed import Asked, read_asked
from projector.words.measures import format_length

Json = dict[str, Any]
MOST_PX = 13_000_000
"""A photograph of more pixels is looked at made smaller: finer than this no print has to be seen."""
WIDEST = 1280
LINE, RIM, POINT_PX = "#ffd54a", "#10151d", 5
STEPS = 40
"""Points of a drawn row or column: its bow is seen."""


def laid(asked_file: Path) -> Json:
    """How the print lies that a photograph shows.

    ``asked_file`` is JSON: ``lay`` as the session published it, the ``photo``, whether it is of a ``simulated``
    cloth, ``point``, where a motif was tapped in shares of the picture (None: nowhere), and files: pictures to be
    written, ``small`` and ``seen`` with the print drawn as it was found, ``tapped``, the repeat about a tapped motif,
    to be written, and ``tile``, one that was kept of an earlier tap and is looked for. The answer: ``record`` is what
    the session takes, ``says`` what is told of it; ``wrong`` why there is none, ``wants_point`` that a motif is to be
    tapped.
    """
    told = json.loads(asked_file.read_text(encoding="utf-8"))
    asked = read_asked(told["lay"])
    try:
        rgb = open_photo(Path(told["photo"]), MOST_PX, least_side=1).rgb8
    except PhotoRefused as unread:
        return {"wrong": [said(unread.problems[0])]}
    small = _small(rgb)
    small.save(told["small"], "JPEG", quality=85)
    pattern = Pattern(asked.table.width_px, asked.table.height_px)
    lit = Lit(pattern, levels_of(pattern_frame(pattern, on_white=asked.on_white), asked.table.gamma))
    tile = _tile(asked, Path(told["tile"]), simulated=told["simulated"])
    if asked.back is not None:
        return mated(asked, Photo(rgb, lit), tile, (small, Path(told["seen"])))
    if tile is None and told["point"] is None:
        return {"wrong": [], "wants_point": True}
    tapped = None if tile is not None else (told["point"][0] * rgb.shape[1], told["point"][1] * rgb.shape[0])
    try:
        planned = Planned(asked.carried, tile, tapped, asked.ends_in, asked.cut_in)
        found = laid_from_photograph(Photo(rgb, lit), asked.table, planned)
    except PhotographRefused as refused:
        # Another motif may be tapped in the same photograph.
        return {"wrong": [said(one, asked.job.unit) for one in refused.problems], "wants_point": tile is None}
    if found.problems:
        return {"wrong": [said(one, asked.job.unit) for one in found.problems]}
    if found.tile is not None:
        held = io.BytesIO()
        np.save(held, found.tile.values)
        write_whole(Path(told["tapped"]), held.getvalue())
    _drawn(small, found, asked, small.width / rgb.shape[1]).save(told["seen"], "JPEG", quality=85)
    return {"record": record_of(found.registration), "row_open": found.row_open, "says": [*_says(found, asked)]}


def _tile(asked: Asked, kept: Path, *, simulated: bool) -> Tile | None:
    """The repeat that is looked for: the job's picture of it, or the one that was kept of a tapped motif."""
    face = face_of(asked.job.cloth)
    # A sign that is drawn where no picture is kept is no print, but the simulated cloth truly wears it.
    if face.shapes is None or simulated:
        return Tile.of_picture(face.pixels, asked.carried.lattice)
    try:
        return Tile(np.load(kept, allow_pickle=False), asked.carried.lattice)
    except (OSError, ValueError, EOFError):
        return None


def _says(found: Laid, asked: Asked) -> Iterator[str]:
    count = len(found.compared.alike)
    yield f"The print was seen at {count} places. Lines show where its rows and columns were found."
    if found.row_open:
        half = format_length(asked.carried.lattice.along_in / 2, asked.job.unit.value)
        yield (
            "One row looks like the next: rows are counted as if the cloth lay within "
            f"{half} of where it was to lie. The light asks whether that is so."
        )


def _small(rgb: NDArray[np.uint8]) -> Image.Image:
    high, wide = rgb.shape[:2]
    share = min(1.0, WIDEST / max(high, wide))
    return Image.fromarray(rgb).resize((max(1, round(wide * share)), max(1, round(high * share))), Image.Resampling.BOX)


def _drawn(small: Image.Image, found: Laid, asked: Asked, share: float) -> Image.Image:
    """Rows and columns of the lit stretch over the photograph, as the print was found."""
    fit, lattice = found.registration.fit, found.registration.fit.lattice
    low, high = asked.lit_from_in, asked.lit_to_in
    picture = small.copy()
    draw = ImageDraw.Draw(picture)

    def path(piece_in: NDArray[np.float64]) -> None:
        line = [tuple(at) for at in (share * found.camera.to_picture(fit.to_table(piece_in))).tolist()]
        draw.line(line, fill=RIM, width=4)
        draw.line(line, fill=LINE, width=2)

    across = np.linspace(0, lattice.width_in, STEPS)
    rows = lattice.rows_between(low, high, 0)
    for along in lattice.places([(row, 0) for row in rows])[:, 0] if rows else ():
        path(np.column_stack([np.full(STEPS, along), across]))
    for column in lattice.places([(0, number) for number in range(lattice.columns)])[:, 1]:
        path(np.column_stack([np.linspace(low, high, STEPS), np.full(STEPS, column)]))
    _points(draw, share * found.camera.to_picture(np.array([p.table_in for p in found.registration.points])))
    return picture


def _points(draw: ImageDraw.ImageDraw, places: Sequence[Sequence[float]] | NDArray[np.float64]) -> None:
    for x, y in np.asarray(places).tolist():
        draw.ellipse((x - POINT_PX, y - POINT_PX, x + POINT_PX, y + POINT_PX), outline=RIM, fill=LINE)
