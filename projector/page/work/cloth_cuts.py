"""What the page knows of the cloth it shows: where each cut lies, what it is, and where else it might begin."""

from __future__ import annotations

import json
from typing import Any
from xml.sax.saxutils import escape

from jobs.cutting.cloths import ClothJob
from jobs.io import scalars
from jobs.model.cuts import Cut, Hand, Placement
from jobs.model.lengths import show_cut
from jobs.model.plan import Plan
from jobs.packing.items import lanes_of
from jobs.packing.wished import place_of_cut, places_for, wishes_of
from projector.papers.cloth_picture import Tiers

MOST_PLACES = 3000
"""A cut with more places than this is not dragged on the page: its plain cloth is endless, or its repeat tiny."""


def with_cuts(svg: str, plan: Plan, tiers: Tiers, cloth: ClothJob) -> str:
    """The picture of a cloth with all of that in it, as JSON that a browser does not draw. Lengths are in inches.

    ``cloth`` tells which of the job it is, and where the windows of the plan stand in its file.
    """
    known = {"tiers": [_tier(tier, scale) for tier, scale in tiers], "cuts": _cuts(plan, cloth)}
    return svg.replace("</svg>", f"<metadata>{escape(json.dumps(known))}</metadata></svg>")


def _tier(tier: Any, scale: Any) -> dict[str, Any]:
    return {
        "piece": tier.use.number,
        "from": float(tier.span.start),
        "to": float(tier.span.end),
        "left": scale.left,
        "upper": scale.upper,
        "lower": scale.lower,
        "scale": scale.per_inch,
    }


def _cuts(plan: Plan, cloth: ClothJob) -> list[dict[str, Any]]:
    job, frame, of = plan.job, cloth.frame, f", {cloth.name}" if cloth.of > 1 else ""
    windows = {window.name: frame.in_file(("windows", number)) for number, window in enumerate(job.windows)}
    wished = {(wish.window, wish.place.panel, wish.cut) for wish in wishes_of(job)}
    pinned = [one for one in plan.placements if (one.cut.window, one.cut.hand, one.cut.number) in wished]
    lanes = {cut.id: lane for lane in lanes_of(plan.cuts) for cut in lane}
    found: list[dict[str, Any]] = []
    for number, placed in enumerate(plan.placements, 1):
        cut = placed.cut
        others = [one for one in pinned if one.cut not in lanes[cut.id]]
        number_wished = place_of_cut(cut, job.made_for(cut.window))
        may = number_wished is not None
        places = [
            [use.number, float(start), scalars.length(start, job.unit), show_cut(start, job.unit)]
            for use in (plan.pieces if may else ())
            for length_at in places_for(lanes[cut.id], use.number, others, job, use.piece)
            for start in (length_at + cut.before,)
        ]
        found.append({
            "id": f"{cloth.number}/{cut.id}",
            "path": "/".join(map(str, windows[cut.window])),
            "panel": cut.hand.value,
            "cut": number_wished or cut.number,
            "name": f"{number}. {_name(cut)}{of}",
            "what": _what(placed, plan),
            "piece": placed.piece,
            "start": float(placed.start),
            "length": float(cut.length),
            "across": [float(edge) for edge in cut.across],
            "wished": (cut.window, cut.hand, cut.number) in wished,
            "places": places if len(places) <= MOST_PLACES else [],
            "held": _held(len(places), may=may),
        })  # fmt: skip
    return found


def _held(places: int, *, may: bool) -> str:
    """Why a cut cannot be dragged; nothing where it can."""
    if not may:
        return "It is not dragged: of several joined it lies where least cloth is used"
    if places > MOST_PLACES:
        return "It is not dragged, for there are too many places: type one under Place"
    return "" if places > 1 else "It is not dragged, for it can lie nowhere else"


def _name(cut: Cut) -> str:
    return cut.name if cut.of > 1 or cut.hand is Hand.WHOLE else f"{cut.window}, {cut.hand}"


def _what(placed: Placement, plan: Plan) -> list[str]:
    """What a cut is, a line each."""
    cut, unit = placed.cut, plan.job.unit
    on = f"Piece {placed.piece}, from" if len(plan.pieces) > 1 else "From"
    lines = [f"{on} {show_cut(placed.start, unit)} to {show_cut(placed.end, unit)}: {show_cut(cut.length, unit)} long"]
    towards = f"the {cut.top_edge}" if cut.top_edge.is_end else f"the {cut.top_edge} selvedge"
    lines.append(f"{cut.way.value.capitalize()}, its TOP towards {towards}")
    if cut.row is not None:
        lines.append(f"A row of the print {show_cut(cut.row, unit)} below TOP")
    return lines
