"""Scenes as segments: those of a scene that is moved as a whole are made once and then moved with every key."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from projector.light.raster.arrays import Array, Indices
from projector.light.segments import Segments, dashed, hatch, segments_of
from projector.light.styles import Style
from projector.scene.boxes import FAINT, Box, with_gaps
from projector.scene.identity import ByIdentity
from projector.scene.marks import Hatch, Kind, Point, Scene, Stroke, Text
from projector.scene.moved import MovedScene

CACHED = 4
"""Scenes whose segments are cached: going to and fro between two stops, each with a layer on and off."""
Styles = Mapping[Kind, Style]


def segments_of_marks(scene: Scene, styles: Styles) -> Segments:
    """Every stroke and hatching of a scene, parted into the dashes of its style; styles are numbered in their order."""
    number = {kind: index for index, kind in enumerate(styles)}
    polylines: list[tuple[Point, ...]] = []
    numbers: list[int] = []
    for mark in scene.marks:
        if not isinstance(mark, Text):
            lines = [mark.points] if isinstance(mark, Stroke) else hatch(mark.outline)
            polylines += lines
            numbers += [number[mark.kind]] * len(lines)
    return dashed(segments_of(polylines, numbers), list(styles.values())).long_enough


def segments_of_moved(under: MovedScene, styles: Styles) -> tuple[Segments, ...]:
    """The same of a scene moved as a whole and dark in rooms, in parts."""
    made = _made(ByIdentity(under.scene), tuple((kind, style.dashes_in) for kind, style in styles.items()))
    if under.motion is None and not under.rooms:
        return (made.segments,)
    motion = np.array(under.motion or ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)))
    if made.is_hatched and motion[0, 1]:
        # Hatching is drawn aslant to the table, not to the cloth.
        return (segments_of_marks(Scene(under.marks), styles),)
    met = made.met(under.rooms, motion)
    if not len(met):
        return (made.segments.moved(motion),)
    whole = np.ones(made.count, np.bool_)
    whole[made.numbers[met]] = False
    kept = made.segments.where(np.flatnonzero(whole[made.segments.strokes])).moved(motion)
    lines = MovedScene(Scene(tuple(made.lines[number] for number in met)), under.motion).marks
    gaps = with_gaps(tuple(line for line in lines if isinstance(line, Stroke)), under.rooms)
    return kept, segments_of_marks(Scene(gaps), styles)


def letters_of(under: MovedScene) -> tuple[Text, ...]:
    """The letters of a scene moved as a whole, where they were moved to."""
    there = MovedScene(_letters(ByIdentity(under.scene)), under.motion).marks
    return tuple(mark for mark in there if isinstance(mark, Text))


@lru_cache(maxsize=CACHED)
def _letters(scene: ByIdentity[Scene]) -> Scene:
    return Scene(tuple(mark for mark in scene.value.marks if isinstance(mark, Text)))


@dataclass(frozen=True, eq=False)
class _Made:
    """A scene's dashes; its faint lines of two points, their ends (k, 2, 2) and their ``numbers`` (k,) among all
    strokes, of which there are ``count``."""

    segments: Segments
    lines: tuple[Stroke, ...]
    ends: Array
    numbers: Indices
    count: int
    is_hatched: bool

    def met(self, rooms: Sequence[Box], motion: Array) -> Indices:
        """Which of the faint lines, moved so, are upright or level and come near one of the rooms."""
        if not rooms or not self.lines:
            return np.zeros(0, np.intp)
        there = self.ends @ motion[:, :2].T + motion[:, 2]
        low, high = np.minimum(there[:, 0], there[:, 1]), np.maximum(there[:, 0], there[:, 1])
        straight = (there[:, 0] == there[:, 1]).any(axis=1)
        near = np.zeros(len(self.lines), np.bool_)
        for room in rooms:
            near |= ((high >= (room.left, room.near)) & (low <= (room.right, room.far))).all(axis=1)
        return np.flatnonzero(straight & near)


@lru_cache(maxsize=CACHED)
def _made(scene: ByIdentity[Scene], dashes: tuple[tuple[Kind, tuple[float, ...]], ...]) -> _Made:
    styles = {kind: Style(1.0, pattern) for kind, pattern in dashes}
    segments = segments_of_marks(scene.value, styles)
    lines, numbers, count = [], [], 0
    for mark in scene.value.marks:
        if isinstance(mark, Stroke) and len(mark.points) == 2 and mark.kind in FAINT:
            lines.append(mark)
            numbers.append(count)
        count += len(hatch(mark.outline)) if isinstance(mark, Hatch) else isinstance(mark, Stroke)
    is_hatched = any(isinstance(mark, Hatch) for mark in scene.value.marks)
    ends = np.array([line.points for line in lines], np.float64).reshape(-1, 2, 2)
    return _Made(segments, tuple(lines), ends, np.array(numbers, np.intp), count, is_hatched)
