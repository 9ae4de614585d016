"""A virtual panel as it was cut, laid back on the table: of the cloth only what lies between its cuts is there."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from calibration.registration.fit import PrintFit
from jobs.model.cuts import Edge
from jobs.model.plan import Plan, Stop
from jobs.model.records import dataclass
from projector.demo.brightness import Linear
from projector.demo.cloth import AsItLies
from projector.demo.setup import cloth_at
from projector.demo.view import Laid
from projector.scene.moved import fit_to_follow

Array = NDArray[np.float64]

STEPS = 25
LAID_BACK = (0.4, 2.0, 0.4)
"""How a panel is laid back by hand, unless told: so far right and away of where it lay, and turned by so many degrees.
"""
BARE_IN = 6.0
"""So much bare table a person leaves in the light beyond the end of a panel that is to be looked at."""


class Printed(Laid, Protocol):
    """Cloth of which it is known where its print is."""

    def to_print(self, table_in: Array) -> Array:
        """Where on the print (N, 2) places (N, 2) of the table lie."""


@dataclass(frozen=True)
class TrueCut:
    """Where a cut goes, whatever a photograph tells of it: inches along the print, at even steps from the near side of
    the panel to the far."""

    along_in: tuple[float, ...]

    def along(self, share: Array) -> Array:
        """Where it goes (N,) at shares (N,) of the panel's width from its near side."""
        return np.interp(share, np.linspace(0, 1, len(self.along_in)), self.along_in)


@dataclass(frozen=True)
class CutPanel:
    """What of ``cloth`` lies between the ``first`` and the ``last`` cut, and ``across`` between two places of it.

    ``turned`` about a place of the table by half a turn, where that is told.
    """

    cloth: Printed
    first: TrueCut
    last: TrueCut
    across: tuple[float, float]
    turned: tuple[float, float] | None = None

    def _lying(self, table_in: Array) -> Array:
        return table_in if self.turned is None else 2 * np.array(self.turned) - table_in

    def to_piece(self, places: Array) -> Array:
        """Piece positions (N, 2) of places (N, 2) on the table; NaN for what is no part of the panel."""
        lying = self._lying(np.asarray(places, float))
        piece, printed = self.cloth.to_piece(lying), self.cloth.to_print(lying)
        near, far = self.across
        share = (printed[:, 1] - near) / (far - near)
        on = (share >= 0) & (share <= 1)
        on &= (printed[:, 0] >= self.first.along(share)) & (printed[:, 0] <= self.last.along(share))
        return np.where(on[:, None], piece, np.nan)

    def colour_at(self, places: Array) -> tuple[Linear, NDArray[np.bool_]]:
        """Colours (N, 3) at piece positions (N, 2), and which of them are there."""
        there = np.isfinite(places[:, 0])
        colour, on_cloth = self.cloth.colour_at(np.where(there[:, None], places, -1.0))
        return colour, on_cloth & there


def panel_laid_back(
    plan: Plan, cut_at: Stop, light: PrintFit | None, lies: AsItLies | None, again: AsItLies | None = None
) -> CutPanel:
    """The panel of a stop's cut, laid back where that stop had it.

    It was cut along the lines of ``light`` (None: those of the plan's numbers) while the cloth lay as ``lies`` tells;
    now it lies as ``again`` tells, without which it is laid a little otherwise by hand, an end of it well in the light.
    """
    placed, cloth = cut_at.placement, cloth_at(plan, cut_at, lies)
    near, far = map(float, placed.cut.parted)
    across = np.linspace(near, far, STEPS)
    ends = []
    for edge in (Edge.FIRST, Edge.LAST):
        piece = np.column_stack([np.full_like(across, float(placed.at(edge))), across])
        if light is None:
            table = piece - (float(cut_at.cloth_at_left), 0.0)
        else:
            table = fit_to_follow(light, plan.job.cloth.follow).to_table(piece)
        ends.append(TrueCut(tuple(cloth.to_print(table)[:, 0].tolist())))
    now = again or _by_hand(lies or AsItLies(1.0, 0.0, 0.0, 0.0, (0.0, 0.0)), _further_right(cut_at))
    return CutPanel(cloth_at(plan, cut_at, now), ends[0], ends[1], (near, far))


def _by_hand(lies: AsItLies, further_in: float) -> AsItLies:
    right, away, turn = LAID_BACK
    x, y = lies.shift
    return replace(lies, shift=(x + right + further_in, y + away), turn_deg=lies.turn_deg + turn)


def _further_right(stop: Stop) -> float:
    """How far further right than it lay at a stop a panel is laid so that an end of it, or both, can be seen."""
    placed, lit = stop.placement, (float(stop.lit_from), float(stop.lit_to))
    start, end = float(placed.start), float(placed.end)
    if end - start + 2 * BARE_IN <= lit[1] - lit[0]:
        return (sum(lit) - start - end) / 2
    if end - lit[1] < lit[0] - start:
        return min(lit[1] - BARE_IN - end, 0.0)
    return max(lit[0] + BARE_IN - start, 0.0)
