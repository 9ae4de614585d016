"""The drawn parts of the cut sheet: the pieces to scale and the windows as they will hang."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jobs.lengths import show_cut
from jobs.plan import Plan
from projector.papers.cut_shapes import cut_shapes
from projector.papers.drawing import Anchor, Path, Shape, Words
from projector.papers.hung_panel import hung_panels
from projector.papers.hung_picture import panel_shapes
from projector.papers.inks import INK, WARNING
from projector.papers.piece_shapes import Scale, flaw_shapes, ground_shapes, leftover_shapes, row_shapes, ruler_shapes
from projector.papers.sheet.flow import TEXT_IN, Block, cut_short, heading, moved, paragraph
from projector.papers.sheet.say import Say
from projector.papers.strips import Strip, strips_of

_ABOVE_IN = 0.3
_BELOW_IN = 0.32
_TALLEST_IN = 3.6
_BETWEEN_IN = 0.35
_GAP_IN = 0.045


def piece_blocks(plan: Plan, say: Say, room: float) -> Iterator[Block]:
    """Every piece to scale, in strips, first end at the left and near selvedge below."""
    yield heading("The cloth, first end at the left, near selvedge below")
    if plan.assumed_piece:
        said = "No piece is given: pieces as ordered are drawn, a row of the print at the first end."
        yield replace(paragraph(said, room), joined=True)
    strips = [strip for use in plan.pieces for strip in strips_of(plan, use)]
    longest = max(strip.span.end - strip.span.start for strip in strips)
    per_inch = min((room - 0.5) / float(longest), _TALLEST_IN / float(plan.job.cloth.width))
    for strip in strips:
        if strip.span.start == 0:
            yield replace(_piece_line(plan, strip, say, room), joined=True)
        scale = Scale(0.0, _ABOVE_IN, per_inch, strip.span, plan.job.cloth.width)
        yield Block(scale.lower + _BELOW_IN, tuple(_clear(_strip_shapes(plan, strip, scale))))
        for flaw in strip.use.piece.flaws:
            if strip.span.start <= flaw.start < strip.span.end:
                note = f": {flaw.note}" if flaw.note else ""
                yield paragraph(f"Flaw from {say(flaw.start)} to {say(flaw.end)}{note}", room, colour=WARNING)


def _piece_line(plan: Plan, strip: Strip, say: Say, room: float) -> Block:
    piece = strip.use.piece
    row = f", first row {say(piece.first_row)} from the first end" if plan.job.cloth.repeat else ""
    return paragraph(f"Piece {strip.use.number}: {say(piece.length)} long, {say(plan.job.cloth.width)} wide{row}", room)


def _strip_shapes(plan: Plan, strip: Strip, scale: Scale) -> list[Shape]:
    return [
        *ground_shapes(plan, scale),
        *(shape for placed in strip.placements for shape in cut_shapes(plan, placed, scale, lettered=False)),
        *row_shapes(plan, strip, scale),
        *leftover_shapes(plan, strip, scale),
        *flaw_shapes(strip, scale),
        *(shape for placed in strip.placements for shape in cut_shapes(plan, placed, scale, lettered=True)),
        *ruler_shapes(plan, scale),
    ]


def _clear(shapes: list[Shape]) -> Iterator[Shape]:
    """The shapes without letters that would lie over earlier ones: cuts side by side say their places once."""
    kept: list[tuple[float, float, float, float]] = []
    for shape in shapes:
        if isinstance(shape, Words):
            left, upper, right, lower = shape.box
            if any(left - _GAP_IN < b[2] and b[0] < right + _GAP_IN and upper < b[3] and b[1] < lower for b in kept):
                continue
            kept.append(shape.box)
        yield shape


def hung_blocks(plan: Plan, say: Say, room: float) -> Iterator[Block]:
    """Each window as it will hang, seen from inside the room; two windows beside each other where there is room."""
    yield heading("As it will hang, seen from inside the room")
    names = [window.name for window in plan.job.windows if hung_panels(plan, window.name)]
    half = (room - _BETWEEN_IN) / 2
    for left, right in zip(names[::2], [*names[1::2], None], strict=False):
        first = _window(plan, left, half)
        second = _window(plan, right, half) if right is not None else Block(0.0, ())
        shapes = (*first.shapes, *moved(second.shapes, half + _BETWEEN_IN, 0.0))
        yield Block(max(first.height, second.height), shapes)


def _window(plan: Plan, name: str, room: float) -> Block:
    panels = hung_panels(plan, name)
    apart = 3.0
    width = float(sum(panel.width for panel in panels)) + apart * (len(panels) - 1)
    tallest = float(max(panel.length for panel in panels))
    per_inch = min(room / width, 2.4 / tallest)
    shapes: list[Shape] = [Words(cut_short(name, 0.105, room), (0.0, 0.12), 0.105, INK)]
    x = (room - width * per_inch) / 2
    shapes.append(Path(((x, 0.28), (x + width * per_inch, 0.28)), INK, 0.03))
    for panel in panels:
        across = float(panel.width) * per_inch
        drawn = panel_shapes(plan, panel, x, 0.32, per_inch)
        shapes += [shape for shape in drawn if isinstance(shape, Path)]
        at = 0.32 + float(panel.length) * per_inch + 0.14
        size = f"{show_cut(panel.width, plan.job.unit)} x {show_cut(panel.length, plan.job.unit)}"
        for row, text in enumerate((panel.hand.value, size)):
            height = min(TEXT_IN, TEXT_IN * 0.98 * across / max(Words(text, (0, 0), TEXT_IN).length, 1e-6))
            shapes.append(Words(text, (x + across / 2, at + 0.18 * row), height, INK, Anchor.MIDDLE))
        x += across + apart * per_inch
    return Block(0.32 + tallest * per_inch + 0.55, tuple(shapes))
