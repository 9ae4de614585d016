"""The written parts of the cut sheet: windows, order, cuts and stops, with lengths in the units asked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.model.choices import Hang, Panels, Part
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Hand, Placement
from jobs.model.numbers import counted
from jobs.model.plan import Plan
from jobs.model.window import RowRule, Window
from jobs.ordering import Order
from jobs.planning.stops import edges_said, laid_said, pull_said
from projector.papers.drawing import INK, Path, Words, rectangle
from projector.papers.sheet.flow import Block, heading, listed, paragraph
from projector.papers.sheet.lengths import LengthFormat
from projector.papers.sheet.turnings import turning_lines
from projector.words.arithmetic import order_lines
from projector.words.shared_length import crosscut_words


def name_of(cut: Cut) -> str:
    """Whose cut it is: window, hand and number."""
    return cut.name


def window_blocks(plan: Plan, show: LengthFormat, room: float) -> Iterator[Block]:
    """Each window with its panels, finished length, cuts and row."""
    yield heading("Windows, as seen from inside the room")
    for window in plan.job.windows:
        cuts = [cut for cut in plan.cuts if cut.window == window.name]
        text = _made(window, show) or f"{_panels(window)}; finished length {show(window.finished_length)}"
        if window.top_height is not None:
            text += f"; finished top {show(window.top_height)} above the floor"
        if window.row is not None and (window.made is None or window.made.part in _WITH_ROWS):
            text += f"; {_row_words(window.row, show)}"
        lengths = dict.fromkeys(show(cut.length) for cut in cuts)
        text += f"; {_counted(cuts, plan.job.cloth)} of {' and '.join(lengths)}"
        yield from _named(window.name, text + ".", room)


def _counted(cuts: Sequence[Cut], cloth: Cloth) -> str:
    """How many cuts, those that are the half of a width by themselves, as the arithmetic counts them."""
    halves = sum(1 for cut in cuts if cut.of > 1 and 2 * (cut.across[1] - cut.across[0]) == cloth.width)
    whole = counted(len(cuts) - halves, "cut")
    return f"{whole} and {counted(halves, 'half cut')}" if halves else whole


_WITH_ROWS = (Part.LINING, Part.INTERLINING, Part.FLAT_PANEL)


def _made(window: Window, show: LengthFormat) -> str:
    """What is cut to its own size; nothing for a panel of a window."""
    if window.made is None or not window.made.exact or window.flat is None:
        return ""
    size = f"{show(window.flat)} wide and {show(window.finished_length)} long when it is sewn"
    named = {Part.BAND: f"sewn to {window.made.of}, ", Part.TIE_BACK: f"of {window.made.of}, "}
    return f"{named.get(window.made.part, '')}{size}"


def _panels(window: Window) -> str:
    """How many panels, of which hand, and how a pair hangs."""
    match window.panels:
        case Panels.PAIR:
            return "a mirrored pair" if window.hang is Hang.MIRRORED else "a pair, hung the same way"
        case Panels.WHOLE:
            return "one panel for the whole window"
    return f"one {window.panels} panel"


def _row_words(row: RowRule, show: LengthFormat) -> str:
    if row.below_top is not None:
        return f"a row {show(row.below_top)} below the finished top"
    if row.above_foot is not None:
        return f"a row {show(row.above_foot)} above the finished foot"
    return f"rows level with {row.level_with}"


def _named(name: str, text: str, room: float) -> Iterator[Block]:
    yield replace(paragraph(name, room, height=0.105), joined=True)
    body = paragraph(text, room, indent=0.25)
    yield replace(body, height=body.height + 0.06)


def order_blocks(plan: Plan, order: Order, show: LengthFormat, room: float) -> Iterator[Block]:
    """The arithmetic of the order, one step a line."""
    yield heading("How much cloth")
    if plan.job.cloth.pieces:
        yield paragraph("What an order of this cloth comes to; the pieces at hand are drawn below.", room)
    for number, step in enumerate(order_lines(plan.resolved, order), 1):
        yield listed(f"{number}.", step, room)
    if show.second is not None:
        yield listed("=", f"{show(order.buy)} to buy; handbook {show(order.handbook)}, guaranteed "
                          f"{show(order.guaranteed)}.", room)  # fmt: skip


def cut_blocks(plan: Plan, show: LengthFormat, room: float) -> Iterator[Block]:
    """The cuts in the order they are made, each with a box to tick."""
    yield heading("Cuts, in order: tick each when it is made")
    for number, placed in enumerate(plan.placements, 1):
        yield _cut_block(number, placed, plan, show, room)


def _cut_block(number: int, placed: Placement, plan: Plan, show: LengthFormat, room: float) -> Block:
    cut, job = placed.cut, plan.job
    row = "" if cut.row is None else f"; first row {show(cut.row)} below the top edge"
    across = f"; from {show(cut.across[0])} to {show(cut.across[1])} across"
    top, leads = show(placed.top), f"; the {cut.leading_edge} selvedge leads"
    if not cut.top_edge.is_end:
        top, leads = f"{top} across, towards the {cut.top_edge} selvedge", f"; the edge at {show(placed.leading)} leads"
    elif cut.across == (0, job.cloth.width):
        across = ""
    leads = leads if _has_sides(placed) else ""
    sewn = "; ".join(turning_lines(cut, job, show))
    first = crosscut_words(placed, plan, show)
    more = f"{f' {first}.' if first else ''}{f' To sew: {sewn}.' if sewn else ''}"
    text = (
        f"{show(cut.length)} long, {cut.way}: piece {placed.piece}, {show(placed.start)} to {show(placed.end)}"
        f"{across}; TOP at {top}{row}{leads}.{more}"
    )
    name = paragraph(f"{number}.  {name_of(cut)}", room, indent=0.38, height=0.105)
    detail = paragraph(text, room, indent=0.38)
    box = Path(rectangle(0.03, 0.02, 0.22, 0.21), INK, 0.016, closed=True)
    lower = [replace(w, at=(w.at[0], w.at[1] + name.height)) for w in detail.shapes if isinstance(w, Words)]
    return Block(name.height + detail.height + 0.07, (box, *name.shapes, *lower))


def _has_sides(placed: Placement) -> bool:
    return placed.cut.hand is not Hand.WHOLE or placed.cut.of > 1


def pull_blocks(plan: Plan, show: LengthFormat, room: float) -> Iterator[Block]:
    """The stops at the table in order, each with the pull before it: how far, from which edge."""
    if not plan.stops:
        return
    yield heading("Stops at the table, and pulls of the cloth")
    for before, stop in zip((None, *plan.stops), plan.stops, strict=False):
        shows = edges_said(stop) or "the cloth between"
        moved = (laid_said(stop, Fraction(0), show),) if before is None else pull_said(before, stop, plan.job, show)
        lit = f"Lit from {show(stop.lit_from)} to {show(stop.lit_to)} of the piece; shows {shows}"
        text = " ".join(f"{sentence}." for sentence in (*(moved or ("The cloth stays as it lies",)), lit))
        yield listed(f"{stop.number}.", f"{name_of(stop.placement.cut)}: {text}", room)


def side_words(placed: Placement) -> str:
    """Which side of TOP leads or joins another cut, seen from the room with TOP up, as the tags say it."""
    cut = placed.cut
    if not _has_sides(placed):
        return ""
    leads, other = ("left", "right") if cut.hand is Hand.RIGHT else ("right", "left")
    if cut.number > 1:
        return f"joins {cut.number - 1}: {leads} of TOP"
    if cut.hand is Hand.WHOLE:
        return f"joins 2: {other} of TOP"
    return f"leading edge: {leads} of TOP"
