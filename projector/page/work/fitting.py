"""Photographs of the lit pattern, already judged, fitted together: how far they have come and what they make."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calibration.homography import OutOfReach
from calibration.photographs.calibrating import calibrate
from calibration.photographs.detecting import Judged
from calibration.photographs.pattern import Pattern
from calibration.photographs.progress import Progress, progress
from calibration.photographs.residuals import Residuals, residuals_of
from calibration.photographs.sighting import Sighting
from calibration.photographs.taping import Taped
from calibration.problems import Code, Problem, Refused
from calibration.table import Table
from calibration.uncertainty import Uncertainty
from jobs.io.log import FileRefused
from jobs.model.choices import Unit
from jobs.prints.photographs.opening import Turn
from projector.files.table_file import SIMULATED, Stored, read_stored, write_stored
from projector.files.write import write_whole
from projector.page.work.judging import said
from projector.papers.residual_picture import over_photograph
from projector.papers.standing_picture import standing_picture
from projector.papers.svg import svg_text

Array = NDArray[np.float64]
Json = dict[str, Any]


def fitted(asked: Path) -> Json:
    """How far a set of photographs has come, and the calibration it makes once there is a tape.

    The file ``asked`` holds ``size``, ``sightings``, ``tape_in``, the ``unit`` it is spoken in, whether the light is
    ``simulated``, and where is written: pictures of what is left over to ``overs``, the calibration to ``out``.
    """
    wanted: Json = json.loads(asked.read_text(encoding="utf-8"))
    pattern = Pattern(*wanted["size"])
    turns = [Turn(*one.pop("turn")) for one in wanted["sightings"]]
    saw = [_sighting(one) for one in wanted["sightings"]]
    tape = tuple(wanted["tape_in"])
    try:
        come = progress(pattern, saw, sum(tape) / len(tape) if tape else None)
    except (OutOfReach, np.linalg.LinAlgError, ArithmeticError):
        return {"wrong": [[None, "These photographs do not go together. Take away the last one, or begin anew."]]}
    told = {**_told(come, saw, turns, wanted["overs"]), "wrong": [], "doubts": [], "error_in": None}
    if come.bundled is None:
        return told
    return {**told, **_made(pattern, saw, tape, wanted)}


def _told(come: Progress, saw: list[Sighting], turns: list[Turn], overs: list[str]) -> Json:
    sizes = [turn.size(one.width_px, one.height_px) for turn, one in zip(turns, saw, strict=True)]
    upright = 2 * sum(wide < high for wide, high in sizes) <= len(sizes)
    left = residuals_of(come.bundled) if come.bundled is not None else []
    for one, turn, out in zip(left, turns, overs, strict=False):
        write_whole(Path(out), _over(one, turn))
    return {
        "open_in": come.open_in,
        "share": come.share,
        "enough": come.is_enough,
        "side": come.side,
        "high": come.high,
        "upright": upright,
        "standing": svg_text(standing_picture(come, upright)),
        "spreads_px": [one.spread_px for one in left],
    }


def _over(one: Residuals, turn: Turn) -> str:
    """The bars of a photograph as they lie over its small picture, which is upright."""
    width, height = turn.size(one.saw.width_px, one.saw.height_px)
    scale = 1 / max(width, height)

    def places(pixels: Array) -> Array:
        x, y = (pixels[:, ::-1] if turn.swapped else pixels).T
        return scale * np.column_stack([width - x if turn.across else x, height - y if turn.down else y])

    return svg_text(over_photograph(one, places, (scale * width, scale * height)))


def _sighting(one: Json) -> Sighting:
    values = {**one, "numbers": np.array(one["numbers"], np.intp), "pixels": np.array(one["pixels"], np.float64)}
    return Sighting(**values)


def _made(pattern: Pattern, saw: list[Sighting], tape: tuple[float, ...], wanted: Json) -> Json:
    """The calibration, written; of one that is refused why, by the number of the photograph where it is one's fault."""
    out, unit = Path(wanted["out"]), Unit(wanted["unit"])
    before = _before(out)
    try:
        made = calibrate(pattern, [Judged(one, ()) for one in saw], Taped(tape or (1.0,)), before)
    except Refused as refused:
        # What is left open yet, and where to stand for it, is told anyway.
        told = [one for one in refused.problems if one.code is not Code.SHAPE_OPEN and (tape or one.path[0] != "tape")]
        return {"wrong": [[_number(one), said(one, unit)] for one in told]}
    if not tape:
        return {}
    display = SIMULATED if wanted["simulated"] else ""
    write_stored(out, Stored(replace(made.table, date=date.today().isoformat()), display=display))
    doubts = [[_number(one), said(one, unit)] for one in made.doubts]
    return {"doubts": doubts, "error_in": Uncertainty(made.table).everywhere_in()}


def _before(path: Path) -> Table | None:
    """The calibration that is there already; None where there is none that can be read."""
    try:
        return read_stored(path).table if path.exists() else None
    except FileRefused:
        return None


def _number(one: Problem) -> int | None:
    which = one.path[1] if len(one.path) > 1 else None
    return which if isinstance(which, int) else None
