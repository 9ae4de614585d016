"""Words laid out in light: where on the table they may stand, how large they fit there, and as which marks."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from calibration.homography import clip_half_plane
from calibration.marks import tables_of
from calibration.table import Table
from jobs.model.records import dataclass
from projector.light.letters import text_width as set_width
from projector.scene.boxes import Box, around
from projector.scene.lettering import text_width, wrapped
from projector.scene.marks import Kind, Mark, Point, Scene, Stroke, Text

Array = NDArray[np.float64]

Lines = tuple[tuple[str, float], ...]
"""Lines of words, each with its size against the usual one."""

EDGE_SHARE = 0.03
"""Words keep off the edge by this share of the way to the middle."""
GRID = (29, 17)
"""How many middles are tried along and across."""
CALM_GRID = (15, 43)
"""The same where words are to stand between motifs, whose rows are narrow."""
CALM_IN = 0.5
"""The least letters between motifs: 12.7 mm is 22 minutes of arc at two metres (NUREG-0700 asks for 15 to 20)."""
PITCH = 1.75
"""From baseline to baseline, in cap heights: room for tails below and accents above."""
MARGIN = 1.0
"""Dark kept around words, in cap heights."""
COLUMN_GAP = 2.0
TALLEST_IN = 2.5
NOTE_IN = 1.0
LEAST_IN = 0.3
WRAPS = (200.0, 60.0, 48.0, 38.0, 30.0, 24.0)
"""Line widths tried, in cap heights."""

CACHED = 32
"""Layouts cached: a page of words stays while a key changes something else."""

PARTED = 0.3
"""Extra dark between one line of words and the next, in cap heights, where long ones are wrapped."""

Rows = Sequence[tuple[str, float, float]]
"""Lines as laid: words, size against the usual one, extra dark above in cap heights."""


def words_area(table: Table) -> tuple[Point, ...]:
    """The convex part of the table plane, inches, between the marks and inside the light, drawn in a little.

    Light may fall beside the table; the marks stand on it. Without marks: all of the lit area.
    """
    outline = table.lit_area()
    around = _hull(tables_of(table.marks))
    between = outline
    for start, end in zip(around, np.roll(around, -1, axis=0), strict=True):
        # Left of each edge, going counter-clockwise: n . (p - start) >= 0 with n = (-dy, dx).
        normal = np.array([start[1] - end[1], end[0] - start[0]])
        between = clip_half_plane(between, np.array([*normal, -normal @ start]))
    area = between if len(between) >= 3 else outline
    inside = area.mean(axis=0) + (1 - EDGE_SHARE) * (area - area.mean(axis=0))
    return tuple((float(x), float(y)) for x, y in inside)


def _hull(points: Array) -> Array:
    """Corners (M, 2) of the convex hull of ``points`` (N, 2), counter-clockwise; none of fewer than three.

    Method: A. M. Andrew, Information Processing Letters 9 (1979), monotone chain.
    """
    ordered = sorted({(float(x), float(y)) for x, y in points})
    if len(ordered) < 3:
        return np.zeros((0, 2))
    return np.array(_chain(ordered)[:-1] + _chain(ordered[::-1])[:-1])


def _chain(points: list[Point]) -> list[Point]:
    chain: list[Point] = []
    for x, y in points:
        while len(chain) >= 2:
            (ax, ay), (bx, by) = chain[-2:]
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                break
            chain.pop()
        chain.append((x, y))
    return chain


def is_inside(place: Point, area: Sequence[Point]) -> bool:
    """Whether a place lies in a convex area, its corners in either order."""
    x, y = place
    edges = zip(area, (*area[1:], area[0]), strict=True)
    sides = [(x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) for (x0, y0), (x1, y1) in edges]
    return min(sides) >= 0 or max(sides) <= 0


@dataclass(frozen=True)
class Beside:
    """Boxes that the upper part of a block keeps clear of, ``depth`` deep, with ``below`` under it that need not."""

    boxes: tuple[Box, ...]
    width: float
    depth: float
    below: float


def largest_box(
    width: float,
    depth: float,
    area: Sequence[Point],
    clear_of: Sequence[Box] = (),
    most: float = math.inf,
    *,
    beside: Beside | None = None,
) -> tuple[Box, float] | None:
    """The largest box of proportions ``width`` to ``depth`` inside the convex ``area`` and clear of the boxes.

    Returns the box in table inches and its size against (width, depth), at most ``most``; None when nothing fits.
    Of equally large ones the one nearest the middle of the area is taken.
    """
    xs, ys = [x for x, _ in area], [y for _, y in area]
    grid = CALM_GRID if beside is not None else GRID
    x, y = (steps.ravel() for steps in np.meshgrid(_steps(xs, grid[0]), _steps(ys, grid[1]), indexing="ij"))
    size = np.minimum(_size_in(area, x, y, width, depth), most)
    if clear_of:
        size = np.minimum(size, _size_beside(clear_of, x, y, width, depth))
    if beside is not None:
        size = np.minimum(size, _size_beside(beside.boxes, x, y, beside.width, beside.depth, beside.below))
    best = float(size.max())
    if not best > 0:
        return None
    away = np.hypot(x - (min(xs) + max(xs)) / 2, y - (min(ys) + max(ys)) / 2)
    # Of places as far from the middle, the last: farthest to the right, then farthest from the person.
    at = np.lexsort((y, x, -away, size))[-1]
    return around((float(x[at]), float(y[at])), width * best, depth * best), best


def _steps(along: Sequence[float], count: int) -> Array:
    low, high = min(along), max(along)
    return low + (high - low) * (np.arange(count) + 0.5) / count


def _size_in(area: Sequence[Point], x: Array, y: Array, width: float, depth: float) -> Array:
    """How large a box centred at each (x, y) can be inside the convex area.

    Each of its sides n.p <= c allows (c - n.p) / (|nx| w/2 + |ny| d/2).
    """
    edges = np.array(_inward_edges(area))
    nx, ny, reach = edges.T[:, :, None]
    return np.asarray(((reach - nx * x - ny * y) / (np.abs(nx) * width / 2 + np.abs(ny) * depth / 2)).min(axis=0))


def _size_beside(boxes: Sequence[Box], x: Array, y: Array, width: float, depth: float, below: float = 0.0) -> Array:
    """How large a box can be before it touches one of ``boxes``, clear along either axis.

    With ``below`` under it, as a part of its size, it is centred at each (x, y).
    """
    left, near, right, far = np.array([(box.left, box.near, box.right, box.far) for box in boxes]).T[:, :, None]
    along = np.maximum(np.maximum(left - x, x - right), 0.0)
    # Its upper side lies (depth + below) / 2 beyond the middle, its lower side (depth - below) / 2 before it.
    under = np.maximum(near - y, 0.0) / ((depth + below) / 2)
    over = np.maximum(y - far, 0.0) / (max(depth - below, 1e-9) / 2)
    return np.asarray(np.maximum(along / (width / 2), np.maximum(under, over)).min(axis=0))


def _inward_edges(area: Sequence[Point]) -> list[tuple[float, float, float]]:
    """Lines (nx, ny, c) with nx x + ny y <= c inside, of a convex polygon in either order."""
    twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(area, [*area[1:], area[0]], strict=True))
    sign = 1.0 if twice > 0 else -1.0
    edges = []
    for (x0, y0), (x1, y1) in zip(area, [*area[1:], area[0]], strict=True):
        nx, ny = sign * (y1 - y0), -sign * (x1 - x0)
        if nx or ny:
            edges.append((nx, ny, nx * x0 + ny * y0))
    return edges


def words(
    lines: Lines,
    area: Sequence[Point],
    clear_of: Sequence[Box] = (),
    tallest_in: float = TALLEST_IN,
    *,
    below: float = 0.0,
    motifs: Sequence[Box] = (),
) -> Scene:
    """Lines of words as large as the lit area allows, one below the other, middles aligned.

    ``below`` them so many cap heights are clear as well. Beside the ``motifs`` they may be smaller, as long as they can
    be read from two metres: a letter that runs from ground onto a motif is hard to read at any size.
    """
    laid = _largest(lines, area, clear_of, tallest_in, below=below, motifs=motifs)
    return Scene() if laid is None else Scene(_texts(*laid))


def framed(lines: Lines, area: Sequence[Point], clear_of: Sequence[Box] = (), tallest_in: float = TALLEST_IN) -> Scene:
    """The same in a double frame: a look nothing else at the table has, kept for questions."""
    laid = _largest(lines, area, clear_of, tallest_in)
    if laid is None:
        return Scene()
    _, box, height = laid
    frames = tuple(_outline(box.grown(-height * inset)) for inset in (0.1, 0.35))
    return Scene((*frames, *_texts(*laid)))


def above_a_picture(
    lines: Lines, area: Sequence[Point], picture: float, tallest_in: float = TALLEST_IN
) -> tuple[Scene, Box] | None:
    """Words as large as the lit area allows, with room ``picture`` cap heights deep left dark below them."""
    laid = _largest(lines, area, (), tallest_in, below=picture)
    if laid is None:
        return None
    rows, box, height = laid
    room = Box(box.left, box.near, box.right, box.near + picture * height).grown(-MARGIN * height)
    return Scene(_texts(rows, box, height)), room


def columns(pairs: Sequence[tuple[str, str]], foot: str, area: Sequence[Point], title: str) -> Scene:
    """Pairs of words in two columns, each flush left, a title above and a paragraph below."""
    left = max(text_width(key, 1.0) for key, _ in pairs) + COLUMN_GAP
    wide = left + max(text_width(what, 1.0) for _, what in pairs)
    below = wrapped(foot, 1.0, wide)
    lines = len(pairs) + len(below) + 3
    fit = largest_box(wide + 2 * MARGIN, lines * PITCH + 2 * MARGIN, area, most=TALLEST_IN)
    if fit is None:
        return Scene()
    box, h = fit
    start, y = box.left + MARGIN * h, box.far - (MARGIN + PITCH) * h
    marks: list[Mark] = [flush_left(title, start, y, 1.5 * h)]
    y -= 2 * PITCH * h
    for key, what in pairs:
        marks += [flush_left(key, start, y, h), flush_left(what, start + left * h, y, h)]
        y -= PITCH * h
    y -= PITCH * h / 2
    for line in below:
        marks.append(flush_left(line, start, y, h))
        y -= PITCH * h
    return Scene(tuple(marks))


def flush_left(text: str, left: float, y: float, height: float) -> Text:
    """A line of letters that begins at ``left``."""
    return Text(Kind.LETTER, text, (left + set_width(text) * height / 2, y), height)


def note(text: str, area: Sequence[Point], cloth: Box, clear_of: Sequence[Box]) -> Scene:
    """One line of words beside the cloth where there is room, else on it clear of other words."""
    lines: Lines = ((text, 1.0),)
    for keep in ((cloth, *clear_of), clear_of):
        laid = _largest(lines, area, keep, NOTE_IN, WRAPS[:1])
        if laid is not None and laid[2] >= LEAST_IN:
            return Scene(_texts(*laid))
    return Scene()


def _largest(
    lines: Lines,
    area: Sequence[Point],
    clear_of: Sequence[Box],
    tallest_in: float,
    wraps: tuple[float, ...] = WRAPS,
    below: float = 0.0,
    motifs: Sequence[Box] = (),
) -> tuple[Rows, Box, float] | None:
    """The wrapping, box and cap height (inches) that make the letters largest; ``below`` them so much stays dark."""
    given = (lines, tuple(area), tuple(clear_of), tallest_in, wraps, below)
    if motifs:
        calm = _largest_of(*given, tuple(motifs))
        if calm is not None and calm[2] * min(size for _, size in lines) >= CALM_IN:
            return calm
    return _largest_of(*given)


@lru_cache(maxsize=CACHED)
def _largest_of(
    lines: Lines,
    area: tuple[Point, ...],
    clear_of: tuple[Box, ...],
    tallest_in: float,
    wraps: tuple[float, ...],
    below: float,
    motifs: tuple[Box, ...] = (),
) -> tuple[Rows, Box, float] | None:
    best: tuple[Rows, Box, float] | None = None
    for widest in wraps:
        rows = tuple(
            (part, size, PARTED if i == 0 else 0.0)
            for text, size in lines
            for i, part in enumerate(wrapped(text, size, widest))
        )
        wide = max(text_width(text, size) for text, size, _ in rows)
        tall = sum(size * PITCH + above for _, size, above in rows)
        beside = Beside(motifs, wide, tall, below) if motifs else None
        fit = largest_box(wide + 2 * MARGIN, tall + below + 2 * MARGIN, area, clear_of, most=tallest_in, beside=beside)
        if fit is not None and (best is None or fit[1] > best[2] * 1.001):
            best = (rows, *fit)
        if best is not None and best[2] >= tallest_in:
            break
    return best


def _texts(rows: Rows, box: Box, height: float) -> tuple[Mark, ...]:
    top = box.far - MARGIN * height
    marks: list[Mark] = []
    for text, size, above in rows:
        top -= above * height
        step = size * PITCH * height
        marks.append(Text(Kind.LETTER, text, (box.middle[0], top - step / 2), size * height))
        top -= step
    return tuple(marks)


def _outline(box: Box) -> Stroke:
    return Stroke(Kind.GUIDE, (*box.corners, box.corners[0]))
