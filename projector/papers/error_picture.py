"""A picture of how far off the light can be: the lit area, the marks, and contours of the expected error."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from calibration import homography
from calibration.advice import MarkAdvice
from calibration.marks import Mark
from calibration.table import Table, frame_grid
from calibration.uncertainty import Uncertainty
from projector.papers.drawing import INK, PAPER, QUIET, WARNING, Anchor, Drawing, Path, Point, Shape, Words
from projector.words.measures import format_error

Array = NDArray[np.float64]
Line = tuple[Point, ...]

_EDGES = ((0, 1), (1, 2), (2, 3), (3, 0))


def contour(heights: Array, level: float) -> tuple[Line, ...]:
    """Lines along which ``heights`` (rows, columns) equals ``level``, as (column, row) grid places.

    Cells with a corner that is not finite are left out. Method: W. Lorensen and H. Cline, "Marching cubes", Computer
    Graphics 21 (1987), in the plane; a saddle is settled by the mean of its corners.
    """
    ends: dict[tuple[int, ...], list[tuple[int, ...]]] = {}
    places: dict[tuple[int, ...], Point] = {}
    for row in range(heights.shape[0] - 1):
        for column in range(heights.shape[1] - 1):
            for first, second in _cell(heights, level, row, column, places):
                ends.setdefault(first, []).append(second)
                ends.setdefault(second, []).append(first)
    return tuple(tuple(places[key] for key in chain) for chain in _chains(ends))


def above(heights: Array, level: float) -> tuple[Line, ...]:
    """Polygons, as (column, row) grid places, that cover where ``heights`` is at least ``level``; no two overlap."""
    found: list[Line] = []
    for row in range(heights.shape[0] - 1):
        full: list[int] = []
        for column in range(heights.shape[1] - 1):
            corners = _corners(row, column)
            values = [float(heights[y, x]) for x, y in corners]
            if np.isfinite(values).all() and min(values) >= level:
                full.append(column)
                continue
            found += _whole_cells(full, row)
            full = []
            if np.isfinite(values).all() and max(values) >= level:
                found.append(_part(corners, values, level))
        found += _whole_cells(full, row)
    return tuple(found)


def _corners(row: int, column: int) -> tuple[tuple[int, int], ...]:
    return ((column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1))


def _cell(
    heights: Array, level: float, row: int, column: int, places: dict[tuple[int, ...], Point]
) -> list[tuple[tuple[int, ...], tuple[int, ...]]]:
    """The one or two pieces of the contour in a cell, as pairs of grid edges; notes where each edge is crossed."""
    corners = _corners(row, column)
    values = [float(heights[y, x]) for x, y in corners]
    if not np.isfinite(values).all():
        return []
    crossed = []
    for a, b in _EDGES:
        if (values[a] >= level) != (values[b] >= level):
            low, high = sorted((corners[a], corners[b]))
            key = (*low, *high)
            places[key] = _between(corners[a], corners[b], values[a], values[b], level)
            crossed.append(key)
    if len(crossed) == 4 and (sum(values) / 4 >= level) == (values[0] >= level):
        return [(crossed[0], crossed[1]), (crossed[2], crossed[3])]
    if len(crossed) == 4:
        return [(crossed[3], crossed[0]), (crossed[1], crossed[2])]
    return [(crossed[0], crossed[1])] if crossed else []


def _between(a: tuple[int, int], b: tuple[int, int], at_a: float, at_b: float, level: float) -> Point:
    share = (level - at_a) / (at_b - at_a)
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _part(corners: tuple[tuple[int, int], ...], values: list[float], level: float) -> Line:
    """The part of one cell above the level."""
    points: list[Point] = []
    for a, b in _EDGES:
        if values[a] >= level:
            points.append((float(corners[a][0]), float(corners[a][1])))
        if (values[a] >= level) != (values[b] >= level):
            points.append(_between(corners[a], corners[b], values[a], values[b], level))
    return tuple(points)


def _whole_cells(columns: list[int], row: int) -> list[Line]:
    """Whole cells beside each other in one polygon, with a point at every grid place."""
    if not columns:
        return []
    across = range(columns[0], columns[-1] + 2)
    return [(*((float(x), float(row)) for x in across), *((float(x), float(row + 1)) for x in reversed(across)))]


def _chains(ends: dict[tuple[int, ...], list[tuple[int, ...]]]) -> list[list[tuple[int, ...]]]:
    """Pieces joined end to end, open lines first so that each is followed from one of its ends."""
    left = {key: list(others) for key, others in ends.items()}
    chains = []
    for start in sorted(left, key=lambda key: (len(left[key]) != 1, key)):
        while left[start]:
            chain = [start]
            while left[chain[-1]]:
                following = left[chain[-1]].pop()
                left[following].remove(chain[-1])
                chain.append(following)
            chains.append(chain)
    return chains


LEVELS_IN = (1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1.0)
TINTS = ("#e3efe6", "#cfe4dd", "#bcd7d9", "#f0dfae", "#ebc38d", "#e2a27a", "#d68072", "#c86470")
"""The ground below the first level, then above each; warm from 1/16 in on."""
COLUMNS, ROWS = 49, 29
WIDTH, DEPTH = 10.0, 7.2
LEFT, UPPER, LOWER = 0.9, 1.25, 1.3
LETTERS = 0.13


def error_picture(
    table: Table, checks: Sequence[Mark] = (), advice: MarkAdvice | None = None, unit: str = "in"
) -> Drawing:
    """The sheet: person at the lower edge, inches along both sides, bands of the 95 % error with labelled contours."""
    sheet = _Sheet(table)
    made = Uncertainty(table)
    heights = sheet.heights(made)
    worst = float(np.nanmax(heights))
    shapes: list[Shape] = []
    for tint, level in zip(TINTS, (0.0, *LEVELS_IN), strict=True):
        shapes += [
            Path(sheet.points(part), stroke=tint, width=0.012, fill=tint, closed=True) for part in above(heights, level)
        ]
    outline = tuple(sheet.at(point) for point in table.lit_area())
    shapes.append(Path(outline, stroke=INK, width=0.02, closed=True))
    taken: list[Point] = []
    for level in LEVELS_IN:
        for line in contour(heights, level):
            placed = sheet.points(line)
            shapes.append(Path(placed, stroke=INK, width=0.012 if level < 1 / 16 else 0.024))
            shapes += _level_words(placed, format_error(level, unit), taken)
    shapes += sheet.rulers(unit)
    shapes += _marks(sheet, table, checks, advice)
    shapes += _legend(table, worst, advice, bool(checks), unit)
    return Drawing(WIDTH, DEPTH, tuple(shapes), PAPER, "Expected error of the light")


class _Sheet:
    """Where table inches, and places on the grid of the frame, lie on the sheet."""

    def __init__(self, table: Table) -> None:
        self.table = table
        area = table.lit_area()
        self.low, high = area.min(axis=0), area.max(axis=0)
        size = high - self.low
        self.scale = float(min((WIDTH - LEFT - 0.4) / size[0], (DEPTH - UPPER - LOWER) / size[1]))
        self.left = LEFT + (WIDTH - LEFT - 0.4 - self.scale * float(size[0])) / 2
        self.foot = UPPER + self.scale * float(size[1])
        self.high = high

    def at(self, place_in: Sequence[float]) -> Point:
        x, y = place_in
        return (
            self.left + self.scale * (float(x) - float(self.low[0])),
            self.foot - self.scale * (float(y) - float(self.low[1])),
        )

    def heights(self, made: Uncertainty) -> Array:
        """The 95 % error (ROWS, COLUMNS) on a grid of the frame; not a number past the lit area."""
        table = self.table
        pixels = frame_grid(table.width_px, table.height_px, COLUMNS, ROWS)
        ideal = table.ideal(pixels)
        back = homography.inverse(table.matrix) * table.side
        lit = homography.denominators(back, ideal) > table.flattest
        errors = np.full(len(pixels), np.nan)
        errors[lit] = made.error_in(homography.apply(back, ideal[lit]))
        return errors.reshape(ROWS, COLUMNS)

    def points(self, line: Line) -> tuple[Point, ...]:
        """A line of grid places (column, row) on the sheet."""
        steps = np.array([self.table.width_px / (COLUMNS - 1), self.table.height_px / (ROWS - 1)])
        return tuple(self.at(place) for place in self.table.to_table(np.array(line) * steps))

    def rulers(self, unit: str) -> list[Shape]:
        """Inches (or the unit) along the near and the left side."""
        per = 1.0 if unit == "in" else 1 / 2.54
        shapes: list[Shape] = []
        for axis in (0, 1):
            low, high = float(self.low[axis]) / per, float(self.high[axis]) / per
            step = _step(high - low)
            for number in range(math.ceil(low / step), math.floor(high / step) + 1):
                value = number * step
                x, y = (
                    self.at((value * per, float(self.low[1])))
                    if axis == 0
                    else self.at((float(self.low[0]), value * per))
                )
                if axis == 0:
                    shapes.append(Path(((x, self.foot + 0.05), (x, self.foot + 0.12)), stroke=QUIET, width=0.012))
                    shapes.append(Words(f"{value:g}", (x, self.foot + 0.24), LETTERS, QUIET, Anchor.MIDDLE))
                else:
                    shapes.append(Path(((self.left - 0.12, y), (self.left - 0.05, y)), stroke=QUIET, width=0.012))
                    shapes.append(Words(f"{value:g}", (self.left - 0.18, y), LETTERS, QUIET, Anchor.END))
        return shapes


def _step(span: float) -> float:
    """A round step that gives five to a dozen figures."""
    for step in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000):
        if span / step <= 12:
            return float(step)
    return float(10 ** math.ceil(math.log10(span / 10)))


def _level_words(line: tuple[Point, ...], text: str, taken: list[Point]) -> list[Shape]:
    """The level on a patch of paper on its line, away from labels that stand already."""
    order = sorted(range(len(line)), key=lambda i: abs(i - len(line) // 2))
    for i in order:
        if len(line) > 3 and all(math.dist(line[i], other) > 0.9 for other in taken):
            taken.append(line[i])
            x, y = line[i]
            label = Words(text, (x, y), LETTERS, INK, Anchor.MIDDLE)
            half = label.length / 2 + 0.05
            patch = ((x - half, y - 0.11), (x + half, y - 0.11), (x + half, y + 0.11), (x - half, y + 0.11))
            return [Path(patch, fill=PAPER, closed=True), label]
    return []


def _cross(at: Point, arm: float, colour: str, turned: bool = False) -> list[Shape]:
    x, y = at
    ways = ((1.0, 1.0), (1.0, -1.0)) if turned else ((1.0, 0.0), (0.0, 1.0))
    return [Path(((x - arm * a, y - arm * b), (x + arm * a, y + arm * b)), stroke=colour, width=0.035) for a, b in ways]


def _marks(sheet: _Sheet, table: Table, checks: Sequence[Mark], advice: MarkAdvice | None) -> list[Shape]:
    """Marks as crosses with their numbers, check marks turned, the advised one in a ring."""
    shapes: list[Shape] = []
    for number, mark in enumerate(table.marks, 1):
        x, y = sheet.at(mark.table)
        shapes += _cross((x, y), 0.11, INK)
        shapes.append(Words(str(number), (x + 0.15, y - 0.14), LETTERS, INK))
    for number, mark in enumerate(checks, 1):
        x, y = sheet.at(mark.table)
        shapes += _cross((x, y), 0.08, WARNING, turned=True)
        shapes.append(Words(f"check {number}", (x + 0.15, y - 0.14), LETTERS, WARNING))
    if advice is not None:
        shapes += _ring(sheet.at(advice.at_in))
    return shapes


def _ring(at: Point, radius: float = 0.14) -> list[Shape]:
    turns = [k * math.tau / 24 for k in range(24)]
    ring = tuple((at[0] + radius * math.cos(a), at[1] + radius * math.sin(a)) for a in turns)
    return [Path(ring, stroke=WARNING, width=0.03, closed=True), *_cross(at, 0.05, WARNING)]


def _legend(table: Table, worst_in: float, advice: MarkAdvice | None, checks: bool, unit: str) -> list[Shape]:
    title = f"Each place is met within {format_error(worst_in, unit)} or less (95 of 100 calibrations)"
    photographs = table.photographed.photographs if table.photographed else 0
    of = f"{photographs} photographs" if photographs else f"{len(table.marks)} marks"
    made = f"{of}{f', calibrated {table.date}' if table.date else ''}; you stand at the lower edge"
    shapes: list[Shape] = [
        Words(title, (LEFT - 0.5, 0.42), 0.17, INK),
        Words(made, (LEFT - 0.5, 0.76), LETTERS, QUIET),
    ]
    cross = "cross: a corner of the lit pattern" if photographs else "cross: mark"
    rows = [cross + ("    turned cross: check mark" if checks else "")]
    if advice is not None:
        before, after = format_error(advice.before_in, unit), format_error(advice.after_in, unit)
        rows.append(f"ring: one more mark here brings {before} down to {after}")
    rows.append("warm colours: more than 1/16 in" if unit == "in" else "warm colours: more than 1.6 mm")
    for number, text in enumerate(rows):
        shapes.append(Words(text, (LEFT - 0.5, DEPTH - 0.75 + 0.25 * number), LETTERS, INK))
    return shapes
