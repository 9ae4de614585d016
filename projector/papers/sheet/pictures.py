"""The pieces to scale, on the cut sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jobs.plan import Plan
from projector.papers.cut_shapes import key_words
from projector.papers.drawing import Shape, Words
from projector.papers.inks import QUIET, WARNING
from projector.papers.piece_shapes import Scale
from projector.papers.sheet.flow import Block, heading, paragraph
from projector.papers.sheet.say import Say
from projector.papers.strip_shapes import bare_words, drawn, strip_shapes
from projector.papers.strips import Strip, strips_of
from projector.prints.face import face_of

_ABOVE_IN = 0.3
_BELOW_IN = 0.32
_TALLEST_IN = 3.6
_GAP_IN = 0.045


def piece_blocks(plan: Plan, say: Say, room: float) -> Iterator[Block]:
    """Every piece to scale, in strips, first end at the left and near selvedge below."""
    yield heading("The cloth, first end at the left, near selvedge below")
    if plan.assumed_piece:
        said = "No piece is given: pieces as ordered are drawn, a row of the print at the first end."
        yield replace(paragraph(said, room), joined=True)
    pieces = [strips_of(plan, use) for use in plan.pieces]
    face = face_of(plan.job.cloth)
    longest = max(strip.span.end - strip.span.start for strips in pieces for strip in drawn(strips))
    per_inch = min((room - 0.5) / float(longest), _TALLEST_IN / float(plan.job.cloth.width))
    for strips in pieces:
        yield replace(_piece_line(plan, strips[0], say, room), joined=True)
        for strip in drawn(strips):
            scale = Scale(0.0, _ABOVE_IN, per_inch, strip.span, plan.job.cloth.width)
            lines = [paragraph(words, room) for words in key_words(plan, strip, scale)]
            lines += _flaw_lines(strip, say, room)
            shapes = tuple(_clear(strip_shapes(plan, strip, scale, face)))
            yield Block(scale.lower + _BELOW_IN, shapes, joined=bool(lines))
            yield from (replace(line, joined=line is not lines[-1]) for line in lines)
        for said in bare_words(strips, say):
            yield paragraph(said, room, colour=QUIET)


def _flaw_lines(strip: Strip, say: Say, room: float) -> Iterator[Block]:
    for flaw in strip.use.piece.flaws:
        if strip.span.start <= flaw.start < strip.span.end:
            note = f": {flaw.note}" if flaw.note else ""
            yield paragraph(f"Flaw from {say(flaw.start)} to {say(flaw.end)}{note}", room, colour=WARNING)


def _piece_line(plan: Plan, strip: Strip, say: Say, room: float) -> Block:
    piece = strip.use.piece
    row = f", first row {say(piece.first_row)} from the first end" if plan.job.cloth.repeat else ""
    lot = f", dye lot {piece.dye_lot}" if piece.dye_lot else ""
    size = f"{say(piece.length)} long, {say(plan.job.cloth.width)} wide"
    return paragraph(f"Piece {strip.use.number}: {size}{lot}{row}", room)


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
