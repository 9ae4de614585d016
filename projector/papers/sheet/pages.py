"""The whole cut sheet of a plan, page by page, and the top tags."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.cutting.columns import rows_apart
from jobs.model.cuts import Way
from jobs.model.plan import Plan
from jobs.ordering import order
from projector.papers.drawing import INK, QUIET, Anchor, Drawing, Path, Shape, Words
from projector.papers.sheet.flow import MARGIN_IN, PAPER, PaperSize, cut_short, moved, pages_of, paragraph
from projector.papers.sheet.lengths import LengthFormat, Units, length_format
from projector.papers.sheet.pictures import hung_blocks, piece_blocks
from projector.papers.sheet.sewing import caution_blocks, fold_blocks, leftover_blocks, wanted_blocks
from projector.papers.sheet.turnings import turning_lines
from projector.papers.sheet.words import (
    cut_blocks,
    order_blocks,
    pull_blocks,
    side_words,
    window_blocks,
)
from projector.words.notices import notice_lines
from projector.words.shared_length import SELVEDGE_FIRST, crosscut_words


def sheet_pages(plan: Plan, size: PaperSize, date: str, units: Units | None = None) -> list[Drawing]:
    """The pages of the sheet: windows, order, cloth, cuts, pictures, stops, folds, leftovers and cautions.

    ``date`` stands at the head of each page; ``units`` None shows the job's own. Raises ValueError for a plan that
    lays nothing, because cloth is missing.
    """
    if not plan.placements:
        raise ValueError("a plan that lays no cut has no sheet")
    plan, show = length_format(plan, units)
    room = size.room_in[0]
    cloth = plan.job.cloth
    about = f"{cloth.name}, {show(cloth.width)} wide" + (
        f", rows every {show(apart)}" if (apart := rows_apart(cloth)) is not None else ", plain"
    )
    blocks = [
        paragraph(about, room),
        *window_blocks(plan, show, room),
        *order_blocks(plan, order(plan.resolved), show, room),
        *piece_blocks(plan, show, room),
        *cut_blocks(plan, show, room),
        *hung_blocks(plan, show, room),
        *pull_blocks(plan, show, room),
        *fold_blocks(plan, show, room),
        *wanted_blocks(plan, show, room),
        *leftover_blocks(plan, show, room),
        *(paragraph(f"Note: {notice}", room) for notice in notice_lines(plan.job)),
        *caution_blocks(room),
    ]
    return pages_of(blocks, size, plan.job.title, date)


LEAST_IN = (1.5, 1.0)
_TICK_IN = 0.12
_LEAST_LETTERS_IN = 0.08
_LEADS = "leading edge:"


class TagTooLargeError(ValueError):
    """A size of tag that does not fit the paper, or is too small to read."""

    def __init__(self, width: float, height: float, size: PaperSize) -> None:
        room = tuple(side - 2 * MARGIN_IN for side in size.size_in)
        super().__init__(
            f"a tag of {width:g} by {height:g} in cannot be made on {size.value} paper; take from {LEAST_IN[0]:g} by "
            f"{LEAST_IN[1]:g} in up to {room[0]:.1f} by {room[1]:.1f} in"
        )


def tag_pages(plan: Plan, size: PaperSize, width: float, height: float, units: Units | None = None) -> list[Drawing]:
    """A tag for each cut in the order they are made, ``width`` by ``height`` inches, with marks to cut along.

    Raises TagTooLargeError when not one fits the paper, or when it would be too small to read.
    """
    plan, show = length_format(plan, units)
    page_width, page_height = size.size_in
    across = int((page_width - 2 * MARGIN_IN + 1e-9) / width)
    down = int((page_height - 2 * MARGIN_IN + 1e-9) / height)
    if across < 1 or down < 1 or width < LEAST_IN[0] or height < LEAST_IN[1]:
        raise TagTooLargeError(width, height, size)
    left, upper = (page_width - across * width) / 2, (page_height - down * height) / 2
    pages: list[Drawing] = []
    for begin in range(0, len(plan.placements), across * down):
        shapes: list[Shape] = _cut_marks(left, upper, width, height, across, down)
        for number in range(min(across * down, len(plan.placements) - begin)):
            row, column = divmod(number, across)
            shapes += moved(
                _tag(plan, begin + number + 1, show, (width, height)),
                left + column * width,
                upper + row * height,
            )
        sections = () if pages else ("Top tags",)
        pages.append(Drawing(page_width, page_height, tuple(shapes), PAPER, f"{plan.job.title}: tags", sections))
    return pages


def _cut_marks(left: float, upper: float, width: float, height: float, across: int, down: int) -> list[Shape]:
    """A small cross at every corner of every tag."""
    found: list[Shape] = []
    for row in range(down + 1):
        for column in range(across + 1):
            x, y = left + column * width, upper + row * height
            found.append(Path(((x - _TICK_IN, y), (x + _TICK_IN, y)), QUIET, 0.008))
            found.append(Path(((x, y - _TICK_IN), (x, y + _TICK_IN)), QUIET, 0.008))
    return found


def _tag(plan: Plan, number: int, show: LengthFormat, size: tuple[float, float]) -> list[Shape]:
    """TOP between two chevrons that point up, then whose it is, which cut of the sheet, and which edge leads; how its
    length is cut off and what is turned over and seamed where that can be read on a tag of this size."""
    placed, (width, height) = plan.placements[number - 1], size
    cut = placed.cut
    lines = [
        (cut.window, 1.2),
        *([(cut.which, 1.2)] if cut.which else []),
        (f"cut {number}, {show(cut.length)}", 0.9),
    ]
    lines += [("back to the room", 0.9)] if cut.way is Way.FACE_DOWN else []
    lines += [(text, 0.9)] if (text := side_words(placed)) else []
    room = width - 0.36
    for more in ([SELVEDGE_FIRST] if crosscut_words(placed, plan, show) else [], turning_lines(cut, plan.job, show)):
        if more and _can_be_read(more, room, 0.9 * _step(height, len(lines) + len(more))):
            lines += [(text, 0.9) for text in more]
    step = _step(height, len(lines))
    top = min(step * 1.9, room / 6)
    y = 0.1 + step * 1.1
    shapes: list[Shape] = [Words("TOP", (width / 2, y), top, INK, Anchor.MIDDLE)]
    for side in (-1, 1):
        x = width / 2 + side * top * 2.1
        chevron = ((x - top / 2, y + top / 2), (x, y - top / 2), (x + top / 2, y + top / 2))
        shapes.append(Path(chevron, INK, top * 0.18))
    for row, (text, share) in enumerate(lines):
        tall = Words(text, (0, 0), step * share)
        least = min(tall.height, _LEAST_LETTERS_IN)
        if text.startswith(_LEADS) and Words(text, (0, 0), least).length > room:
            # Which side leads is never cut short: it is said in fewer words.
            text = text.replace(_LEADS, "leads:")
            tall = Words(text, (0, 0), step * share)
        fitted = max(min(tall.height, tall.height * 0.999 * room / tall.length), least)
        at = (width / 2, 0.12 + step * (3.6 + 1.75 * row))
        shapes.append(Words(cut_short(text, fitted, room), at, fitted, INK, Anchor.MIDDLE))
    return shapes


def _step(height: float, lines: int) -> float:
    """What a line takes of a tag, TOP taking more."""
    return (height - 0.2) / max(10, 3 + 1.75 * lines)


def _can_be_read(lines: Sequence[str], room: float, tall: float) -> bool:
    """Whether lines as tall as this, or made smaller to fit, are large enough to be read."""
    widest = max(Words(text, (0, 0), tall).length for text in lines)
    return min(tall, tall * room / widest) >= _LEAST_LETTERS_IN
