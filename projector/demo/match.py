"""How well the two panels of a pair match that were cut on the simulated table, where the truth is known."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from calibration.registration.fit import PrintFit
from jobs.model.cuts import Cut, Edge, Hand, Placement
from jobs.model.plan import Plan, Stop
from jobs.model.records import dataclass
from projector.demo.cloth import AsItLies
from projector.demo.setup import cloth_at
from projector.scene.moved import fit_to_follow

LOOKS = 55


@dataclass(frozen=True)
class Match:
    """The largest distance by which the cut edges of a window's pair miss each other's print, over the whole width."""

    window: str
    number: int
    missed_in: float


def off_print(
    plan: Plan, placed: Placement, stop: Stop, lies: AsItLies | None, fit: PrintFit | None
) -> NDArray[np.float64]:
    """How far (2, 55) the two ends of a cut fall below where the print has them, selvedge to selvedge, inches.

    They are top and foot edge, in this order; or leading and return edge, which fall in from the leading one.
    ``fit`` is the light as it was while the cut was made; None: as planned.
    """
    cloth = cloth_at(plan, stop, lies)
    across = np.linspace(0, cloth.width, LOOKS)
    first = next(edge for edge in (placed.cut.top_edge, placed.cut.leading_edge) if edge.is_end)
    off = []
    for edge in (float(placed.at(end)) for end in (first, first.opposite)):
        piece = np.column_stack([np.full_like(across, edge), across])
        if fit is None:
            table = piece - (float(stop.cloth_at_left), 0.0)
        else:
            table = fit_to_follow(fit, plan.job.cloth.follow).to_table(piece)
        off.append(-first.sense * (cloth.to_print(table)[:, 0] - edge) * cloth.stretch_along)
    return np.array(off)


def matches(plan: Plan, cut_by: Mapping[str, tuple[Stop, PrintFit | None]], lies: AsItLies | None) -> tuple[Match, ...]:
    """The match of every pair of cuts that were both made; ``cut_by`` tells at which stop and by which light."""
    found = []
    placements = {placed.cut.id: placed for placed in plan.placements if placed.cut.id in cut_by}
    for left in placements.values():
        for right in placements.values():
            one, two = left.cut, right.cut
            if (one.hand, two.hand) != (Hand.LEFT, Hand.RIGHT) or (one.window, one.number) != (two.window, two.number):
                continue
            first, second = (off_print(plan, p, cut_by[p.cut.id][0], lies, cut_by[p.cut.id][1]) for p in (left, right))
            if _near_edge_of(one) != _near_edge_of(two):
                second = second[:, ::-1]
            found.append(Match(one.window, one.number, float(np.abs(first - second).max())))
    return tuple(found)


def _near_edge_of(cut: Cut) -> str:
    """What lies at the near selvedge of a cut: its leading or return edge, or its top or foot."""
    return cut.name_of(Edge.NEAR)
