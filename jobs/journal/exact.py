"""Exact numbers in a record: written as text, read back within the bounds of a job."""

from __future__ import annotations

import re
from fractions import Fraction

from jobs.model.lengths import LONGEST

_EXACT = re.compile(r"(-?[0-9]{1,100})(?:/([0-9]{1,100}))?|(-?[0-9]{1,10}\.[0-9]{1,20})")


def exact(text: object, *, least: Fraction = -LONGEST) -> Fraction:
    """The number that a record gives as text such as ``29/4``; raises ValueError beyond what a length may be."""
    match = _EXACT.fullmatch(text) if isinstance(text, str) else None
    if match is None or (match[2] is not None and not int(match[2])):
        raise ValueError("it is not a number")
    value = Fraction(match[0])
    if not least <= value <= LONGEST:
        raise ValueError("it is out of bounds")
    return value
