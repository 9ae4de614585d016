"""Match marks: where a row meets the seam, so that two edges can be put together.

The seam line lies one seam allowance inside the printed edge (the inner edge of the selvedge strip), at both sides of
the cut, whether that side is seamed or hemmed: it is the first line at which two edges of cloth are ever compared.
"""

from __future__ import annotations

from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.rows import columns_across, rows_at_column
from projector.scene.sizes import MATCH_APART_IN, MATCH_HALF_IN


def seam_lines(lit: LitStop) -> tuple[float, float]:
    """Table y of the near and the far seam line."""
    inset = float(lit.cloth.selvedge + lit.plan.job.allowances.seam)
    return inset, lit.width - inset


def match_marks(lit: LitStop) -> tuple[Stroke, ...]:
    """Two short bars astride each seam line at every row of the cut; the row runs between them."""
    last = len(columns_across(lit.cloth)) - 1
    marks = []
    for y, column in zip(seam_lines(lit), (0, last), strict=True):
        for row in rows_at_column(lit, column):
            if not lit.placement.start <= row <= lit.placement.end:
                continue
            for side in (-1, 1):
                x = lit.x(row) + side * MATCH_APART_IN / 2
                marks.append(Stroke(Kind.MATCH, ((x, y - MATCH_HALF_IN), (x, y + MATCH_HALF_IN))))
    return tuple(marks)
