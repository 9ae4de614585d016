"""A strip of a piece as it is drawn: ground, cuts in the order they are made, rows, flaws, leftovers, positions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np

from jobs.model.lengths import show_cut
from jobs.plan import Cut, Plan
from projector.papers.cut_shapes import cut_shapes
from projector.papers.drawing import Anchor, Raster, Shape, Words
from projector.papers.inks import INK
from projector.papers.piece_shapes import Scale, flaw_shapes, ground_shapes, leftover_shapes, row_shapes, ruler_shapes
from projector.papers.printed import PIXELS_PER_INCH, printed_shapes
from projector.papers.strips import Strip
from projector.papers.thing_shapes import clear_of_things, thing_shapes
from projector.prints.face import Face, png_of

_SMALL_IN = 0.095
_ABOVE_IN = 0.12
_BETWEEN_IN = 0.13
"""Least room between two positions, so that they are not read as one."""
_ROUNDING_IN = 1e-9


def strip_shapes(plan: Plan, strip: Strip, scale: Scale, face: Face) -> list[Shape]:
    """All that is drawn of a strip; each cut bears its number in the order of cutting."""
    return [
        *ground_shapes(plan, scale, face.ground),
        *_print(plan, strip, scale, face),
        *_cuts(plan, strip, scale, lettered=False),
        *row_shapes(plan, strip, scale),
        *clear_of_things(leftover_shapes(plan, strip, scale), strip, scale),
        *thing_shapes(strip, scale),
        *flaw_shapes(strip, scale),
        *_cuts(plan, strip, scale, lettered=True),
        *position_words(plan, strip, scale),
        *ruler_shapes(plan, scale),
    ]


def _cuts(plan: Plan, strip: Strip, scale: Scale, *, lettered: bool) -> Iterator[Shape]:
    for number, placed in zip(strip.numbers, strip.placements, strict=True):
        yield from cut_shapes(plan, placed, number, scale, lettered=lettered)


def _print(plan: Plan, strip: Strip, scale: Scale, face: Face) -> Iterator[Shape]:
    """The print between the selvedges, past the squaring."""
    cloth, per_inch = plan.job.cloth, scale.per_inch
    start, end = float(max(scale.span.start, plan.job.allowances.squaring)), float(scale.span.end)
    near, far = float(cloth.selvedge), float(cloth.width - cloth.selvedge)
    first_row = float(strip.use.piece.first_row)
    left, upper = scale.left + (start - float(scale.span.start)) * per_inch, scale.upper + near * per_inch
    if face.shapes is not None:
        yield from printed_shapes(
            face, first_row, (start, end), (near, far),
            lambda along, across: (left + (along - start) * per_inch, upper + (far - across) * per_inch),
        )  # fmt: skip
        return
    wide, high = (max(2, round(inches * per_inch * PIXELS_PER_INCH)) for inches in (end - start, far - near))
    along = start + (np.arange(wide) + 0.5) * (end - start) / wide
    across = far - (np.arange(high) + 0.5) * (far - near) / high
    places = np.broadcast_arrays(along[None, :] - first_row, across[:, None])
    pixels = face.sized(PIXELS_PER_INCH * per_inch).colours_at(*places)
    yield Raster((left, upper), (end - start) * per_inch, (far - near) * per_inch, png_of(pixels))


def position_words(plan: Plan, strip: Strip, scale: Scale) -> list[Words]:
    """Where cuts that reach the far selvedge, or lie sideways, start and end along the piece, above the strip.

    An edge that two cuts share is said once; positions that would touch are moved apart, or the later one left out.
    """
    found: list[Words] = []
    for words in _apart(_edges(plan, strip, scale)):
        if not found or found[-1].box[2] + _BETWEEN_IN <= words.box[0] + _ROUNDING_IN:
            found.append(words)
    return found


def _edges(plan: Plan, strip: Strip, scale: Scale) -> list[Words]:
    """The positions from left to right, a start over its edge to the right, an end to the left of it."""
    far = [p for p in strip.placements if _is_uppermost(p.cut, scale)]
    starts = {p.start for p in far if p.start >= scale.span.start}
    ends = {p.end for p in far if p.end <= scale.span.end}
    found = []
    for edge in sorted(starts | ends):
        anchor = Anchor.START if edge not in ends else Anchor.END if edge not in starts else Anchor.MIDDLE
        at = (scale.x(edge), scale.upper - _ABOVE_IN)
        found.append(Words(show_cut(edge, plan.job.unit), at, _SMALL_IN, INK, anchor))
    return found


def _is_uppermost(cut: Cut, scale: Scale) -> bool:
    return cut.is_sideways or cut.across is None or cut.across[1] == scale.cloth_width


def _apart(words: Sequence[Words]) -> list[Words]:
    """Neighbours that stand too near each other each moved half of what is missing."""
    moved = list(words)
    for at in range(1, len(moved)):
        before, after = moved[at - 1], moved[at]
        missing = before.box[2] + _BETWEEN_IN - after.box[0]
        if 0 < missing <= _BETWEEN_IN:
            moved[at - 1] = replace(before, at=(before.at[0] - missing / 2, before.at[1]))
            moved[at] = replace(after, at=(after.at[0] + missing / 2, after.at[1]))
    return moved


def drawn(strips: Sequence[Strip]) -> list[Strip]:
    """The strips that are worth drawing: those with a cut or a small thing in them."""
    return [strip for strip in strips if strip.placements or strip.things]


def bare_words(strips: Sequence[Strip], say: Callable[[Fraction], str]) -> list[str]:
    """What is said in place of strips of one piece that hold no cut, one line for each stretch of them."""
    found: list[str] = []
    runs: list[list[Strip]] = []
    for strip in strips:
        if strip.placements or strip.things:
            continue
        if runs and runs[-1][-1].span.end == strip.span.start:
            runs[-1].append(strip)
        else:
            runs.append([strip])
    for run in runs:
        if run[0].span.start == 0 and run[-1].span.end == run[0].use.piece.length:
            found.append("Not opened: no cut lies on it.")
        else:
            ends = (say(edge) for edge in (run[0].span.start, run[-1].span.end))
            found.append(f"From {' to '.join(ends)} no cut lies on it.")
    return found
