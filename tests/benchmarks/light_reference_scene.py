"""One busy scene that is always drawn alike: 60 long lines, 40 dashed ones, 30 crosses, 8 labels in perspective."""

from __future__ import annotations

import random

from calibration.marks import Mark
from calibration.table import Table, fit_table
from projector.scene.marks import Kind, Scene, Stroke, Text

SIZE_PX = (1920, 1080)


def reference_table(scale: int = 1) -> Table:
    """A projector 120 in wide on the table, looking a little askew; ``scale`` times as many pixels each way."""
    corners = ((0, 0), (120, 0), (120, 60), (0, 60))
    pixels = ((60, 1000), (1860, 1040), (1750, 60), (150, 90))
    marks = [Mark(corner, (u * scale, v * scale)) for corner, (u, v) in zip(corners, pixels, strict=True)]
    return fit_table(marks, SIZE_PX[0] * scale, SIZE_PX[1] * scale)


def reference_scene() -> Scene:
    """60 long lines, 40 dashed lines, 30 crosses and 8 labels 60 to 200 px tall."""
    chance = random.Random(7)
    marks: list[Stroke | Text] = []
    for kind, count in ((Kind.CUT, 30), (Kind.TOP, 30), (Kind.TRIM, 20), (Kind.FOLD, 20)):
        for _ in range(count):
            a, b = chance.uniform(2, 58), chance.uniform(2, 58)
            x, y = chance.uniform(2, 118), chance.uniform(2, 118)
            upright = chance.random() < 0.3
            marks.append(Stroke(kind, ((x, 0), (y, 60)) if upright else ((0, a), (120, b))))
    for _ in range(30):
        x, y = chance.uniform(5, 115), chance.uniform(5, 55)
        marks.append(Stroke(Kind.CROSSING, ((x - 0.5, y), (x + 0.5, y))))
        marks.append(Stroke(Kind.CROSSING, ((x, y - 0.5), (x, y + 0.5))))
    for number in range(8):
        height = 4 + 9 * number / 7
        marks.append(Text(Kind.LETTER, "TOP left 1", (40 + 6 * number, 5 + 7 * number), height))
    return Scene(tuple(marks))
