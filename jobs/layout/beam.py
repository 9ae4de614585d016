"""A good order where there are too many cuts for an exact one: several part orders kept side by side."""

from __future__ import annotations

from collections import Counter

from jobs.layout.placing import Shape, Strip, earliest_start

WORK = 400_000
WIDEST, NARROWEST = 200, 4

Laid = tuple[int, ...]


def beam_order(strip: Strip, counts: Counter[Shape]) -> tuple[Shape, ...]:
    """All shapes in an order found by keeping, after every cut, the part orders that have wasted least so far.

    Part orders that have laid the same counts compete by their end alone. Where there are too many different shapes
    even for that, the shape that wastes least comes next. Same input, same answer.
    """
    shapes, most = list(counts), tuple(counts.values())
    total = sum(most)
    width = min(WIDEST, WORK // max(1, total * len(shapes)))
    if width < NARROWEST:
        return _least_waste_next(strip, counts)
    beam: dict[Laid, tuple[int, int, int]] = {(0,) * len(shapes): (0, strip.begin, 0)}
    history: list[dict[Laid, tuple[int, int, int]]] = []
    for _ in range(total):
        history.append(beam)
        after: dict[Laid, tuple[int, int, int]] = {}
        for laid, (waste, end, _) in beam.items():
            for number, shape in enumerate(shapes):
                if laid[number] == most[number]:
                    continue
                start = earliest_start(strip, shape, end)
                then = (*laid[:number], laid[number] + 1, *laid[number + 1 :])
                entry = (waste + start - end, start + shape.length, number)
                if then not in after or entry < after[then]:
                    after[then] = entry
        beam = dict(sorted(after.items(), key=lambda item: (item[1], item[0]))[:width])
    return _trace(shapes, history, beam)


def _least_waste_next(strip: Strip, counts: Counter[Shape]) -> tuple[Shape, ...]:
    left, order, end = counts.copy(), [], strip.begin
    while left:
        start, _, shape = min((earliest_start(strip, shape, end), -shape.length, shape) for shape in left)
        order.append(shape)
        end = start + shape.length
        left[shape] -= 1
        if not left[shape]:
            del left[shape]
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
