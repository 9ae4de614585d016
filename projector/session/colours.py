"""Sets of colours that the colour key steps through, the one that shows best on the job's cloth first."""

from __future__ import annotations

from functools import lru_cache

from jobs.job import Job
from projector.light.appearance import Illumination
from projector.light.choosing import Choice, ranked_choices


def choice_at(job: Job, presses: int) -> Choice:
    """The colours after so many presses of the colour key, the best first and again after the last; line types stay."""
    choices = _choices(job)
    return choices[presses % len(choices)]


@lru_cache(maxsize=4)
def _choices(job: Job) -> tuple[Choice, ...]:
    light = Illumination(float(job.light.room), float(job.light.projector))
    return ranked_choices(job.cloth.colour, job.cloth.motif_colours, light)
