"""The whole cut sheet of a plan, page by page."""

from __future__ import annotations

from jobs.cutting.columns import rows_apart
from jobs.ordering import order
from jobs.plan import Plan
from projector.papers.drawing import Drawing
from projector.papers.sheet.flow import PaperSize, pages_of, paragraph
from projector.papers.sheet.hanging import hung_blocks
from projector.papers.sheet.left import caution_blocks, leftover_blocks
from projector.papers.sheet.pictures import piece_blocks
from projector.papers.sheet.say import Units, saying
from projector.papers.sheet.sewing import fold_blocks
from projector.papers.sheet.wanted import wanted_blocks
from projector.papers.sheet.words import cut_blocks, order_blocks, pull_blocks, window_blocks
from projector.words.notices import notice_lines


def sheet_pages(plan: Plan, size: PaperSize, date: str, units: Units | None = None) -> list[Drawing]:
    """The pages of the sheet: windows, order, cloth, cuts, pictures, stops, folds, leftovers and cautions.

    ``date`` stands at the head of each page; ``units`` None shows the job's own. Raises ValueError for a plan that
    lays nothing, because cloth is missing.
    """
    if not plan.placements:
        raise ValueError("a plan that lays no cut has no sheet")
    plan, say = saying(plan, units)
    room = size.room_in[0]
    cloth = plan.job.cloth
    about = f"{cloth.name}, {say(cloth.width)} wide" + (
        f", rows every {say(apart)}" if (apart := rows_apart(cloth)) is not None else ", plain"
    )
    blocks = [
        paragraph(about, room),
        *window_blocks(plan, say, room),
        *order_blocks(plan, order(plan.job), say, room),
        *piece_blocks(plan, say, room),
        *cut_blocks(plan, say, room),
        *hung_blocks(plan, say, room),
        *pull_blocks(plan, say, room),
        *fold_blocks(plan, say, room),
        *wanted_blocks(plan, say, room),
        *leftover_blocks(plan, say, room),
        *(paragraph(f"Note: {notice}", room) for notice in notice_lines(plan.job)),
        *caution_blocks(room),
    ]
    return pages_of(blocks, size, plan.job.title, date)
