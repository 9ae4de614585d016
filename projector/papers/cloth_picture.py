"""The piece to scale: where each cut lies, which way its top points, rows, flaws and leftovers."""

from __future__ import annotations

from fractions import Fraction

from jobs.cutting.columns import rows_apart
from jobs.model.lengths import show_cut, show_length
from jobs.plan import Plan
from projector.papers.cut_shapes import key_words
from projector.papers.drawing import Drawing, Shape, Words
from projector.papers.inks import INK, QUIET, WARNING
from projector.papers.piece_shapes import Scale
from projector.papers.strip_shapes import bare_words, drawn, strip_shapes
from projector.papers.strips import Strip, strips_of
from projector.prints.face import Face, face_of

PAGE_IN = 12.8
MARGIN_IN = 0.5
_HEAD_IN = 0.95
_TITLE_IN = 0.2
_TEXT_IN = 0.11
_ABOVE_IN = 0.32
_BELOW_IN = 0.5
_LINE_IN = 0.22


def cloth_picture(plan: Plan, face: Face | None = None) -> Drawing:
    """The plan's pieces to scale, in strips from left (first end) to right, near selvedge below, with the print of
    ``face`` (None: the job's own).

    Raises ValueError for a plan that lays nothing, because cloth is missing.
    """
    if not plan.pieces:
        raise ValueError("a plan without pieces has no picture")
    face = face or face_of(plan.job.cloth)
    pieces = [strips_of(plan, use) for use in plan.pieces]
    longest = max(strip.span.end - strip.span.start for strips in pieces for strip in drawn(strips))
    per_inch = (PAGE_IN - 2 * MARGIN_IN) / float(longest)
    shapes: list[Shape] = _title(plan)
    y = MARGIN_IN + _HEAD_IN
    for strips in pieces:
        shapes.append(Words(_piece_words(plan, strips[0]), (MARGIN_IN, y), _TEXT_IN * 1.15, INK))
        y += _ABOVE_IN
        for strip in drawn(strips):
            y += _ABOVE_IN
            scale = Scale(MARGIN_IN, y, per_inch, strip.span, plan.job.cloth.width)
            shapes += strip_shapes(plan, strip, scale, face)
            y = scale.lower + _BELOW_IN
            for line in key_words(plan, strip, scale):
                shapes.append(Words(line, (MARGIN_IN, y), _TEXT_IN, INK))
                y += _LINE_IN
            for line in _notes(plan, strip):
                shapes.append(Words(line, (MARGIN_IN, y), _TEXT_IN, WARNING))
                y += _LINE_IN
        for line in bare_words(strips, lambda length: show_cut(length, plan.job.unit)):
            shapes.append(Words(line, (MARGIN_IN, y), _TEXT_IN, QUIET))
            y += _LINE_IN
    shapes.append(Words(_footer(plan), (MARGIN_IN, y + 0.1), _TEXT_IN, INK))
    return Drawing(PAGE_IN, y + 0.1 + MARGIN_IN, tuple(shapes), title=f"{plan.job.title}: cuts on the cloth")


def _title(plan: Plan) -> list[Shape]:
    cloth = plan.job.cloth
    width = show_cut(cloth.width, plan.job.unit)
    second = f"{cloth.name}, {width} wide"
    if (apart := rows_apart(cloth)) is not None:
        second += f", rows every {show_cut(apart, plan.job.unit)}"
    room = PAGE_IN - 2 * MARGIN_IN
    return [
        _fitted(Words(plan.job.title, (MARGIN_IN, MARGIN_IN + 0.08), _TITLE_IN, INK), room),
        _fitted(Words(second, (MARGIN_IN, MARGIN_IN + 0.42), _TEXT_IN * 1.15, QUIET), room),
    ]


def _fitted(words: Words, room: float) -> Words:
    """The line, made smaller when it is longer than its room."""
    share = min(1.0, room / words.length) if words.length else 1.0
    return Words(words.text, words.at, words.height * share, words.colour, words.anchor)


def _piece_words(plan: Plan, strip: Strip) -> str:
    piece, unit = strip.use.piece, plan.job.unit
    what = "One piece as ordered" if plan.assumed_piece else f"Piece {strip.use.number}"
    row = f"; first row {show_cut(piece.first_row, unit)} from the first end" if plan.job.cloth.repeat else ""
    lot = f", dye lot {piece.dye_lot}" if piece.dye_lot else ""
    return f"{what}: {show_cut(piece.length, unit)}{lot}{row}"


def _notes(plan: Plan, strip: Strip) -> list[str]:
    unit = plan.job.unit
    return [
        f"Flaw from {show_cut(flaw.start, unit)} to {show_cut(flaw.end, unit)}"
        + (f": {flaw.note}" if flaw.note else "")
        for flaw in strip.use.piece.flaws
        if strip.span.start <= flaw.start < strip.span.end
    ]


def _footer(plan: Plan) -> str:
    used = sum((use.used for use in plan.pieces), Fraction(0))
    proof = "; no placement is shorter" if plan.proved_shortest else ""
    return f"Used: {show_length(used, plan.job.unit)}{proof}"
