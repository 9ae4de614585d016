"""A good order where there are too many cuts for an exact one: several part orders kept side by side."""

from __future__ import annotations

from collections import Counter

from jobs.layout.placing import Shape, Strip, Track

WORK = 400_000
WIDEST, NARROWEST = 200, 4

Laid = tuple[int, ...]


def beam_order(strip: Strip, counts: Counter[Shape]) -> tuple[Shape, ...]:
    """All shapes in an order found by keeping, after every cut, the part orders that have wasted least so far.

    Part orders that have laid the same counts compete by their end alone. Where there are too many different shapes
    even for that, the shape that wastes least comes next. Same input, same answer.
    """
    shapes, most = list(counts), tuple(counts.values())
    track = Track(strip, shapes)
    total = sum(most)
    width = min(WIDEST, WORK // max(1, total * len(shapes)))
    if width < NARROWEST:
        return _least_waste_next(track, counts)
    beam: dict[Laid, tuple[int, int, int]] = {(0,) * len(shapes): (0, strip.begin, 0)}
    history: list[dict[Laid, tuple[int, int, int]]] = []
    for _ in range(total):
        history.append(beam)
        after: dict[Laid, tuple[int, int, int]] = {}
        for laid, (waste, end, _) in beam.items():
            for number, length in enumerate(track.lengths):
                if laid[number] == most[number]:
                    continue
                start = track.start(number, end)
                then = (*laid[:number], laid[number] + 1, *laid[number + 1 :])
                entry = (waste + start - end, start + length, number)
                if then not in after or entry < after[then]:
                    after[then] = entry
        beam = dict(sorted(after.items(), key=lambda item: (item[1], item[0]))[:width])
    return _trace(shapes, history, beam)


def _least_waste_next(track: Track, counts: Counter[Shape]) -> tuple[Shape, ...]:
    shapes, left = list(counts), list(counts.values())
    order, end = [], track.begin
    open_shapes = sorted(range(len(shapes)), key=lambda number: (-shapes[number].length, shapes[number]))
    while open_shapes:
        start, number = min(((track.start(one, end), one) for one in open_shapes), key=lambda entry: entry[0])
        order.append(shapes[number])
        end = start + track.lengths[number]
        left[number] -= 1
        if not left[number]:
            open_shapes.remove(number)
    return tuple(order)


def _trace(
    shapes: list[Shape], history: list[dict[Laid, tuple[int, int, int]]], last: dict[Laid, tuple[int, int, int]]
) -> tuple[Shape, ...]:
    laid = next(iter(last))
    order = []
    for beam in [last, *reversed(history)][: len(history)]:
        number = beam[laid][2]
        order.append(shapes[number])
        laid = (*laid[:number], laid[number] - 1, *laid[number + 1 :])
    return tuple(reversed(order))
