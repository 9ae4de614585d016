"""The bench screen: what a person sees on the laptop beside the table, as a drawing and as pixels.

Letters are sized for a screen 11 1/4 in (286 mm) wide, a small laptop's: the cut, its length and what is lit have a cap
height of 0.65 drawing inches or 11.6 mm, 20 minutes of arc at two metres (2 x 2000 mm x tan 10'); a long name is made
smaller to fit. List, checks and keys have 0.26, which is 16 minutes at one metre.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np
from numpy.typing import NDArray

from jobs.model.cuts import Cut, Way
from jobs.model.lengths import show_cut
from jobs.model.plan import Plan
from jobs.planning.stops import edges_said
from projector.papers.drawing import Drawing, Path, Shape, Words
from projector.papers.png import image_of
from projector.scene.labels import name_of
from projector.session.actions import Action
from projector.session.bench.asked import asked_of
from projector.session.bench.parts import list_shapes
from projector.session.cutting.pictures import (
    BAD,
    GOOD,
    INK,
    LIT,
    PAPER,
    QUIET,
    SMALL_IN,
    fitted,
    hung_shapes,
    piece_shapes,
)
from projector.session.cutting.publish import Check, checks_of
from projector.session.cutting.state import Session
from projector.session.cutting.text import pull_text
from projector.session.keys import DEFAULT_KEYS, Keys, spoken
from projector.words.edges import side_word

WIDE_IN = 16.0
MARGIN_IN = 0.4
BIG_IN = 0.65
LEAST_SHAPE, MOST_SHAPE = 0.4, 1.2
"""Height over width of the screens it is laid out for."""


def bench_drawing(
    session: Session,
    plan: Plan,
    checks: Sequence[Check] = (),
    *,
    keys: Keys | None = DEFAULT_KEYS,
    high_in: float = 10.0,
    alert: str = "",
) -> Drawing:
    """The screen as a drawing 16 in wide and ``high_in`` high: numbers of the cut, list, piece, pair, checks, keys.

    Without ``keys`` no line of keys stands at the foot: buttons with their keys are there. ``alert`` takes the place
    of the numbers while it must be seen first.
    """
    room = WIDE_IN - 2 * MARGIN_IN
    foot = high_in - (MARGIN_IN + 1.1 * SMALL_IN if keys is not None else SMALL_IN)
    upper, lower = MARGIN_IN + 3 * 1.6 * BIG_IN, foot - 2.0 * SMALL_IN
    middle = upper + 0.42 * (lower - upper)
    split = MARGIN_IN + 0.52 * room
    right = WIDE_IN - MARGIN_IN
    shapes: list[Shape] = []
    for number, (text, colour) in enumerate(_alert_lines(alert) if alert else _big_lines(session, plan, keys)):
        at = (MARGIN_IN, MARGIN_IN + BIG_IN / 2 + number * 1.6 * BIG_IN)
        shapes.append(fitted(Words(text, at, BIG_IN, colour), room))
    shapes.append(Path(((MARGIN_IN, upper - 0.15), (right, upper - 0.15)), QUIET, 0.02))
    piece = piece_shapes(session, plan, (MARGIN_IN, upper + 0.1, split - 0.3, middle))
    below = max(shape.box[3] for shape in piece if isinstance(shape, Words))
    shapes += piece
    shapes += list_shapes(session, plan, (MARGIN_IN, below + SMALL_IN, split - 0.3, lower))
    shapes += hung_shapes(session, plan, (split, upper + 0.1, right, lower))
    shapes += _check_shapes(checks, foot - SMALL_IN)
    if keys is not None:
        keys_line = Words(_keys_line(keys), (MARGIN_IN, high_in - MARGIN_IN - SMALL_IN / 2), SMALL_IN, QUIET)
        shapes.append(fitted(keys_line, room))
    return Drawing(WIDE_IN, high_in, tuple(shapes), PAPER, title=plan.job.title)


def bench_pixels(
    session: Session,
    plan: Plan,
    checks: Sequence[Check] = (),
    *,
    keys: Keys | None = DEFAULT_KEYS,
    width_px: int,
    height_px: int,
    alert: str = "",
) -> NDArray[np.uint8]:
    """The screen as pixels (height_px, width_px, 3), red, green, blue; a very wide or tall one is dark at its rim."""
    wide = min(width_px, int(height_px / LEAST_SHAPE))
    high = min(height_px, int(wide * MOST_SHAPE))
    drawing = bench_drawing(session, plan, checks, keys=keys, high_in=WIDE_IN * high / wide, alert=alert)
    # Sizes of the image are rounded from drawing inches: one pixel more or less is cut off or left dark.
    picture = np.asarray(image_of(drawing, wide / WIDE_IN))[:height_px, :width_px]
    pixels = np.empty((height_px, width_px, 3), np.uint8)
    pixels[:] = [int(PAPER[i : i + 2], 16) for i in (1, 3, 5)]
    down, along = (height_px - picture.shape[0]) // 2, (width_px - picture.shape[1]) // 2
    pixels[down : down + picture.shape[0], along : along + picture.shape[1]] = picture
    return pixels


def bench_screen(
    session: Session, size_px: tuple[int, int], *, with_keys: bool = True, alert: str = ""
) -> NDArray[np.uint32]:
    """The screen at a size (width, height), packed 0x00RRGGBB; ``alert`` is what must be seen first."""
    width, height = size_px
    keys, checks = session.setup.keys if with_keys else None, checks_of(session, date.today())
    plan = session.setup.plan
    seen = bench_pixels(session, plan, checks, keys=keys, width_px=width, height_px=height, alert=alert)
    red, green, blue = np.moveaxis(seen.astype(np.uint32), -1, 0)
    return np.asarray(red << 16 | green << 8 | blue, np.uint32)


def _alert_lines(alert: str) -> tuple[tuple[str, str], ...]:
    """The sentences of an alert, three at most."""
    parts = [part.rstrip(".") + "." for part in alert.split(". ") if part]
    return tuple((part, BAD) for part in parts[:3])


def _big_lines(session: Session, plan: Plan, keys: Keys | None) -> tuple[tuple[str, str], ...]:
    """Whose cut, how long and which way, and what to do about it: each with its colour."""
    cut, unit = session.placement.cut, plan.job.unit
    row = "" if cut.row is None else f", row at {show_cut(cut.row, unit)}"
    return (
        (name_of(cut), LIT),
        (f"{show_cut(cut.length, unit)}, {_way(cut)}{row}", INK),
        asked_of(session, keys or DEFAULT_KEYS) or _told(session, plan),
    )


def _way(cut: Cut) -> str:
    return f"{'face down, ' if cut.way is Way.FACE_DOWN else ''}TOP {side_word(cut.top_edge)}"


def _told(session: Session, plan: Plan) -> tuple[str, str]:
    if session.cut_is_done:
        return "done already", GOOD
    if not session.is_expected:
        return f"not in turn: {name_of(session.left_to_cut[0].cut)} comes first", BAD
    if to_pull := pull_text(session):
        return to_pull[0], LIT
    pulls = [stop for stop in plan.stops if stop.placement.cut.id == session.placement.cut.id]
    number = 1 + [stop.number for stop in pulls].index(session.stop.number)
    shown = edges_said(session.stop) or "the middle"
    of = f"stop {number} of {len(pulls)}, " if len(pulls) > 1 else ""
    return f"{of}{shown} lit; {len(session.done)} of {len(plan.cuts)} done", INK


def _check_shapes(checks: Sequence[Check], y: float) -> list[Shape]:
    """The checks side by side, each with a word that tells good from doubtful without its colour."""
    shapes: list[Shape] = []
    room = (WIDE_IN - 2 * MARGIN_IN) / max(1, len(checks))
    for number, check in enumerate(checks):
        text = f"{'ok' if check.good else 'LOOK'}: {check.name.lower()} {check.said}"
        words = Words(text, (MARGIN_IN + number * room, y), SMALL_IN, GOOD if check.good else BAD)
        shapes.append(fitted(words, room - 0.3))
    return shapes


def _keys_line(keys: Keys) -> str:
    named = (
        ("next", Action.NEXT_STOP),
        ("back", Action.PREVIOUS_STOP),
        ("cut is done", Action.CUT_DONE),
        ("undo", Action.UNDO),
        ("dark", Action.DARK),
        ("colours", Action.COLOURS),
        ("help", Action.HELP),
        ("leave", Action.LEAVE),
    )
    return "    ".join(f"{spoken(action, keys)}: {what}" for what, action in named)
