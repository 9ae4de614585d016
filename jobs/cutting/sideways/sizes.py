"""How tall a panel of sideways cloth is, how much of the piece it takes, and how much height is to spare."""

from __future__ import annotations

from fractions import Fraction

from jobs.cutting.columns import printed_width
from jobs.cutting.sizes import cut_length
from jobs.cutting.widths import flat_width
from jobs.model.job import Job
from jobs.model.window import Window


def height_of(window: Window, job: Job) -> Fraction:
    """What a panel takes across the cloth: (finished length + heading + hem) / (1 - shrinkage across)."""
    return cut_length(window.finished_length, job.allowances, job.cloth.shrinkage_across)


def spare_height(window: Window, job: Job) -> Fraction:
    """What is left of the cloth between its selvedge strips; less than 0 where the cloth is not tall enough."""
    return printed_width(job.cloth) - height_of(window, job)


def side_hem_of(job: Job) -> Fraction:
    """A side hem as cut, on cloth that has not shrunk yet."""
    return job.allowances.side_hem / (1 - job.cloth.shrinkage)


def length_of(window: Window, job: Job) -> Fraction:
    """What a panel takes along the piece: its flat width with two side hems / (1 - shrinkage).

    Raises ValueError where the width is not known.
    """
    width = flat_width(window, job)
    if width is None:
        raise ValueError(f"the flat width of {window.name} is not known")
    return width.needed / (1 - job.cloth.shrinkage)
