"""Names of hands and sizes under the panels of a window, kept apart however narrow the panels are."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from projector.papers.drawing import Anchor, Words
from projector.papers.inks import INK
from projector.papers.sheet.flow import cut_short

_SMALLER = 0.94


def under_panels(
    hands: Sequence[str], sizes: Sequence[str], middles: Sequence[float], at: tuple[float, float],
    room: float, height: float, least: float, step: float,
) -> list[Words]:  # fmt: skip
    """The hand under each panel, and ``step`` below it the size: under each where that fits at full height; else one
    size of all is said once, unlike ones are made smaller.

    ``middles`` are the panels' middles, ``at`` is the middle of the window on the first line, ``room`` the width there.
    """
    middle, y = at
    first = spread(hands, middles, (middle, y), room, height, least)
    if len(set(sizes)) == 1 and not _fits(sizes, middles, y + step, height, (middle, room)):
        return [*first, *spread([f"{sizes[0]} each"], [middle], (middle, y + step), room, height, least)]
    return [*first, *spread(sizes, middles, (middle, y + step), room, height, least)]


def spread(
    texts: Sequence[str], middles: Sequence[float], at: tuple[float, float], room: float, height: float, least: float
) -> list[Words]:
    """Lines about these places, made smaller together until they stand apart; as one line where that is not enough."""
    tall = height
    while tall >= least:
        if _fits(texts, middles, at[1], tall, (at[0], room)):
            return _lines(texts, middles, at[1], tall)
        tall *= _SMALLER
    together = ", ".join(texts)
    tall = height
    while tall * _SMALLER >= least and Words(together, at, tall).length > room:
        tall *= _SMALLER
    return [Words(cut_short(together, tall, room), at, tall, INK, Anchor.MIDDLE)]


def _lines(texts: Sequence[str], middles: Sequence[float], y: float, height: float) -> list[Words]:
    return [Words(text, (x, y), height, INK, Anchor.MIDDLE) for text, x in zip(texts, middles, strict=True)]


def _fits(texts: Sequence[str], middles: Sequence[float], y: float, height: float, within: tuple[float, float]) -> bool:
    lines = _lines(texts, middles, y, height)
    middle, room = within
    inside = lines[0].box[0] >= middle - room / 2 and lines[-1].box[2] <= middle + room / 2
    return inside and all(before.box[2] + height / 2 <= after.box[0] for before, after in pairwise(lines))
