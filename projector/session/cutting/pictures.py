"""Pictures that go with a stop: the piece with what is cut of it and what is lit, and the pair as it will hang.

They are drawn pale on dark, as things are seen beside a light; a page shows them as they are.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from jobs.model.cuts import Edge, Hand, Placement
from jobs.model.lengths import show_cut
from jobs.model.plan import Plan, Span
from projector.papers.drawing import Anchor, Drawing, Path, Shape, Words, rectangle
from projector.papers.hung_drawing import panel_drawing
from projector.papers.hung_panel import hung_panels
from projector.papers.piece_shapes import Scale, chevron
from projector.session.cutting.state import Session

Box = tuple[float, float, float, float]
"""Left, upper, right, lower, drawing inches."""

PAPER, INK, QUIET, LIT, DONE, GONE, GOOD, BAD = (
    "#10151d",
    "#f4f1e8",
    "#aab2bd",
    "#ffd24a",
    "#8f99a5",
    "#4a5360",
    "#7fd0a8",
    "#ff9a7a",
)
SMALL_IN = 0.26
SNUG = 0.96
"""Letters as drawn run up to a thirtieth wider than they are reckoned."""
_HATCH_IN = 0.16


def fitted(words: Words, room: float) -> Words:
    """The line, made smaller when it is longer than its room."""
    return replace(words, height=words.height * min(1.0, SNUG * room / words.length)) if words.length else words


def stop_pictures(session: Session) -> dict[str, Drawing]:
    """The ``piece`` on the table and the ``pair`` of the lit cut, each as a drawing of its own."""
    plan = session.setup.plan
    piece = tuple(piece_shapes(session, plan, (0.3, 0.3, _WIDE_IN - 0.3, _PIECE_IN)))
    lowest = max(shape.box[3] for shape in piece if isinstance(shape, Words))
    pair = tuple(hung_shapes(session, plan, (0.3, 0.3, _PAIR_IN[0] - 0.3, _PAIR_IN[1] - 0.2)))
    return {
        "piece": Drawing(_WIDE_IN, lowest + 0.2, piece, PAPER, title="The piece: what is cut, and where the light is"),
        "pair": Drawing(*_PAIR_IN, pair, PAPER, title="The window as it will hang, this panel framed"),
    }


_WIDE_IN, _PIECE_IN, _PAIR_IN = 12.0, 4.2, (8.0, 6.4)


def piece_shapes(session: Session, plan: Plan, box: Box) -> list[Shape]:
    """The piece on the table to scale, first end at the left: what is cut is hatched, what is lit now outlined.

    What was ticked by the last key stands out in the colour of what is good.
    """
    left, upper, right, lower = box
    use = next(use for use in plan.pieces if use.number == session.placement.piece)
    width, length = plan.job.cloth.width, use.piece.length
    per_inch = min((right - left) / float(length), (lower - upper - 2 * SMALL_IN) / float(width))
    scale = Scale(left, upper, per_inch, Span(Fraction(0), length), width)
    outline = rectangle(scale.left, scale.upper, scale.right, scale.lower)
    shapes: list[Shape] = [Path(outline, QUIET, 0.02, plan.job.cloth.colour, closed=True)]
    own = [one for one in plan.placements if one.piece == use.number]
    ticked = session.done[-1] if session.just_ticked and session.done else None
    for one in sorted(own, key=lambda one: one.cut.id == session.placement.cut.id):
        now, gone = one.cut.id == session.placement.cut.id, one.cut.id in session.done
        fresh = one.cut.id == ticked
        corners = _corners(one, scale)
        edge = GOOD if fresh else LIT if now else INK
        shapes.append(Path(corners, edge, 0.07 if now or fresh else 0.025, GONE if gone else None, closed=True))
        shapes += _hatching(corners, GOOD if fresh else QUIET) if gone else []
        shapes += _top(one, corners, LIT if now else INK)
    stop = session.stop
    lit = rectangle(scale.x(stop.lit_from), scale.lower + 0.1, scale.x(stop.lit_to), scale.lower + 0.1)
    shapes.append(Path(lit[:2], LIT, 0.08))
    words = f"piece {use.number}: light from {show_cut(stop.lit_from, plan.job.unit)} to "
    words += show_cut(min(stop.lit_to, length), plan.job.unit)
    shapes.append(fitted(Words(words, (left, scale.lower + 0.1 + SMALL_IN), SMALL_IN, QUIET), right - left))
    return shapes


def _corners(placed: Placement, scale: Scale) -> tuple[tuple[float, float], ...]:
    near, far = placed.cut.across
    return rectangle(scale.x(placed.start), scale.y(far), scale.x(placed.end), scale.y(near))


def _hatching(corners: tuple[tuple[float, float], ...], colour: str) -> list[Shape]:
    """Slanting lines inside a rectangle."""
    (left, upper), (right, lower) = corners[0], corners[2]
    deep, shapes, at = lower - upper, [], left - (lower - upper)
    while at < right:
        low, high = max(left, at), min(right, at + deep)
        if high > low:
            shapes.append(Path(((low, lower - (low - at)), (high, lower - (high - at))), colour, 0.015))
        at += _HATCH_IN
    return list(shapes)


def _top(placed: Placement, corners: tuple[tuple[float, float], ...], colour: str) -> list[Shape]:
    """A chevron pointing to the top edge."""
    (left, upper), (right, lower) = corners[0], corners[2]
    size, edge = min(0.18, (right - left) / 4, (lower - upper) / 4), placed.cut.top_edge
    ends = {Edge.FIRST: left + size, Edge.LAST: right - size, Edge.NEAR: lower - size, Edge.FAR: upper + size}
    tip = (ends[edge], (upper + lower) / 2) if edge.is_end else ((left + right) / 2, ends[edge])
    points = chevron(tip, edge, size, size)
    return [Path(points, PAPER, 0.12), Path(points, colour, 0.05)]


def hung_shapes(session: Session, plan: Plan, box: Box) -> list[Shape]:
    """The panels of the lit cut's window as they will hang, seen from inside the room, with this cut outlined."""
    left, upper, right, lower = box
    cut = session.placement.cut
    panels = hung_panels(plan, cut.window)
    apart = Fraction(5)
    wide = sum((panel.width for panel in panels), apart * (len(panels) - 1))
    tall = max(panel.length for panel in panels)
    per_inch = min((right - left) / float(wide), (lower - upper - 2 * SMALL_IN) / float(tall))
    shapes: list[Shape] = []
    marked: list[Shape] = []
    x = left + (right - left - float(wide) * per_inch) / 2
    for panel in panels:
        shapes += [shape for shape in panel_drawing(plan, panel, (x, upper), per_inch) if isinstance(shape, Path)]
        foot = upper + float(panel.length) * per_inch
        side = x + float(panel.width) * per_inch
        own = panel.hand is cut.hand
        words = Words(panel.hand.value, ((x + side) / 2, foot + SMALL_IN), SMALL_IN, LIT if own else QUIET)
        if panel.hand is not Hand.WHOLE:  # of one panel there is nothing to tell apart
            shapes.append(fitted(replace(words, anchor=Anchor.MIDDLE), side - x))
        for hung in panel.cuts:
            if hung.placement.cut.id == cut.id:
                corners = rectangle(x + float(hung.left) * per_inch, upper, x + float(hung.right) * per_inch, foot)
                marked.append(Path(corners, LIT, 0.09, closed=True))
        x = side + float(apart) * per_inch
    return shapes + marked
