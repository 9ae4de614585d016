"""Cuts that lie side by side in one length of cloth, and the part of them that no flaw may meet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting.sideways.sizes import side_hem_of
from jobs.job import Cloth, Job, TurnedOver
from jobs.layout.placing import Core, Grains, Shape, start_after_row
from jobs.plan import Cut, Selvedge, Side

Lane = tuple[Cut, ...]
"""One cut, or several side by side: same start, length, row and way."""


@dataclass(frozen=True)
class Sound:
    """The part of a cut that no flaw may meet: along from its first edge, across from the near selvedge, in inches."""

    start: Fraction
    end: Fraction
    near: Fraction
    far: Fraction


def lanes_of(cuts: Iterable[Cut]) -> tuple[Lane, ...]:
    """The cuts, in their order, those that lie side by side together."""
    lanes: dict[tuple[bool, str], list[Cut]] = {}
    for cut in cuts:
        lanes.setdefault((bool(cut.beside), cut.beside or cut.id), []).append(cut)
    return tuple(tuple(lane) for lane in lanes.values())


def sound_part(cut: Cut, job: Job) -> Sound:
    """The part of a cut where a flaw would be seen, as the job says where flaws may lie.

    What is trimmed away at a side is no part of the cut.
    """
    allowed = job.flaws_may_lie_in
    if cut.is_sideways:
        return _sideways(cut, job)
    top = cut.heading if TurnedOver.HEADING in allowed else Fraction(0)
    foot = cut.hem if TurnedOver.HEM in allowed else Fraction(0)
    first, last = (top, foot) if cut.top_first else (foot, top)
    near, far = cut.across or (Fraction(0), job.cloth.width)
    hidden = TurnedOver.SIDE_HEM in allowed
    near = _side(cut.near_side, near, hidden, _hem_line(cut, job, Selvedge.NEAR))
    far = _side(cut.far_side, far, hidden, _hem_line(cut, job, Selvedge.FAR))
    return Sound(first, max(first, cut.length - last), near, max(near, far))


def _sideways(cut: Cut, job: Job) -> Sound:
    """Of a sideways cut: heading and hem lie at its selvedge sides, the side hems at its two ends."""
    allowed = job.flaws_may_lie_in
    top = cut.heading if TurnedOver.HEADING in allowed else Fraction(0)
    foot = cut.hem if TurnedOver.HEM in allowed else Fraction(0)
    hem = side_hem_of(job) if TurnedOver.SIDE_HEM in allowed else Fraction(0)
    near, far = cut.across or (Fraction(0), job.cloth.width)
    inside, beyond = (foot, top) if cut.top_at is Selvedge.FAR else (top, foot)
    return Sound(hem, max(hem, cut.length - hem), near + inside, max(near + inside, far - beyond))


def _side(side: Side | None, edge: Fraction, hidden: bool, without_side: Fraction) -> Fraction:
    if side is None:
        return without_side if hidden else edge
    if hidden and not side.joined:
        return side.line
    return side.trim if side.trim is not None else edge


def _hem_line(cut: Cut, job: Job, selvedge: Selvedge) -> Fraction:
    """Where the side hem of a cut without described sides is folded; its edge at a seam."""
    near, far = cut.across or (Fraction(0), job.cloth.width)
    leads = cut.leading_selvedge is selvedge
    if cut.number != (1 if leads else cut.of):
        return near if selvedge is Selvedge.NEAR else far
    near, far = max(near, job.cloth.selvedge), min(far, job.cloth.width - job.cloth.selvedge)
    return near + job.allowances.side_hem if selvedge is Selvedge.NEAR else far - job.allowances.side_hem


def lane_lengths(lanes: Sequence[Lane], job: Job, *, parted: bool) -> list[Fraction]:
    """Every length that a grain must measure to lay the lanes; ``parted`` when flaws lie over part of the width."""
    cloth = job.cloth
    found = {cloth.repeat.along} if cloth.repeat else set()
    for lane in lanes:
        found |= {lane[0].length, start_after_row(lane[0], cloth)}
        if parted or job.flaws_may_lie_in:
            for cut in lane:
                sound = sound_part(cut, job)
                found |= {sound.start, sound.end, sound.near, sound.far}
    return list(found)


def lane_shape(lane: Lane, job: Job, grains: Grains, *, parted: bool) -> Shape:
    """The shape that is laid for a lane."""
    first = lane[0]
    length, residue = grains.count(first.length), grains.count(start_after_row(first, job.cloth))
    if not parted and not job.flaws_may_lie_in:
        return Shape(length, residue)
    sounds = (sound_part(cut, job) for cut in lane)
    cores = {
        Core(grains.count(s.start), grains.count(s.end), grains.count(s.near), grains.count(s.far)) for s in sounds
    }
    return Shape(length, residue, tuple(sorted(cores)))


def plain_shapes(cuts: Iterable[Cut], cloth: Cloth, grains: Grains) -> list[Shape]:
    """A shape for each length of cloth the cuts take, flaws left out of account."""
    return [
        Shape(grains.count(lane[0].length), grains.count(start_after_row(lane[0], cloth))) for lane in lanes_of(cuts)
    ]


def plain_grains(cuts: Iterable[Cut], cloth: Cloth) -> Grains:
    """Grains that measure the repeat, every cut and every place in the repeat."""
    lanes = lanes_of(cuts)
    repeat = [cloth.repeat.along] if cloth.repeat else []
    return Grains.fitting(
        [*repeat, *(lane[0].length for lane in lanes), *(start_after_row(lane[0], cloth) for lane in lanes)]
    )
