"""The piece to scale: where each cut lies, which way its top points, rows, flaws and leftovers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np

from jobs.cutting.columns import rows_apart
from jobs.model.cuts import Cut
from jobs.model.lengths import show_cut, show_length
from jobs.model.plan import Plan
from projector.papers.cut_shapes import CROSSCUT_KEY, crosscut_shapes, cut_shapes, key_words
from projector.papers.drawing import INK, QUIET, WARNING, Anchor, Drawing, Raster, Shape, Words
from projector.papers.piece_shapes import (
    PIXELS_PER_INCH,
    Scale,
    Tier,
    flaw_shapes,
    ground_shapes,
    leftover_shapes,
    printed_shapes,
    row_shapes,
    ruler_shapes,
    tiers_of,
)
from projector.papers.thing_shapes import clear_of_things, thing_shapes
from projector.prints.face import Face, face_of, png_of
from projector.words.proof import proof_words

_SMALL_IN = 0.095
_POSITIONS_IN = 0.12
_BETWEEN_IN = 0.13
"""Least room between two positions, so that they are not read as one."""
_ROUNDING_IN = 1e-9


def tier_shapes(plan: Plan, tier: Tier, scale: Scale, face: Face) -> list[Shape]:
    """All that is drawn of a tier; each cut bears its number in the order of cutting."""
    return [
        *ground_shapes(plan, scale, face.ground),
        *_print(plan, tier, scale, face),
        *_cuts(plan, tier, scale, lettered=False),
        *row_shapes(plan, tier, scale),
        *clear_of_things(leftover_shapes(plan, tier, scale), tier, scale),
        *thing_shapes(tier, scale),
        *flaw_shapes(tier, scale),
        *crosscut_shapes(plan, tier, scale),
        *_cuts(plan, tier, scale, lettered=True),
        *position_words(plan, tier, scale),
        *ruler_shapes(plan, scale),
    ]


def _cuts(plan: Plan, tier: Tier, scale: Scale, *, lettered: bool) -> Iterator[Shape]:
    for number, placed in zip(tier.numbers, tier.placements, strict=True):
        yield from cut_shapes(plan, placed, number, scale, lettered=lettered)


def _print(plan: Plan, tier: Tier, scale: Scale, face: Face) -> Iterator[Shape]:
    """The print between the selvedges, past the squaring."""
    cloth, per_inch = plan.job.cloth, scale.per_inch
    start, end = float(max(scale.span.start, plan.job.allowances.squaring)), float(scale.span.end)
    near, far = float(cloth.near_selvedge), float(cloth.width - cloth.far_selvedge)
    first_row = float(tier.use.piece.first_row)
    left, upper = (
        scale.left + (start - float(scale.span.start)) * per_inch,
        scale.upper + float(cloth.far_selvedge) * per_inch,
    )
    if face.shapes is not None:
        yield from printed_shapes(
            face, first_row, (start, end), (near, far),
            lambda along, across: (left + (along - start) * per_inch, upper + (far - across) * per_inch),
        )  # fmt: skip
        return
    wide, high = (max(2, round(inches * per_inch * PIXELS_PER_INCH)) for inches in (end - start, far - near))
    along = start + (np.arange(wide) + 0.5) * (end - start) / wide
    across = far - (np.arange(high) + 0.5) * (far - near) / high
    places = np.broadcast_arrays(along[None, :] - first_row, across[:, None])
    pixels = face.sized(PIXELS_PER_INCH * per_inch).colours_at(*places)
    yield Raster((left, upper), (end - start) * per_inch, (far - near) * per_inch, png_of(pixels))


def position_words(plan: Plan, tier: Tier, scale: Scale) -> list[Words]:
    """Where shared lengths are cut off, and cuts that reach the far selvedge, or lie sideways, above the tier.

    An edge that two cuts share is said once; positions that would touch are moved apart, or the later one left out.
    """
    found: list[Words] = []
    for words in _apart(_edges(plan, tier, scale)):
        if not found or found[-1].box[2] + _BETWEEN_IN <= words.box[0] + _ROUNDING_IN:
            found.append(words)
    return found


def _edges(plan: Plan, tier: Tier, scale: Scale) -> list[Words]:
    """The positions from left to right, a start over its edge to the right, an end to the left of it."""
    far = [p for p in tier.placements if _is_uppermost(p.cut, scale) or len(plan.shared_length(p)) > 1]
    starts = {p.crosscuts[0] for p in far if p.crosscuts[0] >= scale.span.start}
    ends = {p.crosscuts[1] for p in far if p.crosscuts[1] <= scale.span.end}
    found = []
    for edge in sorted(starts | ends):
        anchor = Anchor.START if edge not in ends else Anchor.END if edge not in starts else Anchor.MIDDLE
        at = (scale.x(edge), scale.upper - _POSITIONS_IN)
        found.append(Words(show_cut(edge, plan.job.unit), at, _SMALL_IN, INK, anchor))
    return found


def _is_uppermost(cut: Cut, scale: Scale) -> bool:
    return cut.parted[1] == scale.cloth_width


def _apart(words: Sequence[Words]) -> list[Words]:
    """Neighbours that stand too near each other each moved half of what is missing."""
    moved = list(words)
    for at in range(1, len(moved)):
        before, after = moved[at - 1], moved[at]
        missing = before.box[2] + _BETWEEN_IN - after.box[0]
        if 0 < missing <= _BETWEEN_IN:
            moved[at - 1] = replace(before, at=(before.at[0] - missing / 2, before.at[1]))
            moved[at] = replace(after, at=(after.at[0] + missing / 2, after.at[1]))
    return moved


def drawn(tiers: Sequence[Tier]) -> list[Tier]:
    """The tiers that are worth drawing: those with a cut or a small thing in them."""
    return [tier for tier in tiers if tier.placements or tier.things]


def bare_words(tiers: Sequence[Tier], show: Callable[[Fraction], str]) -> list[str]:
    """What is said in place of tiers of one piece that hold no cut, one line for each stretch of them."""
    found: list[str] = []
    runs: list[list[Tier]] = []
    for tier in tiers:
        if tier.placements or tier.things:
            continue
        if runs and runs[-1][-1].span.end == tier.span.start:
            runs[-1].append(tier)
        else:
            runs.append([tier])
    for run in runs:
        if run[0].span.start == 0 and run[-1].span.end == run[0].use.piece.length:
            found.append("Not opened: no cut lies on it.")
        else:
            ends = (show(edge) for edge in (run[0].span.start, run[-1].span.end))
            found.append(f"From {' to '.join(ends)} no cut lies on it.")
    return found


PAGE_IN = 12.8
MARGIN_IN = 0.5
_HEAD_IN = 0.95
_TITLE_IN = 0.2
_TEXT_IN = 0.11
_ABOVE_IN = 0.32
_BELOW_IN = 0.5
_LINE_IN = 0.22


Tiers = tuple[tuple[Tier, Scale], ...]
"""The tiers that are drawn, and where each stands on the sheet."""


def cloth_picture(plan: Plan, face: Face | None = None) -> Drawing:
    """The plan's pieces to scale, in tiers from left (first end) to right, near selvedge below, with the print of
    ``face`` (None: the job's own).

    Raises ValueError for a plan that lays nothing, because cloth is missing.
    """
    return cloth_with_tiers(plan, face)[0]


def cloth_with_tiers(plan: Plan, face: Face | None = None) -> tuple[Drawing, Tiers]:
    """As ``cloth_picture``, and where on it the cloth lies."""
    if not plan.pieces:
        raise ValueError("a plan without pieces has no picture")
    face = face or face_of(plan.job.cloth)
    pieces = [tiers_of(plan, use) for use in plan.pieces]
    longest = max(tier.span.end - tier.span.start for tiers in pieces for tier in drawn(tiers))
    per_inch = (PAGE_IN - 2 * MARGIN_IN) / float(longest)
    shapes: list[Shape] = _title(plan)
    stand: list[tuple[Tier, Scale]] = []
    y = MARGIN_IN + _HEAD_IN
    for tiers in pieces:
        shapes.append(Words(_piece_words(plan, tiers[0]), (MARGIN_IN, y), _TEXT_IN * 1.15, INK))
        y += _ABOVE_IN
        for tier in drawn(tiers):
            y += _ABOVE_IN
            scale = Scale(MARGIN_IN, y, per_inch, tier.span, plan.job.cloth.width)
            stand.append((tier, scale))
            shapes += tier_shapes(plan, tier, scale, face)
            y = scale.lower + _BELOW_IN
            for line in key_words(plan, tier, scale):
                shapes.append(Words(line, (MARGIN_IN, y), _TEXT_IN, INK))
                y += _LINE_IN
            for line in _notes(plan, tier):
                shapes.append(Words(line, (MARGIN_IN, y), _TEXT_IN, WARNING))
                y += _LINE_IN
        for line in bare_words(tiers, lambda length: show_cut(length, plan.job.unit)):
            shapes.append(Words(line, (MARGIN_IN, y), _TEXT_IN, QUIET))
            y += _LINE_IN
    for line in _footer(plan):
        shapes.append(_fitted(Words(line, (MARGIN_IN, y + 0.1), _TEXT_IN, INK), PAGE_IN - 2 * MARGIN_IN))
        y += _LINE_IN
    title = f"{plan.job.title}: cuts on the cloth"
    return Drawing(PAGE_IN, y + 0.1 - _LINE_IN + MARGIN_IN, tuple(shapes), title=title), tuple(stand)


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


def _piece_words(plan: Plan, tier: Tier) -> str:
    piece, unit = tier.use.piece, plan.job.unit
    what = "One piece as ordered" if plan.assumed_piece else f"Piece {tier.use.number}"
    row = f"; first row {show_cut(piece.first_row, unit)} from the first end" if plan.job.cloth.repeat else ""
    lot = f", dye lot {piece.dye_lot}" if piece.dye_lot else ""
    return f"{what}: {show_cut(piece.length, unit)}{lot}{row}"


def _notes(plan: Plan, tier: Tier) -> list[str]:
    unit = plan.job.unit
    return [
        f"Flaw from {show_cut(flaw.start, unit)} to {show_cut(flaw.end, unit)}"
        + (f": {flaw.note}" if flaw.note else "")
        for flaw in tier.use.piece.flaws
        if tier.span.start <= flaw.start < tier.span.end
    ]


def _footer(plan: Plan) -> Iterator[str]:
    """What is used, and what the lines mean that are on the picture."""
    used = sum((use.used for use in plan.pieces), Fraction(0))
    proof = f"; {proof_words(plan)}" if plan.proved_shortest else ""
    yield f"Used: {show_length(used, plan.job.unit)}{proof}"
    sides = [side for cut in plan.cuts for side in (cut.leading_side, cut.return_side)]
    shared = any(len(plan.shared_length(placed)) > 1 for placed in plan.placements)
    keys = (
        (CROSSCUT_KEY, shared),
        ("dashed along a cut: where it is seamed", any(side.joined for side in sides)),
        ("pale at its side: trimmed before it is sewn", any(side.trim for side in sides)),
    )
    said = [key for key, is_there in keys if is_there]
    if said:
        yield "; ".join(said).capitalize()
