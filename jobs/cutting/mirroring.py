"""What a mirrored pair asks of its two panels beyond their way: rows moved, edges trimmed.

Let the print have a side-to-side mirror line at ``x`` across. Two upright panels of which one leads with the near and
one with the far selvedge mirror when their leading edges, at ``a`` and ``b`` across, lie on mirrored columns:
``a + b = 2 x + k W`` for a whole ``k`` (``W`` the repeat across). With a drop ``d`` the mirror image then lies
``k d`` repeats along, with a slide half a repeat more. A turned panel made by a mirror with a slide leads with the same
selvedge, half a repeat across further in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from jobs.cutting.columns import columns_across
from jobs.cutting.hands import leading_selvedge, top_is_first
from jobs.model.choices import Panels
from jobs.model.cloth import Cloth
from jobs.model.cuts import Hand, Selvedge, Way
from jobs.model.job import Job
from jobs.model.schema import ZERO
from jobs.model.window import Window
from jobs.prints.pairs import Pairing, second_panel


@dataclass(frozen=True)
class Trims:
    """What is cut from the leading and from the return edge of a panel before it is hemmed."""

    leading: Fraction = ZERO
    returning: Fraction = ZERO


@dataclass(frozen=True)
class PairFit:
    """How the panels of a pair at full width are made to mirror.

    ``row_shift`` is added to the row of the right panel; ``lost`` is the width both panels lose by trimming.
    """

    row_shift: Fraction = ZERO
    lost: Fraction = ZERO
    trims: Mapping[Hand, Trims] = field(default_factory=dict)


def pair_fit(cloth: Cloth, pairing: Pairing, left_leads: Selvedge) -> PairFit:
    """The fit of a pair cut at the full width of the cloth; ``left_leads`` is the selvedge that leads on the left."""
    if cloth.repeat is None or pairing in (Pairing.SAME, Pairing.TURNED, Pairing.FACE_DOWN):
        return PairFit()
    across = cloth.repeat.across
    if pairing is Pairing.SLID_ACROSS and across is not None:
        return PairFit(ZERO, across / 2, {Hand.LEFT: Trims(returning=across / 2), Hand.RIGHT: Trims(across / 2)})
    slide = cloth.repeat.along / 2 if pairing is Pairing.SLID_ALONG else ZERO
    if across is None:
        return PairFit(slide)
    over = cloth.width - 2 * mirror_line(cloth)
    from_far = over % across
    from_near = -over % across
    trimmed = Selvedge.FAR if from_far <= from_near else Selvedge.NEAR
    lost = min(from_far, from_near)
    steps = (over - lost if trimmed is Selvedge.FAR else over + lost) / across
    first, second = (Hand.LEFT, Hand.RIGHT) if left_leads is trimmed else (Hand.RIGHT, Hand.LEFT)
    trims = {first: Trims(leading=lost), second: Trims(returning=lost)} if lost else {}
    return PairFit((steps * cloth.drop * cloth.repeat.along + slide) % cloth.repeat.along, lost, trims)


def mirror_line(cloth: Cloth) -> Fraction:
    """A side-to-side mirror or glide line, from the near selvedge; taken on a column where it was not measured."""
    return columns_across(cloth)[0] + (cloth.print.mirror_offset_across or ZERO)


def pairing_of(window: Window, job: Job) -> Pairing:
    """What makes the right panel of this window from the left one; SAME where there is no pair."""
    return second_panel(job.cloth, window.hang).pairing if window.panels is Panels.PAIR else Pairing.SAME


def fit_of(window: Window, job: Job) -> PairFit:
    """How the panels of this window are made to mirror at the full width of the cloth."""
    top_first = top_is_first(Way.UPRIGHT, job.cloth.print.top_towards)
    return pair_fit(job.cloth, pairing_of(window, job), leading_selvedge(Hand.LEFT, Way.UPRIGHT, top_first))
