"""One photograph of the lit pattern, judged in the process that opens a stranger's pictures."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

from PIL import Image

from calibration.photographs.pattern import Pattern
from calibration.problems import PhotographRefused
from jobs.model.choices import Unit
from jobs.prints.photographs.opening import open_photo, turn_of
from jobs.prints.photographs.problems import PhotoRefused
from projector.files.lit_photograph import read_photograph
from projector.words.wording import sentence

Json = dict[str, Any]
SMALL_PX = 640 * 480


def judged(photo: Path, small: Path, size: tuple[int, int]) -> Json:
    """What a photograph shows of the pattern of a frame of this size; a small upright picture of it is written.

    ``wrong`` or ``look`` say what is the matter with it; ``sighting`` is what ``fitting`` wants of it.
    """
    try:
        _small(photo, small)
    except PhotoRefused as unread:
        return {"wrong": said(unread.problems[0])}
    try:
        one = read_photograph(photo, Pattern(*size), 0)
    except PhotographRefused as refused:
        return {"wrong": said(refused.problems[0])}
    saw, of = one.sighting, len(Pattern(*size).corners_px)
    told = {**asdict(saw), "numbers": saw.numbers.tolist(), "pixels": saw.pixels.round(3).tolist()}
    return {
        "seen": len(saw.numbers),
        "of": of,
        "look": [said(problem) for problem in one.problems],
        "sighting": told | {"turn": list(asdict(turn_of(photo)).values())},
    }


def _small(photo: Path, out: Path) -> None:
    Image.fromarray(open_photo(photo, SMALL_PX, least_side=1).rgb8).save(out, "JPEG", quality=85)


def said(one: Any, unit: Unit = Unit.INCH) -> str:
    """A problem as a sentence of its own."""
    words = sentence(one, unit)
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."
