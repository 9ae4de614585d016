"""Sets of colours that the colour key steps through, the one that shows best on the job's cloth first."""

from __future__ import annotations

from functools import lru_cache

from jobs.job import Job
from projector.light.appearance import Illumination
from projector.light.candidates import name_of_colour
from projector.light.choosing import Choice, ranked_choices


def choice_at(job: Job, presses: int) -> Choice:
    """The colours after so many presses of the colour key, the best first and again after the last; line types stay."""
    choices = _choices(job)
    return choices[presses % len(choices)]


def colours_in_words(job: Job, presses: int) -> str:
    """Which set that is, and how its cut lines are lit."""
    choices = _choices(job)
    number = presses % len(choices)
    choice = choices[number]
    around = "the cloth lit all over" if choice.field else "on unlit cloth"
    cut = name_of_colour(choice.chosen[0].colour)
    return f"colours {number + 1} of {len(choices)}: cut lines {cut}, {around}"


@lru_cache(maxsize=4)
def _choices(job: Job) -> tuple[Choice, ...]:
    light = Illumination(float(job.light.room), float(job.light.projector))
    return ranked_choices(job.cloth.colour, job.cloth.motif_colours, light)
