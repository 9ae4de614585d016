"""How long a cut is."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.job import Allowances


def cut_length(finished: Fraction, allowances: Allowances, shrinkage: Fraction) -> Fraction:
    """(finished length + heading + hem) / (1 - shrinkage)."""
    return (finished + allowances.heading + allowances.hem) / (1 - shrinkage)


def handbook_cut(length: Fraction, repeat_along: Fraction | None) -> Fraction:
    """The length rounded up to whole repeats; an exact multiple takes nothing extra, plain cloth neither."""
    return length if repeat_along is None else -(-length // repeat_along) * repeat_along
