"""JSON for other programs: stable keys, lengths in inches as numbers, positions in the piece frame."""

from __future__ import annotations

import json
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from jobs.model.choices import Motif, Run
from jobs.model.cuts import Placement
from jobs.model.lengths import show_order
from jobs.model.plan import PlacedThing, Plan, Span, Stop
from jobs.ordering import Assumed, Order, if_longer, written
from jobs.ordering.stretched import LOOKED_AT
from jobs.planning.remedies import Remedy
from projector.words.arithmetic import order_lines
from projector.words.told import change_words, unmet_lines


def dump(document: Any) -> str:
    """The document as JSON; exact fractions become numbers here and nowhere else."""
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False, default=_number)


def of_orders(orders: Sequence[tuple[Assumed, Order, Sequence[Remedy]]]) -> dict[str, Any]:
    """What ``order --json`` prints: the orders of all ``cloths``; of a job of one cloth its keys at the top as well."""
    cloths = [{"cloth": taken.job.cloth.name, **of_order(taken, order, less)} for taken, order, less in orders]
    alone = cloths[0] if len(cloths) == 1 else {"job": cloths[0]["job"]}
    return {**{key: value for key, value in alone.items() if key != "cloth"}, "cloths": cloths}


def of_order(taken: Assumed, order: Order, less: Sequence[Remedy] = ()) -> dict[str, Any]:
    """The order of one cloth."""
    job = taken.job
    return {
        "job": job.title,
        "handbook_in": order.handbook,
        "guaranteed_in": order.guaranteed,
        "needed_in": order.needed,
        "longer_repeat_in": if_longer(job, order, job.cloth.repeat_tolerance or LOOKED_AT),
        "buy_in": order.buy,
        "buy": show_order(order.buy, job.unit, job.cloth.sold_by),
        "cuts": [
            {
                "id": cut.id,
                "window": cut.window,
                "hand": cut.hand,
                "length_in": cut.length,
                "handbook_in": cut.handbook,
                "count": 1,
            }
            for cut in taken.resolved.cuts
        ],
        "steps": list(order_lines(taken.resolved, order)),
        "pieces": list(order.pieces),
        "not_known": list(taken.asked),
        "dearest": {key: written(value) for key, value in taken.taken.items()},
        "across_taken_in": taken.across,
        "least_in": taken.least if taken.is_dearest else order.buy,
        "savings": [{"change": change_words(remedy.change, job.unit), "saves_in": remedy.saves} for remedy in less],
    }


def of_plan(plan: Plan) -> dict[str, Any]:
    """What ``plan --json`` prints."""
    repeat = plan.job.cloth.repeat
    return {
        "job": plan.job.title,
        "repeat_in": repeat.along if repeat else None,
        "used_in": plan.used,
        "bound_in": plan.bound,
        "proved_shortest": plan.proved_shortest,
        "opened": plan.opened,
        "least_opened": plan.least_opened,
        "whole_pieces": list(plan.whole),
        "short_in": plan.short,
        "assumed_piece": plan.assumed_piece,
        "stopped": plan.stopped,
        "spread": list(plan.spread),
        "mixed_rooms": list(plan.mixed_rooms),
        "unmet": list(unmet_lines(plan)),
        "cuts": [_placement(placement, plan.job.cloth.width) for placement in plan.placements],
        "pieces": [
            {
                "piece": use.number,
                "length_in": use.piece.length,
                "used_in": use.used,
                "dye_lot": use.piece.dye_lot or None,
                "leftovers": [_span(span) for span in use.leftovers],
                "beside": [_span(span) for span in use.beside],
            }
            for use in plan.pieces
        ],
        "stops": [_stop(stop) for stop in plan.stops],
        "wanted": [
            {
                "name": thing.name,
                "number": thing.number,
                "of": thing.count,
                "piece": thing.piece,
                "from_in": thing.start,
                "to_in": thing.end,
                "across_in": [thing.near, thing.far],
                "motif_in": _motif(thing),
            }
            for thing in plan.wanted
        ],
        "unplaced": [{"name": missing.name, "count": missing.count} for missing in plan.unplaced],
    }


def _motif(thing: PlacedThing) -> list[Fraction] | None:
    """Along and across of the motif in its middle, where one lies there."""
    centred = thing.motif is Motif.CENTRED
    return [(thing.start + thing.end) / 2, (thing.near + thing.far) / 2] if centred else None


def _span(span: Span) -> dict[str, Any]:
    across = {"across_in": list(span.across)} if span.across is not None else {}
    return {"from_in": span.start, "to_in": span.end, "rows_in": list(span.rows), **across}


def _placement(placement: Placement, width: Fraction) -> dict[str, Any]:
    cut = placement.cut
    sideways = not cut.top_edge.is_end
    return {
        "id": cut.id,
        "window": cut.window,
        "hand": cut.hand,
        "panel": cut.panel,
        "number": cut.number,
        "of": cut.of,
        "length_in": cut.length,
        "row_in": cut.row,
        "way": cut.way,
        "leading_selvedge": None if sideways else cut.leading_edge,
        "across_in": list(cut.across) if sideways or cut.across != (0, width) else None,
        "beside": cut.beside or None,
        "length_from_in": placement.crosscuts[0],
        "length_to_in": placement.crosscuts[1],
        "piece": placement.piece,
        "start_in": placement.start,
        "end_in": placement.end,
        "top_in": placement.top,
        "foot_in": placement.foot,
        "run": Run.SIDEWAYS if sideways else Run.UP,
        "top_selvedge": cut.top_edge if sideways else None,
        "leading_in": placement.leading if sideways else None,
        "return_in": placement.returning if sideways else None,
    }


def _stop(stop: Stop) -> dict[str, Any]:
    return {
        "stop": stop.number,
        "cut": stop.placement.cut.id,
        "pull": stop.pull,
        "cloth_at_left_in": stop.cloth_at_left,
        "lit_from_in": stop.lit_from,
        "lit_to_in": stop.lit_to,
        "shows": list(stop.shows),
    }


def _number(value: object) -> float | int:
    if isinstance(value, Fraction):
        return int(value) if value.denominator == 1 else float(value)
    raise TypeError(f"{type(value).__name__} has no place in JSON")
