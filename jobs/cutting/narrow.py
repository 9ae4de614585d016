"""Strips: half cuts and panels so narrow that two of them may lie side by side across the cloth."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting.columns import printed_width
from jobs.cutting.hands import HANDS
from jobs.cutting.mirroring import mirror_line, pairing_of
from jobs.cutting.widths import HALF, flat_width
from jobs.model.cuts import Hand, Selvedge
from jobs.model.job import Job
from jobs.model.schema import ZERO
from jobs.model.window import Window
from jobs.prints.pairs import Pairing


@dataclass(frozen=True)
class Strip:
    """What a cut needs across when it is less than the whole width.

    A half cut is ``joined`` at one side and hemmed, ``trim`` cut away, at the other; a narrow panel is hemmed at both,
    ``width`` wide with its hems, and begins ``phase`` from the near printed edge, or whole ``step`` lengths further
    across; an unknown ``step`` (None) keeps it there.
    """

    joined: Selvedge | None
    trim: Fraction = ZERO
    width: Fraction = ZERO
    phase: Fraction = ZERO
    step: Fraction | None = ZERO
    may_share: bool = True


def narrow_strips(window: Window, job: Job) -> dict[Hand, Strip]:
    """The strips of a window whose panels take no more than half the printed width each; empty for all others."""
    width, printed = flat_width(window, job), printed_width(job.cloth)
    needed = width.needed if width else printed / 2
    if 2 * needed > printed or (width is None and window.cuts_per_panel != HALF):
        return {}
    may_share = window.side_by_side and job.cloth.side_by_side
    if width is not None and not may_share:
        return {}
    strips = {
        hand: Strip(None, ZERO, needed, phase, _step(job), may_share)
        for hand, phase in _phases(window, job, needed).items()
    }
    return strips if all(strip.phase + needed <= printed for strip in strips.values()) else {}


def _step(job: Job) -> Fraction | None:
    """How far apart narrow panels show the same print: whole columns that lie level; None where it is not known."""
    cloth = job.cloth
    if cloth.repeat is None:
        return ZERO
    return cloth.repeat.across * cloth.drop.denominator if cloth.repeat.across is not None else None


def _phases(window: Window, job: Job, needed: Fraction) -> dict[Hand, Fraction]:
    cloth, step = job.cloth, _step(job)
    phases = dict.fromkeys(HANDS[window.panels], ZERO)
    pairing = pairing_of(window, job)
    if not step or cloth.repeat is None or cloth.repeat.across is None:
        return phases
    if pairing is Pairing.SLID_ACROSS:
        phases[Hand.RIGHT] = cloth.repeat.across / 2
    elif pairing in (Pairing.OWN_IMAGE, Pairing.SLID_ALONG):
        # Left edges at p and q, both panels as wide: the leading edges mirror when p + q + width = 2 mirror line.
        phases[Hand.RIGHT] = (2 * mirror_line(cloth) - needed - 2 * cloth.selvedge) % step
    return phases
