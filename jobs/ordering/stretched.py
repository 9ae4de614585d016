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
STEPS = 4
"""In which a tolerance of the repeat is looked through."""
HAIRS = 1000
"""In each of them, for the rate at which more is needed."""


@dataclass(frozen=True)
class Stretched:
    """The cuts of a job on its cloth with a longer repeat, by their names."""

    cloth: Cloth
    cuts: Mapping[str, Cut]

    def guaranteed(self, cuts: Sequence[Cut]) -> Fraction:
        """What is always enough for these of its cuts."""
        return guaranteed_length([self.cuts[cut.id] for cut in cuts], self.cloth)


@dataclass(frozen=True)
class Tolerated:
    """The same for every repeat up to the longest that is tolerated.

    A cut that just fills its repeats takes one fewer where they are a little longer, so the longest repeat need not be
    the worst. As it grows, what an order of cuts needs grows evenly and drops here and there, but never jumps up: so
    what is needed within a step is no more than from its beginning on at the rate found there. ``begins`` are the
    beginnings of the steps, each with a place a hair further.
    """

    begins: tuple[tuple[Stretched, Stretched], ...]
    longest: Stretched

    def guaranteed(self, cuts: Sequence[Cut]) -> Fraction:
        """What is always enough for these of its cuts, however long the repeat is."""
        found = [self.longest.guaranteed(cuts)]
        for begin, further in self.begins:
            now = begin.guaranteed(cuts)
            found.append(now + (further.guaranteed(cuts) - now) * HAIRS)
        return max(found)


def stretched(job: Job, share: Fraction) -> Stretched | None:
    """The job on cloth whose repeat along is longer by this share; None on plain cloth, and where nothing is longer.

    Cuts are as long as before; the rows asked for are measured on the finished panel and stay where they are.
    """
    return _at(job, share) if job.cloth.repeat is not None and share else None


def tolerated(job: Job) -> Tolerated | None:
    """The job on cloth whose repeat is longer by anything up to its tolerance; None where there is none."""
    most = job.cloth.repeat_tolerance
    if job.cloth.repeat is None or not most:
        return None
    shares = [most * step / STEPS for step in range(STEPS)]
    begins = tuple((_at(job, share), _at(job, share + most / STEPS / HAIRS)) for share in shares)
    return Tolerated(begins, _at(job, most))


def _at(job: Job, share: Fraction) -> Stretched:
    repeat = job.cloth.repeat
    if repeat is None:
        raise ValueError("plain cloth has no repeat to be longer")
    longer = replace(
        job.cloth,
        repeat=replace(repeat, along=repeat.along * (1 + share)),
        print=replace(job.cloth.print, mirror_offset=job.cloth.print.mirror_offset * (1 + share)),
    )
    found = resolve(replace(job, cloth=longer)).sound()
    return Stretched(longer, {cut.id: cut for cut in found.cuts})
