"""A panel as it hangs, flat or gathered in folds: its print, drawn or from a picture of one repeat, seams and edge."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from jobs.job import Window
from jobs.plan import Plan
from projector.papers.clip import clipped
from projector.papers.drawing import Path, Point, Raster, Shape, rectangle
from projector.papers.hung.gathers import Gather, gathered
from projector.papers.hung.pixels import panel_pixels
from projector.papers.hung_panel import HungPanel
from projector.papers.inks import INK, ground_and_motif
from projector.papers.tile import Tile, png_of
from projector.scene.motif import images_of, motif_of

_LAP_IN = 0.006
"""How far strips of a gathered panel reach under each other, so that no hair of paper shows between them."""
TILE_PIXELS_PER_INCH = 150


@dataclass(frozen=True)
class Look:
    """How panels are drawn: gathered in folds, with the print of a tile."""

    folded: bool = False
    tile: Tile | None = None

    def gather(self, panel: HungPanel, window: Window | None) -> Gather:
        """Where the flat panel comes to hang: as it is, or gathered by the fullness of its window."""
        fullness = float(window.fullness) if self.folded and window is not None else 1.0
        return gathered(float(panel.width), fullness)


FLAT = Look()


def panel_drawing(
    plan: Plan, panel: HungPanel, corner: Point, per_inch: float, look: Look = FLAT, window: Window | None = None
) -> list[Shape]:
    """A panel with its upper left ``corner`` there; the window says how full it is gathered."""
    gather = look.gather(panel, window)
    left, top = corner
    right, foot = left + gather.width * per_inch, top + float(panel.length) * per_inch
    shapes: list[Shape] = []
    if look.tile is not None and panel.cuts:
        tile = look.tile.sized(TILE_PIXELS_PER_INCH * per_inch)
        pixels = panel_pixels(plan, panel, gather, tile, TILE_PIXELS_PER_INCH * per_inch)
        shapes.append(Raster(corner, right - left, foot - top, png_of(pixels)))
    else:
        shapes += _drawn(plan, panel, gather, corner, per_inch)
    for seam in panel.seams:
        x = left + float(np.interp(float(seam), gather.flat, gather.hung)) * per_inch
        shapes.append(Path(((x, top), (x, foot)), INK, 0.012, dash=(0.1, 0.06)))
    shapes.append(Path(rectangle(left, top, right, foot), INK, 0.028, closed=True))
    return shapes


def _drawn(plan: Plan, panel: HungPanel, gather: Gather, corner: Point, per_inch: float) -> Iterator[Shape]:
    """Ground and motifs strip by strip, each in the light its strip gets."""
    cloth = plan.job.cloth
    ground, motif = ground_and_motif(cloth.colour, cloth.motif_colours)
    parts = list(_motif_parts(plan, panel))
    left, top = corner
    length = float(panel.length)
    lap = 0.0 if len(gather.light) == 1 else _LAP_IN / per_inch
    for number, light in enumerate(gather.light):
        (begin, end), (hung, hung_end) = gather.flat[number : number + 2], gather.hung[number : number + 2]
        last = number == len(gather.light) - 1
        reach = hung_end if last else min(hung_end + lap, gather.width)
        box = rectangle(left + hung * per_inch, top, left + reach * per_inch, top + length * per_inch)
        yield Path(box, fill=_lit(ground, light), closed=True)
        stretch = (hung_end - hung) / (end - begin)
        over = end if last else end + lap / stretch
        for part in parts:
            if (shown := clipped(part, begin, 0.0, over, length)) and len(shown) > 2:
                points = tuple((left + (hung + (x - begin) * stretch) * per_inch, top + y * per_inch) for x, y in shown)
                yield Path(points, fill=_lit(motif, light), closed=True)


def _motif_parts(plan: Plan, panel: HungPanel) -> Iterator[tuple[Point, ...]]:
    """Polygons of every motif, inches from the flat panel's left edge and below its top."""
    cloth = plan.job.cloth
    if cloth.repeat is None:
        return
    size = 0.66 * float(min(cloth.repeat.along, cloth.repeat.across or cloth.repeat.along))
    size /= math.sqrt(len(images_of(cloth)))
    for place in panel.motifs:
        x, y = float(place.from_left), float(place.below_top)
        for part in motif_of(cloth):
            yield tuple((x + place.right * a * size, y - place.up * b * size) for a, b in part)


def _lit(colour: str, light: float) -> str:
    """The colour in so much light."""
    if light >= 1:
        return colour
    digits = colour.removeprefix("#")
    levels = (round(int(digits[at : at + 2], 16) * light) for at in (0, 2, 4))
    return "#" + "".join(f"{level:02x}" for level in levels)
