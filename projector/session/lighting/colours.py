"""Sets of colours that the colour key steps through, the one that shows best on the job's cloth first."""

from __future__ import annotations

from functools import lru_cache

from jobs.model.job import Job
from projector.light.appearance import Illumination
from projector.light.choosing import FLOOR, Choice, ranked_choices, room_to_reach
from projector.light.styles import name_of_colour


def light_of(job: Job) -> Illumination:
    """What falls on the table, as the job says."""
    return Illumination(float(job.light.room), float(job.light.projector))


def choice_at(job: Job, presses: int) -> Choice:
    """The colours after so many presses of the colour key, the best first and again after the last; line types stay."""
    choices = _choices(job)
    return choices[presses % len(choices)]


def colours_in_words(job: Job, presses: int) -> str:
    """Which set that is, and how its cut lines are lit."""
    choices = _choices(job)
    number = presses % len(choices)
    one = choices[number].chosen[0]
    return (
        f"colours {number + 1} of {len(choices)}: cut lines {name_of_colour(one.colour)}, "
        f"{one.contrast:.1f} times as bright as the cloth beside them"
    )


@lru_cache(maxsize=4)
def room_in_words(ground: str, motifs: tuple[str, ...], light: Illumination) -> str:
    """What to do where the room is too bright for lines to be seen well on the cloth; empty where it is not."""
    surfaces = (ground, *motifs)
    best = ranked_choices(ground, motifs, light)[0].least_contrast
    if best >= FLOOR:
        return ""
    said = (
        f"This cloth swallows light: the thinnest lines are only {best:.1f} times as bright as the cloth beside them."
    )
    room = room_to_reach(surfaces, light)
    if room is None:
        return f"{said} Darken the room as far as you can and widen the lines (+)."
    return (
        f"{said} Darken the room to {_rounded_down(room)} lx or less (now {light.room_lx:g}), or widen the lines (+)."
    )


def room_of_job(job: Job) -> str:
    """The same for the cloth and the light of a job."""
    return room_in_words(job.cloth.colour, job.cloth.motif_colours, light_of(job))


def _rounded_down(lux: float) -> int:
    """To what a light meter or a dimmer can be set by: whole tens, or fives below fifty."""
    step = 10 if lux >= 50 else 5
    return int(lux // step * step)


@lru_cache(maxsize=4)
def _choices(job: Job) -> tuple[Choice, ...]:
    return ranked_choices(job.cloth.colour, job.cloth.motif_colours, light_of(job))
