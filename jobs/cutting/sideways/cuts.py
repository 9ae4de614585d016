"""The cuts of a window whose cloth is run sideways: one for each panel."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting.hands import HANDS
from jobs.cutting.mirroring import pairing_of
from jobs.cutting.sideways.reach import column_below, partner_top, row_below, top_for, tops
from jobs.cutting.sideways.rows import depth_below_edge
from jobs.cutting.sideways.sizes import height_of, length_of
from jobs.cutting.sizes import handbook_cut
from jobs.model.choices import Panels
from jobs.model.cuts import Cut, Hand, Selvedge, Way
from jobs.model.job import Job
from jobs.model.schema import ZERO
from jobs.model.window import Window
from jobs.prints.pairs import Pairing, hand_ways


@dataclass(frozen=True)
class Lie:
    """Where a panel lies: its top edge across from the near selvedge, its first edge along from a row."""

    way: Way
    top: Fraction
    row: Fraction
    after_row: Fraction


def sideways_cuts(window: Window, slug: str, job: Job, windows: Mapping[str, Window]) -> list[Cut]:
    """One cut for each panel, the left one first; raises ValueError where the rows asked for cannot be reached."""
    return [_cut(window, slug, job, hand, lie) for hand, lie in _lies(window, job, windows).items()]


def _lies(window: Window, job: Job, windows: Mapping[str, Window]) -> dict[Hand, Lie]:
    hands = HANDS[window.panels]
    if job.cloth.repeat is None:
        top = tops(window, job)[0][1]
        return dict.fromkeys(hands, Lie(Way.UPRIGHT, top, ZERO, ZERO))
    top_edge = top_for(depth_below_edge(window, windows, job), window, job)
    if top_edge is None:
        raise ValueError(f"the rows of {window.name} cannot be reached")
    ways = hand_ways(job.cloth, window.hang, hands)
    first = Lie(ways[hands[0]], top_edge, row_below(top_edge, job), _starts(window, job, top_edge, hands[0]))
    lies = {hands[0]: first}
    if window.panels is Panels.PAIR:
        lies[Hand.RIGHT] = _partner(first, window, job, ways[Hand.RIGHT])
    return lies


def _starts(window: Window, job: Job, top: Fraction, hand: Hand) -> Fraction:
    """Where the first edge lies so that a row of the column next below the top edge lies at the leading edge.

    That is the first edge of a right panel, the last one of any other. Where the print has a mirror line beside the
    row, that line lies there instead: then two panels meet on it and waste nothing.
    """
    along = _along(job)
    length = ZERO if hand is Hand.RIGHT else length_of(window, job)
    return (column_below(top, job) * job.cloth.drop * along + job.cloth.print.mirror_offset - length) % along


def _partner(first: Lie, window: Window, job: Job, way: Way) -> Lie:
    """The right panel of a pair: its print is the mirror image of the left one's, in from the leading edge."""
    pairing, along = pairing_of(window, job), _along(job)
    top, steps = partner_top(first.top, window, job)
    moved = steps * job.cloth.drop * along
    if pairing in (Pairing.OWN_IMAGE, Pairing.OWN_SLID_ACROSS):
        # The mirror line lies at m after a row: what is at s on the left panel is at 2 m - s on the right one.
        after = 2 * job.cloth.print.mirror_offset - first.after_row - length_of(window, job)
    else:
        after = first.after_row + (along / 2 if pairing is Pairing.TURNED_SLID_ALONG else ZERO)
    # With a slide across, the mirror image of the left panel's rows lies between the rows of the print.
    row = row_below(top, job) if pairing is Pairing.OWN_SLID_ACROSS else first.row
    return Lie(way, top, row, (after + moved) % along)


def _along(job: Job) -> Fraction:
    return job.cloth.repeat.along if job.cloth.repeat is not None else ZERO


def _cut(window: Window, slug: str, job: Job, hand: Hand, lie: Lie) -> Cut:
    cloth, allowances = job.cloth, job.allowances
    length, height = length_of(window, job), height_of(window, job)
    turned = lie.way is Way.TURNED
    patterned = cloth.repeat is not None
    return Cut(
        id=f"{slug}-{hand}",
        window=window.name,
        hand=hand,
        panel=f"{window.name}, {hand}",
        number=1,
        of=1,
        length=length,
        handbook=handbook_cut(length, cloth.repeat.along if cloth.repeat else None),
        row=lie.row if patterned else None,
        way=lie.way,
        top_first=False,
        leading_selvedge=None,
        heading=allowances.heading / (1 - cloth.shrinkage_across),
        hem=allowances.hem / (1 - cloth.shrinkage_across),
        across=(lie.top, lie.top + height) if turned else (lie.top - height, lie.top),
        top_at=Selvedge.NEAR if turned else Selvedge.FAR,
        after_row=lie.after_row if patterned else None,
    )
