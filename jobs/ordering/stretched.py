"""A repeat that is longer than it was said to be: the guaranteed length is the one that then runs short."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.cutting.resolve import resolve
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.records import dataclass
from jobs.ordering.guaranteed import guaranteed_length

LOOKED_AT = Fraction(1, 100)
"""How much longer a repeat is taken to be where an order says what that would need."""


@dataclass(frozen=True)
class Stretched:
    """The cuts of a job on its cloth with a longer repeat, by their names."""

    cloth: Cloth
    cuts: Mapping[str, Cut]

    def guaranteed(self, cuts: Sequence[Cut]) -> Fraction:
        """What is always enough for these of its cuts."""
        return guaranteed_length([self.cuts[cut.id] for cut in cuts], self.cloth)


def stretched(job: Job, share: Fraction) -> Stretched | None:
    """The job on cloth whose repeat along is longer by this share; None on plain cloth, and where nothing is longer.

    Cuts are as long as before; the rows asked for are measured on the finished panel and stay where they are.
    """
    repeat = job.cloth.repeat
    if repeat is None or not share:
        return None
    longer = replace(
        job.cloth,
        repeat=replace(repeat, along=repeat.along * (1 + share)),
        print=replace(job.cloth.print, mirror_offset=job.cloth.print.mirror_offset * (1 + share)),
    )
    found = resolve(replace(job, cloth=longer)).sound()
    return Stretched(longer, {cut.id: cut for cut in found.cuts})
