"""Values of a record: exact numbers as text, read back within the bounds of a job, and JSON that is always the same."""

from __future__ import annotations

import json
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


def plain_json(value: object) -> bytes:
    """The value as JSON, the same bytes whenever it is the same value. Raises ValueError for what JSON cannot say."""
    text = json.dumps(value, ensure_ascii=False, sort_keys=True, allow_nan=False, separators=(",", ":"))
    return text.encode("utf-8")
