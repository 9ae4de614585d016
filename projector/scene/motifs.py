"""Where the motifs of a print lie under a stop, as every picture of the cloth shows them."""

from __future__ import annotations

from functools import lru_cache

from jobs.model.cloth import Cloth
from projector.prints.sign import shapes_of
from projector.prints.symmetry import lattice_of
from projector.scene.boxes import Box
from projector.scene.lit_stop import LitStop
from projector.scene.print_marks import lattice, motif_boxes


def drawn_motifs(lit: LitStop) -> tuple[Box, ...]:
    """Where motifs lie as every picture of the cloth shows them, those that the light or a selvedge cuts off included.

    About their points, as ``motif_boxes`` has them, where the job names a picture: nothing is known of it but that.
    """
    cloth = lit.cloth
    if cloth.repeat is None or cloth.repeat.across is None or cloth.picture:
        return motif_boxes(lit)
    along, across = float(cloth.repeat.along), float(cloth.repeat.across)
    drop = float(cloth.drop) * along
    points = {
        (round((x + number * drop) + turn * along, 6), round(y + number * across, 6))
        for x, y in lattice(lit).crossings
        for number in (-1, 0, 1)
        for turn in (-1, 0, 1)
    }
    boxes = (
        Box(x + own.left, y + own.near, x + own.right, y + own.far) for x, y in points for own in _reaches_of(cloth)
    )
    return tuple(sorted((box for box in boxes if box.overlaps(lit.light)), key=lambda box: box.middle))


@lru_cache(maxsize=8)
def _reaches_of(cloth: Cloth) -> tuple[Box, ...]:
    """Boxes around what is drawn in one repeat, along and across from its point; shapes that touch are in one."""
    boxes: list[Box] = []
    for shape in shapes_of(cloth, lattice_of(cloth)):
        along, across = zip(*shape.points, strict=True)
        one = Box(min(along), min(across), max(along), max(across))
        while met := [box for box in boxes if box.overlaps(one)]:
            boxes = [box for box in boxes if box not in met]
            one = Box(
                min(one.left, *(box.left for box in met)),
                min(one.near, *(box.near for box in met)),
                max(one.right, *(box.right for box in met)),
                max(one.far, *(box.far for box in met)),
            )
        boxes.append(one)
    return tuple(boxes)
