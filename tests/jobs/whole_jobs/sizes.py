"""How large a panel is, which way it lies and what is turned over at its edges, held against its part."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from jobs.model.choices import BorderLeads
from jobs.model.cuts import Cut, Edge, Hand, Way
from tests.jobs.packing.seam_checker import count_faults
from tests.jobs.whole_jobs.panel import TOWARDS, Panel
from tests.jobs.whole_jobs.print_plane import ZERO, about_a_line_across, about_a_line_along


def size_faults(panel: Panel) -> Iterator[str]:
    """Everything that is wrong with the panel as a thing to sew."""
    last = len(panel.placed) - 1
    for at, one in enumerate(panel.placed):
        outer = {one.cut.leading_edge} if at == 0 else set()
        outer |= {one.cut.leading_edge.opposite} if at == last else set()
        yield from _size(panel, one.cut)
        yield from _way(panel, one.cut)
        yield from _sides(panel, one.cut, outer)
        if one.cut.number != at + 1 or one.cut.of != last + 1:
            yield f"cut {at + 1} of {last + 1} is called {one.cut.number} of {one.cut.of}"
    yield from _width(panel)


def _size(panel: Panel, cut: Cut) -> Iterator[str]:
    """Cut length = (finished length + heading + hem) / (1 - shrinkage), and so are its turnings."""
    kept, sewn = panel.kept[0], panel.part.turnings
    low, high = cut.across
    height = cut.length if cut.top_edge.is_end else high - low
    for name, has, must in (
        ("tall", height, panel.part.finished + sewn.heading + sewn.hem),
        ("in the heading", cut.heading, sewn.heading),
        ("in the hem", cut.hem, sewn.hem),
    ):
        if has * kept != must:
            yield f"{has} {name} instead of {must / kept}"
    if low < 0 or high > panel.cloth.width or low >= high:
        yield "beyond the selvedges"


def _way(panel: Panel, cut: Cut) -> Iterator[str]:
    """Its top where the tops of the motifs point, its leading edge in the middle of the window as seen hung."""
    cloth, up, lead = panel.cloth, TOWARDS[cut.top_edge], TOWARDS[cut.leading_edge]
    if cut.way is not panel.placed[0].cut.way:
        yield "its cuts lie several ways"
    tops = Edge.FAR if panel.sideways else Edge(cloth.print.top_towards.value)
    if (cut.top_edge is tops) is (cut.way is Way.TURNED) or cut.top_edge.is_end is not tops.is_end:
        yield f"its top lies towards the {cut.top_edge.value}"
    if cut.way is Way.TURNED and cloth.print.one_way:
        yield "one-way cloth is turned"
    if cut.way is Way.FACE_DOWN and not cloth.faces_alike:
        yield "used face down"
    line = about_a_line_along(cloth) if panel.sideways else about_a_line_across(cloth)
    if cut.way is Way.TURNED and cloth.repeat is not None and line is None:
        yield "turned, and the print does not mirror so"
    # Hung up, seen from the front: right x up is +1 where the face that lay up is seen.
    right = lead if panel.hand is not Hand.RIGHT else (-lead[0], -lead[1])
    turns = right[0] * up[1] - right[1] * up[0]
    if turns != (-1 if cut.way is Way.FACE_DOWN else 1):
        yield f"the {cut.leading_edge.value} edge leads"
    is_face = panel.part.name in {window.name for window in panel.plan.job.windows if window.made is None}
    both = cloth.border is not None and cloth.border_leads is BorderLeads.BOTH
    if both and is_face and panel.hand is not Hand.WHOLE and cut.leading_edge.value != cloth.border:
        yield "its border does not lead"


def _sides(panel: Panel, cut: Cut, outer: set[Edge]) -> Iterator[str]:
    """Outer sides are hemmed, no unprinted strip in sight; all others are seamed."""
    cloth, hem = panel.cloth, panel.part.turnings.side / panel.kept[1]
    strips = {Edge.NEAR: (cloth.near_selvedge, cut.across[0] == 0)}
    strips[Edge.FAR] = (cloth.far_selvedge, cut.across[1] == cloth.width)
    for edge, side in ((cut.leading_edge, cut.leading_side), (cut.leading_edge.opposite, cut.return_side)):
        if side.joined is (edge in outer):
            yield f"its {edge.value} side is {'seamed' if side.joined else 'hemmed'}"
        strip, at_selvedge = strips.get(edge, (ZERO, False))
        least = hem + (strip if at_selvedge else ZERO)
        wrong = side.hem != hem or side.line < least or (side.trim and side.line != side.trim + hem)
        if not side.joined and wrong:
            yield f"{side.line} to the fold of its {edge.value} side, a hem of {side.hem} instead of {hem}"


def _width(panel: Panel) -> Iterator[str]:
    part, cuts = panel.part, [one.cut for one in panel.placed]
    if part.flat is None:
        has = sum((cut.across[1] - cut.across[0] for cut in cuts), ZERO) / panel.cloth.width
        # A half cut by itself is a narrow panel: half of what is printed.
        if part.cuts is not None and part.cuts >= 1 and has != part.cuts:
            yield f"{has} cuts instead of {part.cuts}"
        hemmed = panel.widths[0] + 2 * part.turnings.side
        if part.cuts == Fraction(1, 2) and panel.cloth.border is None and hemmed < panel.printed / 2:
            yield f"{hemmed} wide with its hems instead of {panel.printed / 2}"
        return
    sewn = sum(panel.widths, ZERO) * panel.kept[1]
    if part.exact or panel.sideways:
        one = panel.sideways or part.flat + 2 * part.turnings.side <= panel.printed
        if sewn != part.flat or (len(cuts) > 1 and one):
            yield f"{sewn} wide instead of {part.flat}"
        return
    turned = part.turnings
    own = replace(panel.plan.job.allowances, side_hem=turned.side, seam=turned.seam, least_seam=turned.least_seam)
    yield from count_faults(cuts, part.flat, part.half_at, replace(panel.plan.job, allowances=own))
