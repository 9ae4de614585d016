"""One photograph of a panel that is cut, laid back under the lit pattern: whether its mates will match it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from calibration.laying.laid_back import LaidBack
from calibration.laying.laying import Photo
from calibration.laying.tile import Tile
from calibration.problems import PhotographRefused
from jobs.model.job import Job
from jobs.planning.mates import meetings_of
from projector.page.work.judging import said
from projector.scene.mates import Higher, Mating, Seam, Verdict, is_last, mating, panel_seen
from projector.scene.mates_said import higher_said, mating_said
from projector.session.cutting.photographed import Asked
from projector.words.edges import lies_said

Json = dict[str, Any]
NO_PRINT = (
    "Nothing is known of how this print looks: show it in pictures of the cloth on the place Print, or lay the cloth "
    "by a photograph first."
)
CUT, WANTED, SEAM, RIM = "#ffd54a", "#6fd3ff", "#ffffff", "#10151d"
STEPS, TEXT_PX = 24, 22


def mated(asked: Asked, photo: Photo, tile: Tile | None, out: tuple[Image.Image, Path]) -> Json:
    """What is to be told of it: ``says``, or ``wrong``; the photograph made small, with ends and seams drawn into it,
    is written to the file beside it."""
    back = asked.back
    assert back is not None
    if tile is None:
        return {"wrong": [NO_PRINT]}
    placed = back.placed
    try:
        whole = replace(tile, lattice=asked.carried.lattice)
        seen = panel_seen(photo, asked.table, placed, whole, asked.job.cloth)
    except PhotographRefused as refused:
        return {"wrong": [*(said(one, asked.job.unit) for one in refused.problems), f"{lies_said(placed.cut)}."]}
    if seen.problems:
        return {"wrong": [*(said(one, asked.job.unit) for one in seen.problems), f"{lies_said(placed.cut)}."]}
    found = mating(asked.job, placed, meetings_of(placed, back.mates), seen, {})
    small, file = out
    _drawn(small, seen, found, asked.job, small.width / photo.rgb.shape[1]).save(file, "JPEG", quality=85)
    first = f"{placed.cut.name}, laid back: the cut as it was made in yellow, as its print has it in blue."
    says = [first, *(f"{line}." for line in mating_said(found, asked.job, back.done))]
    moves = [[seam.meeting.mate.cut.id, _move(seam, asked.job)] for seam in found.seams]
    return {"mated": True, "says": says, "moves": [one for one in moves if one[0] not in back.done]}


def _move(seam: Seam, job: Job) -> int:
    """How many 64ths of an inch further right the light is to lie on the mate."""
    return 0 if seam.verdict(float(job.tolerance)) is Verdict.MATCHES else round(64 * seam.to_right_in)


def _drawn(small: Image.Image, seen: LaidBack, found: Mating, job: Job, share: float) -> Image.Image:
    """The ends of the panel as they were cut and as its print has them, and at each seam how far it misses."""
    picture = small.copy()
    draw = ImageDraw.Draw(picture)
    font = ImageFont.load_default(TEXT_PX)
    width = seen.found.fit.lattice.width_in

    def at(place: tuple[float, float]) -> tuple[float, float]:
        x, y = (share * seen.laid.camera.to_picture(np.array([place])))[0].tolist()
        return x, y

    def line(places: list[tuple[float, float]], colour: str) -> None:
        draw.line([at(one) for one in places], fill=RIM, width=5)
        draw.line([at(one) for one in places], fill=colour, width=2)

    across = np.linspace(0, width, STEPS).tolist()
    for last in (False, True):
        cut = [place for one in across if (place := seen.place(last, one)) is not None]
        if cut:
            line([seen.wanted(last, one) for one in across], WANTED)
            line(cut, CUT)
    for seam in found.seams:
        inside = float(seam.meeting.line - found.placed.cut.parted[0])
        line([seen.wanted(False, inside), seen.wanted(True, inside)], SEAM)
        for end, one in (("top", seam.top), ("foot", seam.foot)):
            if one is not None:
                where = at(seen.wanted(is_last(found.placed.cut, end), inside))
                _label(draw, where, f"{end}: {_figure(one, seam, job)}", font, picture.size)
    return picture


def _figure(one: Higher, seam: Seam, job: Job) -> str:
    return f"{higher_said(one, job)} ({seam.verdict(float(job.tolerance)).value})"


def _label(
    draw: ImageDraw.ImageDraw,
    at: tuple[float, float],
    words: str,
    font: ImageFont.FreeTypeFont | ImageFont.ImageFont,
    size: tuple[int, int],
) -> None:
    """Words beside a place, wholly inside the picture."""
    left, top, right, bottom = draw.textbbox((0, 0), words, font=font)
    wide, high = right - left + 12, bottom - top + 12
    x = min(max(at[0] - wide / 2, 2), size[0] - wide - 2)
    y = min(max(at[1] - high / 2, 2), size[1] - high - 2)
    draw.rectangle((x, y, x + wide, y + high), fill=RIM)
    draw.text((x + 6 - left, y + 6 - top), words, fill=SEAM, font=font)
