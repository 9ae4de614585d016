"""The pieces to scale and the windows as they will hang, on the cut sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain

from jobs.model.cuts import Hand
from jobs.model.plan import Plan
from jobs.model.records import dataclass
from projector.papers.cloth_picture import bare_words, drawn, tier_shapes
from projector.papers.cut_shapes import CROSSCUT_KEY, key_words
from projector.papers.drawing import INK, QUIET, WARNING, Path, Shape, Words
from projector.papers.hung_drawing import panel_drawing
from projector.papers.hung_panel import HungPanel, hanging, hung_panels
from projector.papers.hung_picture import LineRoom, under_panels
from projector.papers.piece_shapes import Scale, Tier, tiers_of
from projector.papers.sheet.flow import TEXT_IN, Block, heading, moved, paragraph, wrapped_exactly
from projector.papers.sheet.lengths import LengthFormat
from projector.prints.face import face_of

_ABOVE_IN = 0.3
_BELOW_IN = 0.32
_TALLEST_IN = 3.6
_GAP_IN = 0.045


def piece_blocks(plan: Plan, show: LengthFormat, room: float) -> Iterator[Block]:
    """Every piece to scale, in tiers, first end at the left and near selvedge below."""
    yield heading("The cloth, first end at the left, near selvedge below")
    if plan.assumed_piece:
        row = ", a row of the print at the first end" if plan.job.cloth.repeat is not None else ""
        text = f"No piece is given: pieces as ordered are drawn{row}."
        yield replace(paragraph(text, room), joined=True)
    pieces = [tiers_of(plan, use) for use in plan.pieces]
    face = face_of(plan.job.cloth)
    longest = max(tier.span.end - tier.span.start for tiers in pieces for tier in drawn(tiers))
    per_inch = min((room - 0.5) / float(longest), _TALLEST_IN / float(plan.job.cloth.width))
    for tiers in pieces:
        yield replace(_piece_line(plan, tiers[0], show, room), joined=True)
        for tier in drawn(tiers):
            scale = Scale(0.0, _ABOVE_IN, per_inch, tier.span, plan.job.cloth.width)
            lines = [paragraph(words, room) for words in key_words(plan, tier, scale)]
            lines += _flaw_lines(tier, show, room)
            shapes = tuple(_clear(tier_shapes(plan, tier, scale, face)))
            yield Block(scale.lower + _BELOW_IN, shapes, joined=bool(lines))
            yield from (replace(line, joined=line is not lines[-1]) for line in lines)
        for text in bare_words(tiers, show):
            yield paragraph(text, room, colour=QUIET)
    if any(len(plan.shared_length(placed)) > 1 for placed in plan.placements):
        yield paragraph(f"{CROSSCUT_KEY.capitalize()}.", room)


def _flaw_lines(tier: Tier, show: LengthFormat, room: float) -> Iterator[Block]:
    for flaw in tier.use.piece.flaws:
        if tier.span.start <= flaw.start < tier.span.end:
            note = f": {flaw.note}" if flaw.note else ""
            yield paragraph(f"Flaw from {show(flaw.start)} to {show(flaw.end)}{note}", room, colour=WARNING)


def _piece_line(plan: Plan, tier: Tier, show: LengthFormat, room: float) -> Block:
    piece = tier.use.piece
    row = f", first row {show(piece.first_row)} from the first end" if plan.job.cloth.repeat else ""
    lot = f", dye lot {piece.dye_lot}" if piece.dye_lot else ""
    size = f"{show(piece.length)} long, {show(plan.job.cloth.width)} wide"
    return paragraph(f"Piece {tier.use.number}: {size}{lot}{row}", room)


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


_BETWEEN_IN = 0.35
_APART_IN = 3.0
_TALLEST_PANEL_IN = 2.4
_UNLIKE = 2.2
"""Windows side by side are drawn to one scale unless one of them would be made so many times smaller by it."""
_TOP_IN = 0.32
_LEAST_IN = 0.07
_NAME_IN = 0.105
_LINE_IN = 0.2
_NAMES_SAID = 10

Panels = tuple[HungPanel, ...]


@dataclass(frozen=True)
class _Alike:
    """Windows that look the same, drawn once: their names in lines, their panels, paper inches to one of theirs."""

    title: tuple[str, ...]
    panels: Panels
    per_inch: float


def hung_blocks(plan: Plan, show: LengthFormat, room: float) -> Iterator[Block]:
    """Each window as it will hang, seen from inside the room; windows that look the same are drawn once."""
    yield heading("As it will hang, seen from inside the room")
    names: dict[Panels, list[str]] = {}
    for window in hanging(plan):
        if panels := hung_panels(plan, window.name):
            names.setdefault(panels, []).append(window.name)
    half = (room - _BETWEEN_IN) / 2
    alike = [_Alike(_title(found, half), panels, _scale(panels, half)) for panels, found in names.items()]
    for beside in (alike[at : at + 2] for at in range(0, len(alike), 2)):
        scales = [one.per_inch for one in beside]
        if max(scales) / min(scales) < _UNLIKE:
            beside = [replace(one, per_inch=min(scales)) for one in beside]
        lines = max(len(one.title) for one in beside)
        blocks = [_window(plan, show, one, lines, half) for one in beside]
        shapes = (moved(block.shapes, at * (half + _BETWEEN_IN), 0) for at, block in enumerate(blocks))
        yield Block(max(block.height for block in blocks), tuple(chain.from_iterable(shapes)))


def _title(names: Sequence[str], room: float) -> tuple[str, ...]:
    """The names of windows that look the same, in lines."""
    text = ", ".join(names[:_NAMES_SAID])
    more = f" and {len(names) - _NAMES_SAID} more" if len(names) > _NAMES_SAID else ""
    return tuple(wrapped_exactly(text + more, _NAME_IN, room))


def _scale(panels: Panels, room: float) -> float:
    """Paper inches to an inch of the window."""
    tallest = float(max(panel.length for panel in panels))
    return min(room / _wide(panels), _TALLEST_PANEL_IN / tallest)


def _wide(panels: Panels) -> float:
    return float(sum(panel.width for panel in panels)) + _APART_IN * (len(panels) - 1)


def _window(plan: Plan, show: LengthFormat, drawn: _Alike, lines: int, room: float) -> Block:
    """A title and under it the panels, as low as under a title of so many lines."""
    panels, per_inch = drawn.panels, drawn.per_inch
    shapes: list[Shape] = [Words(text, (0.0, 0.12 + _LINE_IN * n), _NAME_IN, INK) for n, text in enumerate(drawn.title)]
    top = _TOP_IN + _LINE_IN * (lines - 1)
    width = _wide(panels) * per_inch
    x = left = (room - width) / 2
    shapes.append(Path(((left, top - 0.04), (left + width, top - 0.04)), INK, 0.03))
    middles = []
    for panel in panels:
        across = float(panel.width) * per_inch
        shapes += panel_drawing(plan, panel, (x, top), per_inch)
        middles.append(x + across / 2)
        x += across + _APART_IN * per_inch
    tallest = float(max(panel.length for panel in panels)) * per_inch
    shapes += _under(panels, show, middles, top + tallest + 0.14, room)
    return Block(top + tallest + 0.55, tuple(shapes))


def _under(panels: Panels, show: LengthFormat, middles: Sequence[float], y: float, room: float) -> list[Words]:
    """Hand and size under each panel."""
    sizes = [f"{show(panel.width)} x {show(panel.length)}" for panel in panels]
    hands = ["" if panel.hand is Hand.WHOLE else panel.hand.value for panel in panels]
    return under_panels(hands, sizes, middles, LineRoom((room / 2, y), room, TEXT_IN, _LEAST_IN), 0.18)
