"""Where photographs of the lit table were taken, and where to stand for the next one: the table seen from above."""

from __future__ import annotations

import math

import numpy as np

from calibration.photographs.progress import Progress, Stood
from calibration.photographs.standing import SIDES
from projector.papers.drawing import INK, PAPER, QUIET, Anchor, Drawing, Path, Point, Shape, Words

WIDTH, DEPTH, EDGE, FOOT = 6.0, 4.2, 0.45, 0.4
HEAD, SHOULDER = 0.13, 0.3
NEXT = "#0d5c57"
LIT = "#e3efec"
ROOM_IN = 14.0
"""So far beyond the light somebody stands at least."""


def standing_picture(come: Progress, upright: bool) -> Drawing:
    """People around the light, numbered as they were there; the next one in green, told how to hold the camera.

    Whoever stands at the near edge stands at the lower edge.
    """
    middle = come.area_in.mean(axis=0)
    angle = come.side * math.tau / SIDES
    far = [math.dist(one.at_in, middle) for one in come.stood]
    out = max(_edge_in(come.area_in - middle, angle) + ROOM_IN, float(np.median(far)) if far else 0.0)
    following = middle + out * np.array([math.cos(angle), math.sin(angle)])
    wide, deep = np.abs(np.array([*come.area_in, *(one.at_in for one in come.stood), following]) - middle).max(axis=0)
    scale = min((WIDTH / 2 - EDGE) / float(wide), (DEPTH / 2 - EDGE) / float(deep))

    def at(x: float, y: float) -> Point:
        return WIDTH / 2 + scale * (x - float(middle[0])), DEPTH / 2 - scale * (y - float(middle[1]))

    area = tuple(at(x, y) for x, y in come.area_in.tolist())
    shapes: list[Shape] = [Path(area, stroke=QUIET, width=0.02, fill=LIT, closed=True)]
    shapes += [Words("the light", at(*middle.tolist()), 0.15, QUIET, Anchor.MIDDLE)]
    for number, one in enumerate(come.stood, 1):
        shapes += _person(at(*one.at_in), _towards(one, middle.tolist()), str(number), INK)
    if not come.is_enough:
        x, y = following.tolist()
        shapes += _person(at(x, y), (-math.cos(angle), math.sin(angle)), "", NEXT)
        shapes += _arrow(at(x, y), (-math.cos(angle), math.sin(angle)))
        held = f"next (green): hold it {'high' if come.high else 'low'}, {'upright' if upright else 'across'}"
        shapes.append(Words(held, (WIDTH / 2, DEPTH + FOOT / 2 - 0.08), 0.17, NEXT, Anchor.MIDDLE))
    return Drawing(WIDTH, DEPTH + FOOT, tuple(shapes), PAPER, "Where to stand")


def _edge_in(area: np.ndarray, angle: float) -> float:
    """How far the light reaches from its middle in this direction."""
    return float((area @ (math.cos(angle), math.sin(angle))).max())


def _towards(one: Stood, middle: list[float]) -> Point:
    """Which way somebody looks, on the sheet."""
    x, y = middle[0] - one.at_in[0], middle[1] - one.at_in[1]
    far = math.hypot(x, y) or 1.0
    return x / far, -y / far


def _ring(at: Point, along: Point, size: Point) -> tuple[Point, ...]:
    """An ellipse, ``size`` is its half axes across and along the way it faces."""
    turns = [k * math.tau / 28 for k in range(28)]
    (x, y), (a, b) = at, along
    return tuple(
        (
            x + size[0] * math.cos(t) * -b + size[1] * math.sin(t) * a,
            y + size[0] * math.cos(t) * a + size[1] * math.sin(t) * b,
        )
        for t in turns
    )


def _person(at: Point, towards: Point, number: str, colour: str) -> list[Shape]:
    """Head and shoulders from above."""
    shapes: list[Shape] = [
        Path(_ring(at, towards, (SHOULDER, 0.12)), stroke=colour, width=0.02, fill=PAPER, closed=True),
        Path(_ring(at, towards, (HEAD, HEAD)), stroke=colour, width=0.02, fill=colour, closed=True),
    ]
    return [*shapes, Words(number, at, 0.13, PAPER, Anchor.MIDDLE)] if number else shapes


def _arrow(at: Point, towards: Point) -> list[Shape]:
    (x, y), (a, b) = at, towards
    tip, start = (x + 0.62 * a, y + 0.62 * b), (x + 0.2 * a, y + 0.2 * b)
    left = (tip[0] - 0.14 * a - 0.09 * b, tip[1] - 0.14 * b + 0.09 * a)
    right = (tip[0] - 0.14 * a + 0.09 * b, tip[1] - 0.14 * b - 0.09 * a)
    return [Path((start, tip), stroke=NEXT, width=0.04), Path((left, tip, right), stroke=NEXT, width=0.04)]
