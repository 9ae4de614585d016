"""What follows the cutting: folds, seams and pins, small things from what is left, leftovers, and cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.model.choices import Motif, TurnedOver
from jobs.model.cuts import Cut, Edge, Placement, Side
from jobs.model.job import Job
from jobs.model.plan import PlacedThing, Plan, Span
from jobs.packing.leftovers import KEPT_IN
from projector.papers.hung_panel import HungPanel, hung_panels
from projector.papers.sheet.flow import Block, heading, paragraph
from projector.papers.sheet.lengths import LengthFormat
from projector.papers.sheet.turnings import kinds_of
from projector.papers.sheet.words import name_of
from projector.scene.cut_lines import pin_places
from projector.scene.print_marks import sides_at_selvedges

_NAMES_SAID = 3
_PLACES_SAID = 16


def fold_blocks(plan: Plan, show: LengthFormat, room: float) -> Iterator[Block]:
    """Where each kind of cut is folded and seamed, and where pins go when the job says so."""
    yield heading("Folds, seams and pins")
    for text in fold_words(plan, show):
        yield paragraph(text, room)


def fold_words(plan: Plan, show: LengthFormat) -> Iterator[str]:
    """The same in sentences."""
    for words in (_end_words, _side_words, _seamed_words, _pin_words):
        yield from words(plan, show)


def _end_words(plan: Plan, show: LengthFormat) -> Iterator[str]:
    """Heading and hem, with what they are called; of which windows, where these differ."""
    job = plan.job
    yield from _each_once(plan, lambda cut: _heading_words(cut, job, show))
    yield from _each_once(plan, lambda cut: _hem_words(cut, job, show))
    if job.stiffener is not None and any(not job.made_for(cut.window) for cut in plan.cuts):
        yield f"Stiffener: its upper edge {show(job.stiffener)} below the cut edge of the heading."


def _each_once(plan: Plan, words: Callable[[Cut], str]) -> Iterator[str]:
    windows: dict[str, list[str]] = {}
    for cut in _hemmed(plan):
        windows.setdefault(words(cut), []).append(cut.window)
    for text, names in windows.items():
        whose = f" ({_some(list(dict.fromkeys(names)))})" if len(windows) > 1 else ""
        if text:
            yield f"{text}{whose}."


def _some(names: Sequence[str]) -> str:
    more = f" and {len(names) - _NAMES_SAID} more" if len(names) > _NAMES_SAID else ""
    return f"{'; '.join(names[:_NAMES_SAID])}{more}"


def _heading_words(cut: Cut, job: Job, show: LengthFormat) -> str:
    kind = kinds_of(cut, job).heading_kind
    named = f"Heading, {kind}" if kind else "Heading"
    return f"{named}: fold {show(cut.heading)} below the top edge" if cut.heading else ""


def _hem_words(cut: Cut, job: Job, show: LengthFormat) -> str:
    kind, foot = kinds_of(cut, job).hem_kind, cut.hem
    if not foot:
        return ""
    if job.is_turned_twice(cut.window, TurnedOver.HEM):
        named = f"Hem, {kind}, turned twice" if kind else "Hem, turned twice"
        return f"{named}: fold {show(foot / 2)} and then {show(foot)} above the foot edge"
    return f"Hem{f', {kind}' if kind else ''}: fold {show(foot)} above the foot edge"


def _side_hem_words(cut: Cut, job: Job, show: LengthFormat) -> str:
    hem = max(cut.leading_side.hem, cut.return_side.hem)
    if not hem:
        return ""
    twice = f", turned twice, {show(hem / 2)} each time" if job.is_turned_twice(cut.window, TurnedOver.SIDE_HEM) else ""
    return f"Side hems: {show(hem)}{twice}"


def _hemmed(plan: Plan) -> list[Cut]:
    """The cuts that are hemmed, not seamed all round."""
    found = ((cut, plan.job.made_for(cut.window)) for cut in plan.cuts)
    return [cut for cut, made in found if made is None or not made.seamed]


def _seamed_words(plan: Plan, show: LengthFormat) -> Iterator[str]:
    """What is seamed all round, and how far inside its edges."""
    hemmed = _hemmed(plan)
    names: dict[tuple[Fraction, Fraction, Fraction], list[str]] = {}
    for cut in plan.cuts:
        if cut not in hemmed:
            names.setdefault((cut.leading_side.hem, cut.heading, cut.hem), []).append(cut.window)
    for (seam, top, foot), windows in names.items():
        named = list(dict.fromkeys(windows))
        more = f" and {len(named) - _NAMES_SAID} more" if len(named) > _NAMES_SAID else ""
        ends = (
            "" if top == foot == seam else f", and at its ends {show(top)} and {show(foot)}, turned over with the face"
        )
        yield f"Seams of {', '.join(named[:_NAMES_SAID])}{more}: {show(seam)} inside each edge{ends}."


def _side_words(plan: Plan, show: LengthFormat) -> Iterator[str]:
    """Seams and side folds; where cuts of a job differ in them, which cuts have which."""
    kinds = _kinds_of_sides(plan)
    hemmed = [cut for cut in plan.cuts if cut.leading_side.hem or cut.return_side.hem]
    yield from _each_once(replace(plan, cuts=tuple(hemmed)), lambda cut: _side_hem_words(cut, plan.job, show))
    joined = [side for cut in plan.cuts for side in (cut.leading_side, cut.return_side) if side.joined]
    if joined:
        yield f"Seams: {' or '.join(_allowances_left(joined, show))} is left outside each seam line, selvedge and all."
    for sides, cuts in kinds.items():
        whose = f" ({_some([name_of(cut) for cut in cuts])})" if len(kinds) > 1 else ""
        yield f"Sides, from the near selvedge: {'; '.join(_side(*side, show) for side in sides)}{whose}."


def _allowances_left(joined: Iterable[Side], show: LengthFormat) -> tuple[str, ...]:
    return tuple(dict.fromkeys(show(left) for left in sorted({side.line - side.trim for side in joined})))


Sewn = tuple[Fraction, bool, Fraction | None]


def _kinds_of_sides(plan: Plan) -> dict[tuple[Sewn, ...], list[Cut]]:
    """The cuts whose sides lie at the selvedges, by where the near and the far one are sewn and trimmed."""
    kinds: dict[tuple[Sewn, ...], list[Cut]] = {}
    hemmed = {cut.id for cut in _hemmed(plan)}
    for placed in (one for one in plan.placements if one.cut.id in hemmed):
        sides = tuple(_sewn(placed, edge) for edge in sides_at_selvedges(placed.cut))
        if sides:
            kinds.setdefault(sides, []).append(placed.cut)
    return kinds


def _sewn(placed: Placement, edge: Edge) -> Sewn:
    side = placed.cut.leading_side if edge is placed.cut.leading_edge else placed.cut.return_side
    return placed.at(edge, side.line), side.joined, placed.at(edge, side.trim) if side.trim else None


def _side(line: Fraction, joined: bool, trim: Fraction | None, show: LengthFormat) -> str:
    what = f"{'seam' if joined else 'fold'} at {show(line)}"
    return what if trim is None else f"{what}, trim at {show(trim)}"


def _sewn_width(panel: HungPanel) -> Fraction:
    """The flat width between the side folds while it is sewn; what it loses in the wash is lost later."""
    return sum((cut.placement.cut.finished_width for cut in panel.cuts), Fraction(0))


def _pin_words(plan: Plan, show: LengthFormat) -> Iterator[str]:
    """For each width of panel how many pins and where, counted from either side."""
    pins = plan.job.pins
    if pins is None:
        return
    faces = [window.name for window in plan.job.windows if window.made is None]
    panels = [panel for name in faces for panel in hung_panels(plan, name)]
    for width in dict.fromkeys(_sewn_width(panel) for panel in panels):
        places = pin_places(width, pins)
        where = ", ".join(show(place) for place in places[:_PLACES_SAID])
        on = " and so on evenly" if len(places) > _PLACES_SAID else ""
        yield f"Pins along the finished top of a panel {show(width)} wide: {len(places)}, from one side {where}{on}."


def wanted_blocks(plan: Plan, show: LengthFormat, room: float) -> Iterator[Block]:
    """Each thing with its place on a piece; nothing where the job wants none."""
    if not plan.wanted and not plan.unplaced:
        return
    yield heading("Small things, from what is left")
    for thing in plan.wanted:
        yield paragraph(_words(thing, show), room)
    for missing in plan.unplaced:
        yield paragraph(f"No room for {missing.count} of {missing.name}.", room)


def _words(thing: PlacedThing, show: LengthFormat) -> str:
    number = f", {thing.number} of {thing.count}" if thing.count > 1 else ""
    middle = ""
    if thing.motif is Motif.CENTRED:
        along, across = (thing.start + thing.end) / 2, (thing.near + thing.far) / 2
        middle = f"; a motif in its middle, at {show(along)} along and {show(across)} across"
    return (
        f"{thing.name}{number}: piece {thing.piece}, from {show(thing.start)} to {show(thing.end)} along, "
        f"{show(thing.near)} to {show(thing.far)} across{middle}."
    )


CAUTIONS = (
    "The light and this sheet are guides. Measure with a tape before the first cut, and again whenever projector, "
    "table or cloth has been touched.",
    "Never look into the lens of the projector; make the light dark before leaning under it. Fixings above a table "
    "are work for a competent person under local codes.",
    "Close the rotary cutter after every cut, cut away from the body, and keep blades from children.",
    "Finished curtains: keep clear of heaters, and keep cords out of reach of small children. Whether cloth must be "
    "flame-tested is for local codes and competent people to say.",
)


def leftover_blocks(plan: Plan, show: LengthFormat, room: float) -> Iterator[Block]:
    """What is left of each piece: what may be kept one by one, narrower scraps in one line."""
    yield heading("Leftovers")
    scraps: list[Fraction] = []
    found = False
    back = "" if plan.assumed_piece or plan.short else ": take it back"
    for use in plan.pieces:
        if not use.used:
            found = True
            yield paragraph(f"Piece {use.number}: not opened, all {show(use.piece.length)} of it{back}.", room)
            continue
        for span in (*use.leftovers, *use.beside):
            if span.end - span.start < KEPT_IN:
                scraps.append(span.end - span.start)
                continue
            found = True
            yield paragraph(f"Piece {use.number}: {_span_words(span, plan, show)}.", room)
    if scraps:
        what = "scrap" if len(scraps) == 1 else "scraps"
        yield paragraph(
            f"{'And' if found else 'Only'} {len(scraps)} {what} shorter than {show(KEPT_IN)}, "
            f"{show(sum(scraps, Fraction(0)))} in all.",
            room,
        )
    elif not found:
        yield paragraph("Nothing from selvedge to selvedge.", room)


def _span_words(span: Span, plan: Plan, show: LengthFormat) -> str:
    ends = f"from {show(span.start)} to {show(span.end)}"
    if span.across is None:
        return f"{show(span.end - span.start)} by {show(plan.job.cloth.width)}, {ends}"
    near, far = span.across
    return f"{show(span.end - span.start)} by {show(far - near)}, {ends}, from {show(near)} to {show(far)} across"


def caution_blocks(room: float) -> Iterator[Block]:
    """What to take care of, once."""
    yield heading("Take care")
    for caution in CAUTIONS:
        yield replace(paragraph(caution, room), joined=caution is not CAUTIONS[-1])
