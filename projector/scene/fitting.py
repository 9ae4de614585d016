"""Finding a free place for a block of labels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from projector.scene.block import Block
from projector.scene.boxes import Box, around
from projector.scene.marks import Mark
from projector.scene.sizes import CLEAR_IN

_STEP_IN = 1.0


@dataclass(frozen=True)
class Room:
    """A region for labels and the boxes taken in it already."""

    region: Box
    taken: tuple[Box, ...] = ()

    def with_taken(self, *boxes: Box) -> Room:
        """The room with these boxes taken too."""
        return replace(self, taken=self.taken + boxes)

    def is_free(self, box: Box) -> bool:
        """Whether a box lies inside the region and clear of all that is taken."""
        clear = box.grown(CLEAR_IN)
        return self.region.holds(box) and not any(clear.overlaps(other) for other in self.taken)


@dataclass(frozen=True)
class Fitted:
    """A placed block: its marks and the box they fill."""

    marks: tuple[Mark, ...]
    box: Box


def fit(blocks: Iterable[Block], room: Room, towards: int, start: float = 0.0, *, rising: int = 0) -> Fitted | None:
    """The first block that finds a free place: near the left (-1) or right (+1) end or the middle (0) of the room.

    With ``rising`` it is the end nearest the person (-1) or farthest (+1) instead. Places are tried from that end
    inwards and, at each, from the middle outwards; ``start`` keeps that many inches free at the end, when there is
    room. None when no block fits.
    """
    for block in blocks:
        for box in _places(block, room.region, towards, start, rising):
            if room.is_free(box):
                return Fitted(block.marks(box), box)
    return None


def _places(block: Block, region: Box, towards: int, start: float, rising: int) -> Iterator[Box]:
    slack_x, slack_y = region.width - block.width, region.depth - block.depth
    if slack_x < 0 or slack_y < 0:
        return
    x, y = region.middle
    if rising:
        for dy in _inwards(slack_y, rising, start):
            for dx in _outwards(slack_x / 2, 0.0):
                yield around((x + dx, y + dy), block.width, block.depth)
        return
    for dx in _outwards(slack_x / 2, 0.0) if towards == 0 else _inwards(slack_x, towards, start):
        for dy in _outwards(slack_y / 2, 0.0):
            yield around((x + dx, y + dy), block.width, block.depth)


def _outwards(reach: float, first: float) -> Iterator[float]:
    yield first
    step = _STEP_IN
    while step < reach:
        yield first + step
        yield first - step
        step += _STEP_IN
    yield reach
    yield -reach


def _inwards(slack: float, towards: int, start: float) -> Iterator[float]:
    off = min(start, slack)
    while off < slack:
        yield towards * (slack / 2 - off)
        off += _STEP_IN
    yield -towards * slack / 2
    yield towards * slack / 2
