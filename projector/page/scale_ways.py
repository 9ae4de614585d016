"""The ways of telling how large a photograph is: what is clicked, what is typed, and what the measuring is told."""

from __future__ import annotations

import math
from collections.abc import Sequence

from jobs.model.choices import Unit
from jobs.model.lengths import LengthError, parse_length
from jobs.model.records import dataclass
from projector.words.wording import sentence

Place = tuple[float, float]


class Amiss(Exception):  # noqa: N818 - says what is not there yet
    """Something is not clicked or typed yet, or not as it must be; the words say what to do."""


@dataclass(frozen=True)
class Way:
    """So many ``clicks`` in the picture, or none where they ``may_skip``; and a length for each of ``asks``."""

    word: str
    label: str
    advice: str
    clicks: int
    asks: tuple[str, ...]
    may_skip: bool = False


RULER = Way(
    "ruler",
    "a ruler",
    "Click two points on a ruler that lies on the cloth, as far apart as you can, and type how far apart they are.",
    2,
    ("They are apart by",),
)
WIDTH = Way(
    "width",
    "the whole width",
    "The picture shows the cloth from selvedge to selvedge. The edges are found; click both only where they are not.",
    2,
    ("Cloth width",),
    may_skip=True,
)
CORNERS = Way(
    "corners",
    "a rectangle",
    "Click the four corners of a rectangle on the cloth, such as a sheet of paper. A slant of the camera is taken out.",
    4,
    ("It is wide", "and high"),
)
TAPE = Way(
    "tape",
    "a tape",
    "Click two points on that edge of a tape at which its ticks stand, and type how far it is from tick to tick.",
    2,
    ("From tick to tick",),
)
WAYS = (RULER, WIDTH, CORNERS, TAPE)


def words_for(way: Way, places: Sequence[Place], typed: Sequence[str], unit: Unit) -> tuple[str, ...]:
    """The words of the command for places in pixels of the file and lengths as typed. Raises Amiss."""
    lengths = [_length(ask, said, unit) for ask, said in zip(way.asks, typed, strict=True)]
    if len(places) != way.clicks and not (way.may_skip and not places):
        more = way.clicks - len(places)
        raise Amiss(f"Click {more} more {'place' if more == 1 else 'places'} in the picture.")
    if len(set(places)) < len(places):
        raise Amiss("Two of the places are one: click places that lie apart.")
    clicked = [f"{x:.2f},{y:.2f}" for x, y in places]
    if way is RULER:
        return ("--points", *clicked, "--distance", lengths[0])
    if way is TAPE:
        return ("--tape", *clicked, "--tick", lengths[0])
    if way is CORNERS:
        return ("--corners", *clicked, "--size", f"{lengths[0]} x {lengths[1]}")
    sides = sorted(x for x, _ in places)
    return ("--cloth-width", lengths[0], *(("--selvedges", *(f"{x:.2f}" for x in sides)) if sides else ()))


def doubt_of_clicks(way: Way, places_shown: Sequence[Place]) -> float:
    """The share by which the scale may be out since each click is good to half a shown pixel each way.

    Ticks of a tape are counted, so that where it is clicked matters little; edges that are found are not clicked.
    """
    if way is TAPE or len(places_shown) < 2:
        return 0.0
    apart = [math.dist(a, b) for number, a in enumerate(places_shown) for b in places_shown[:number]]
    return 1 / max(1.0, min(apart))


def _length(ask: str, said: str, unit: Unit) -> str:
    if not said.strip():
        raise Amiss(f"Type a length under \u201c{ask}\u201d.")
    try:
        length = parse_length(said, unit)
    except LengthError as refused:
        raise Amiss(f"{ask}: {sentence(refused.problem)}.") from None
    if not length:
        raise Amiss(f"{ask}: a length above zero is needed.")
    return f"{float(length)} in"
