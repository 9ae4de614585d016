"""Match marks: where a row meets the seam, so that two edges can be put together.

Where two cuts are joined the marks stand on their seam lines, which lie whole columns apart: the rows at the far line
are those of the column as many further as lie between the lines, drop included, so the marks of two joined cuts meet.
Elsewhere they stand one seam allowance inside the printed edge (the inner edge of the selvedge strip), where two edges
of cloth are first compared, even where that side is hemmed; a side that is slit has none.
"""

from __future__ import annotations

from jobs.cutting.columns import seams
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Stroke
from projector.scene.rows import columns_across, rows_at_column
from projector.scene.sizes import MATCH_APART_IN, MATCH_HALF_IN


def seam_lines(lit: LitStop) -> tuple[float, float]:
    """Table y of the near and the far line that matching is done on."""
    inset = float(lit.cloth.selvedge + lit.plan.job.allowances.seam)
    cut = lit.placement.cut
    near, far = lit.near + inset, lit.far - inset
    if cut.near_side is not None and cut.near_side.joined:
        near = float(cut.near_side.line)
    if cut.far_side is not None and cut.far_side.joined:
        far = float(cut.far_side.line)
    return near, far


def _marked(lit: LitStop) -> list[tuple[float, int]]:
    """Table y of the lines that carry marks, each with the column whose rows they show."""
    cut, (near, far) = lit.placement.cut, seam_lines(lit)
    near_joined, far_joined = (side is not None and side.joined for side in (cut.near_side, cut.far_side))
    last = len(columns_across(lit.cloth)) - 1
    between = seams(lit.cloth, lit.plan.job.allowances.seam).columns
    lines = [(near, 0)] if near_joined or lit.near == 0 else []
    return lines + ([(far, between if far_joined and between else last)] if far_joined or lit.far == lit.width else [])


def match_marks(lit: LitStop) -> tuple[Stroke, ...]:
    """Two short bars astride each seam line at every row of the cut; the row runs between them.

    A sideways panel has no seam and none.
    """
    marks: list[Stroke] = []
    if lit.is_sideways:
        return ()
    for y, column in _marked(lit):
        for row in rows_at_column(lit, column):
            if not lit.placement.start <= row <= lit.placement.end:
                continue
            for side in (-1, 1):
                x = lit.x(row) + side * MATCH_APART_IN / 2
                marks.append(Stroke(Kind.MATCH, ((x, y - MATCH_HALF_IN), (x, y + MATCH_HALF_IN))))
    return tuple(marks)
