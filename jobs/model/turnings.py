"""Heading and hem by the names of the trade, each with what is usually allowed for it.

The name is a word for people and a figure for who has none of his own; what is written as a length always counts.
"""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import HeadingKind, HemKind, Unit
from jobs.model.lengths import CENTIMETRE

HEADING_LABELS = (
    "pinch pleats on a stiffener of 4 in",
    "goblet pleats on a stiffener of 5 in",
    "pencil pleats on a tape 3 in deep",
    "gathered on a narrow tape",
    "even waves on a tape 4 in deep",
    "eyelets, turned twice",
    "tabs, the top faced",
    "a pocket for the rod below a frill",
    "flat, on a strip that holds fast",
)
HEM_LABELS = (
    "turned twice, 4 in deep",
    "turned once, its raw edge turned in",
    "turned twice, weights in it",
    "lies on the floor",
    "turned twice, 1/2 in deep",
    "faced with another cloth",
)
# In inches, and in centimetres for who measures so. Common practice, no source.
_HEADINGS: dict[HeadingKind, tuple[str, str]] = {
    HeadingKind.PINCH: ("4 1/2", "11"),
    HeadingKind.GOBLET: ("5 1/2", "14"),
    HeadingKind.PENCIL: ("3", "8"),
    HeadingKind.GATHERED: ("2", "5"),
    HeadingKind.WAVE: ("4 1/2", "11"),
    HeadingKind.EYELETS: ("8", "20"),
    HeadingKind.TABS: ("1/2", "1.5"),
    HeadingKind.ROD_POCKET: ("5 1/2", "14"),
    HeadingKind.FLAT: ("1", "2.5"),
}
_HEMS: dict[HemKind, tuple[str, str]] = {
    HemKind.DOUBLE: ("8", "20"),
    HemKind.SINGLE: ("4 3/4", "12"),
    HemKind.WEIGHTED: ("8", "20"),
    HemKind.PUDDLED: ("2", "5"),
    HemKind.NARROW: ("1", "2.5"),
    HemKind.FACED: ("1/2", "1.5"),
}


def usual_allowance(kind: HeadingKind | HemKind, unit: Unit) -> Fraction:
    """What is usually allowed for such a heading or hem, a round length of the unit, in inches."""
    inches, centimetres = _HEADINGS[kind] if isinstance(kind, HeadingKind) else _HEMS[kind]
    if unit is not Unit.INCH:
        return Fraction(centimetres) * CENTIMETRE
    return sum((Fraction(part) for part in inches.split()), Fraction(0))
