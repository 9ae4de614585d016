"""Numbers as they are typed where a comma parts the tenths."""

from __future__ import annotations

import re

_DECIMAL_COMMA = re.compile(r"^([^.,/]*\b[0-9]+),([0-9]{1,2}|[0-9]{4,}|(?<=\b0,)[0-9]{3})\b([^.,/0-9]*)$")


def with_point(text: str) -> str:
    """The text of a length with a comma that can only be a decimal sign as a point: "32,5" is 32.5.

    Left alone, and then refused, is what may be meant otherwise: "1,250" may be thousands.
    """
    return _DECIMAL_COMMA.sub(r"\1.\2\3", text)
