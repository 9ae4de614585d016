"""What is left of the cloth, and the cautions that close the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from jobs.packing.leftovers import KEPT_IN
from jobs.plan import Plan, Span
from projector.papers.sheet.flow import Block, heading, paragraph
from projector.papers.sheet.say import Say

CAUTIONS = (
    "The light and this sheet are guides. Measure with a tape before the first cut, and again whenever projector, "
    "table or cloth has been touched.",
    "Never look into the lens of the projector; make the light dark before leaning under it. Fixings above a table "
    "are work for a competent person under local codes.",
    "Close the rotary cutter after every cut, cut away from the body, and keep blades from children.",
    "Finished curtains: keep clear of heaters, and keep cords out of reach of small children. Whether cloth must be "
    "flame-tested is for local codes and competent people to say.",
)


def leftover_blocks(plan: Plan, say: Say, room: float) -> Iterator[Block]:
    """What is left of each piece: what may be kept one by one, narrower scraps in one line."""
    yield heading("Leftovers")
    scraps: list[Fraction] = []
    found = False
    for use in plan.pieces:
        if not use.used:
            found = True
            yield paragraph(f"Piece {use.number}: not opened, all {say(use.piece.length)} of it.", room)
            continue
        for span in (*use.leftovers, *use.beside):
            if span.end - span.start < KEPT_IN:
                scraps.append(span.end - span.start)
                continue
            found = True
            yield paragraph(f"Piece {use.number}: {_span_words(span, plan, say)}.", room)
    if scraps:
        what = "scrap" if len(scraps) == 1 else "scraps"
        yield paragraph(
            f"{'And' if found else 'Only'} {len(scraps)} {what} shorter than {say(KEPT_IN)}, "
            f"{say(sum(scraps, Fraction(0)))} in all.",
            room,
        )
    elif not found:
        yield paragraph("Nothing from selvedge to selvedge.", room)


def _span_words(span: Span, plan: Plan, say: Say) -> str:
    ends = f"from {say(span.start)} to {say(span.end)}"
    if span.across is None:
        return f"{say(span.end - span.start)} by {say(plan.job.cloth.width)}, {ends}"
    near, far = span.across
    return f"{say(span.end - span.start)} by {say(far - near)}, {ends}, from {say(near)} to {say(far)} across"


def caution_blocks(room: float) -> Iterator[Block]:
    """What to take care of, once."""
    yield heading("Take care")
    for caution in CAUTIONS:
        yield replace(paragraph(caution, room), joined=caution is not CAUTIONS[-1])
