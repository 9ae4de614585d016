"""What is turned over and seamed: the allowances of a job and of one window, headings and hems by their names.

The name is a word for people and a figure for who has none of his own; what is written as a length always counts.
"""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import HeadingKind, HemKind, Unit
from jobs.model.lengths import CENTIMETRE
from jobs.model.records import dataclass
from jobs.model.schema import ZERO, Asked, Choice, Length, When, Write, key

LEAST_SEAM = Fraction(3, 8)
"""Inches. Common practice, no source."""


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


TURNED_TWICE = frozenset({HemKind.DOUBLE, HemKind.WEIGHTED, HemKind.NARROW})
"""Kinds of hem that are turned up twice, half of it each time."""


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


@dataclass(frozen=True)
class Allowances:
    """What is added to the finished sizes, and the strip lost in squaring the first end."""

    heading: Fraction = key(
        Length(),
        "Heading",
        "Cloth above the finished top that is folded over, or around a stiffener.",
        default=ZERO,
        usual="0",
        told=True,
        doubt=(None, 16),
        write=Write.ALWAYS,
        remark="cloth turned over at the top",
        asked=Asked(
            "How much cloth is turned over at the top?",
            "Measure it from the finished top to the raw edge. It is added to the finished length of every panel.",
            ("4", "10", "100"),
        ),
    )
    hem: Fraction = key(
        Length(),
        "Hem",
        "Cloth turned up at the foot, all of it: a doubled hem of 4 in takes 8 in.",
        default=ZERO,
        usual="0",
        told=True,
        doubt=(None, 24),
        write=Write.ALWAYS,
        remark="cloth turned up at the foot",
        asked=Asked(
            "How much cloth is turned up at the foot?",
            "A hem that is folded twice takes twice its depth. It is added to the finished length of every panel.",
            ("8", "20", "200"),
        ),
    )
    side_hem: Fraction = key(
        Length(),
        "Side hem",
        "At one side, all of it: a doubled side hem of 1 1/2 in takes 3 in.",
        default=ZERO,
        usual="0",
        told=True,
        doubt=(None, 8),
        write=Write.ALWAYS,
        remark="turned in at each side",
        asked=Asked(
            "How much is turned in at each side of a panel?",
            "It is taken from the width of the cloth, and decides how many cuts a panel needs.",
            ("3", "8", "80"),
        ),
    )
    seam: Fraction = key(
        Length(),
        "Seam",
        "What a seam takes from each edge that is joined; the selvedge counts towards it.",
        default=ZERO,
        usual="0",
        told=True,
        doubt=(None, 2),
        write=Write.ALWAYS,
        remark="each edge that is joined",
        asked=Asked(
            "How much does a seam take from each edge that is joined?",
            "The selvedge lies in the seam and counts as part of it: 1/2 with a selvedge of 1/2 takes no print.",
            ("1/2", "1.5", "15"),
        ),
    )
    squaring: Fraction = key(
        Length(),
        "Squaring",
        "Lost in straightening the first end: the shop's cut is seldom straight.",
        default=ZERO,
        usual="0",
        told=True,
        doubt=(None, 12),
        write=Write.ALWAYS,
        remark="lost in straightening the first end",
        asked=Asked(
            "How much is lost in straightening the first end?",
            "It is lost once for each piece and added to the order.",
            ("1", "3", "30"),
        ),
    )
    least_seam: Fraction = key(
        Length(),
        "Least seam",
        "Cloth that must stay outside a seam line, selvedge and all, so that whole columns may lie between the seams.",
        default=LEAST_SEAM,
        usual="3/8 in",
        doubt=(None, 2),
        when=When.PATTERNED,
        remark="at least so much outside a seam line, selvedge and all",
    )
    heading_kind: HeadingKind | None = key(
        Choice(HeadingKind, HEADING_LABELS),
        "Kind of heading",
        "A word for the sheet; where no heading is given its usual allowance is taken, and you are told.",
        default=None,
        usual="not said",
        remark="how the top is made up",
    )
    hem_kind: HemKind | None = key(
        Choice(HemKind, HEM_LABELS),
        "Kind of hem",
        "A word for the sheet; where no hem is given its usual allowance is taken, and you are told.",
        default=None,
        usual="not said",
        remark="how the foot is made up",
    )


@dataclass(frozen=True)
class OwnAllowances:
    """What is another at one window than in the rest of the job; None: as there."""

    heading: Fraction | None = key(
        Length(),
        "Heading",
        "Cloth turned over at the top of this window's panels.",
        default=None,
        usual="as in the job",
        doubt=(None, 16),
    )
    hem: Fraction | None = key(
        Length(),
        "Hem",
        "Cloth turned up at the foot of this window's panels, all of it.",
        default=None,
        usual="as in the job",
        doubt=(None, 24),
    )
    side_hem: Fraction | None = key(
        Length(),
        "Side hem",
        "At one side of this window's panels, all of it.",
        default=None,
        usual="as in the job",
        doubt=(None, 8),
    )
    seam: Fraction | None = key(
        Length(),
        "Seam",
        "What a seam of this window takes from each edge that is joined.",
        default=None,
        usual="as in the job",
        doubt=(None, 2),
    )
    least_seam: Fraction | None = key(
        Length(),
        "Least seam",
        "Cloth that must stay outside a seam line of this window, selvedge and all.",
        default=None,
        usual="as in the job",
        doubt=(None, 2),
    )
    heading_kind: HeadingKind | None = key(
        Choice(HeadingKind, HEADING_LABELS),
        "Kind of heading",
        "A word for the sheet; where no heading is given beside it its usual allowance is taken, and you are told.",
        default=None,
        usual="as in the job",
    )
    hem_kind: HemKind | None = key(
        Choice(HemKind, HEM_LABELS),
        "Kind of hem",
        "A word for the sheet; where no hem is given beside it its usual allowance is taken, and you are told.",
        default=None,
        usual="as in the job",
    )
