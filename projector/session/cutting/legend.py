"""The legend: a sample of each kind of line that the job may light, and what it means."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from jobs.model.job import Job
from projector.scene.boxes import Box
from projector.scene.lettering import text_width
from projector.scene.marks import MATCH_APART_IN, PLUS_HALF_IN, Hatch, Kind, Mark, Point, Scene, Stroke
from projector.scene.piece_marks import zigzag
from projector.scene.print_marks import drawn_lines
from projector.session.layout import MARGIN, PITCH, flush_left, largest_box

TITLE, FOOT = "What the lines mean", "Any key puts this away."
SAMPLE = 8.0
"""Length of a sample, in cap heights of its word."""
GAP = 1.5
TALLEST_IN = 1.6
LINES: tuple[tuple[Kind, str], ...] = (
    (Kind.CUT, "cut here"),
    (Kind.CUT_DOUBTFUL, "cut line that may lie farther off than the job allows"),
    (Kind.TRIM, "trim: square the end, or cut away before sewing"),
    (Kind.FOLD, "fold"),
    (Kind.STIFFENER, "stiffener is laid to this line"),
    (Kind.PIN, "pin or hook"),
    (Kind.MATCH, "match mark: a row meets the seam"),
    (Kind.ROW, "row of the print"),
    (Kind.COLUMN, "column of the print"),
    (Kind.CROSSING, "motif point"),
    (Kind.FLAW, "flaw"),
    (Kind.LEFTOVER, "edge of a leftover"),
    (Kind.DONE, "cut already"),
)


def legend_lines(job: Job) -> tuple[tuple[Kind, str], ...]:
    """The kinds of line that the job may light, each with its words."""
    without: set[Kind] = set()
    if job.cloth.repeat is None:
        without |= {Kind.MATCH, Kind.ROW, Kind.COLUMN, Kind.CROSSING}
    else:
        without |= {Kind.ROW, Kind.COLUMN} - drawn_lines(job.cloth)
    if job.stiffener is None:
        without.add(Kind.STIFFENER)
    if job.pins is None:
        without.add(Kind.PIN)
    return tuple((kind, text) for kind, text in LINES if kind not in without)


def legend_lit(job: Job, area: Sequence[Point]) -> Scene:
    """The page, as large as the lit area allows: title, samples with their words, how it is put away."""
    lines = legend_lines(job)
    wide = SAMPLE + GAP + max(text_width(text, 1.0) for _, text in lines)
    fit = largest_box(wide + 2 * MARGIN, (len(lines) + 3.5) * PITCH + 2 * MARGIN, area, most=TALLEST_IN)
    if fit is None:
        return Scene()
    box, h = fit
    start, y = box.left + MARGIN * h, box.far - (MARGIN + PITCH) * h
    marks: list[Mark] = [flush_left(TITLE, start, y, 1.5 * h)]
    y -= 2 * PITCH * h
    for kind, text in lines:
        marks += _sample(kind, Box(start, y - h / 2, start + SAMPLE * h, y + h / 2))
        marks.append(flush_left(text, start + (SAMPLE + GAP) * h, y, h))
        y -= PITCH * h
    marks.append(flush_left(FOOT, start, y - PITCH * h / 2, h))
    return Scene(tuple(marks))


def _sample(kind: Kind, room: Box) -> tuple[Mark, ...]:
    """What this kind looks like, in a room as deep as a letter is high."""
    shape = _SHAPES.get(kind)
    y = room.middle[1]
    return (Stroke(kind, ((room.left, y), (room.right, y))),) if shape is None else shape(room)


def _flaw(room: Box) -> tuple[Mark, ...]:
    return (Stroke(Kind.FLAW, zigzag(room.grown(-room.depth / 4))),)


def _done(room: Box) -> tuple[Mark, ...]:
    return (Hatch(Kind.DONE, room.corners),)


def _bars(room: Box) -> tuple[Mark, ...]:
    x, half = room.middle[0], MATCH_APART_IN / 2
    return tuple(Stroke(Kind.MATCH, ((at, room.near), (at, room.far))) for at in (x - half, x + half))


def _pin(room: Box) -> tuple[Mark, ...]:
    x = room.middle[0]
    return (Stroke(Kind.PIN, ((x, room.near), (x, room.far))),)


def _plus(room: Box) -> tuple[Mark, ...]:
    x, y = room.middle
    half = min(PLUS_HALF_IN, room.depth / 2)
    return (
        Stroke(Kind.CROSSING, ((x - half, y), (x + half, y))),
        Stroke(Kind.CROSSING, ((x, y - half), (x, y + half))),
    )


_SHAPES: dict[Kind, Callable[[Box], tuple[Mark, ...]]] = {
    Kind.FLAW: _flaw,
    Kind.DONE: _done,
    Kind.MATCH: _bars,
    Kind.PIN: _pin,
    Kind.CROSSING: _plus,
}
"""Kinds that are told by their shape; the others are plain lines."""
