"""What goes with the panels of a window, each from a cloth of its own: linings, contrast bands, tie-backs."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from jobs.model.choices import BandEdge, CutAlong
from jobs.model.cuts import MOST_CUTS
from jobs.model.piece import Place, where_cuts_lie
from jobs.model.records import dataclass
from jobs.model.schema import ZERO, Asked, Choice, Count, Length, Number, Text, When, key


@dataclass(frozen=True)
class Lining:
    """What hangs behind the face of a window, from a cloth of its own: shorter and narrower, with turnings of its own.

    ``narrower`` is what one flat panel is narrower than that of the face, between its finished sides. Turnings that are
    None are those of the face.
    """

    cloth: str = key(
        Text(of="cloth"),
        "Its cloth",
        "The name of one of the cloths of this job.",
        asked=Asked("What is it cut from?", "Type the name that you gave the cloth."),
    )
    shorter: Fraction = key(
        Length(),
        "Shorter by",
        "How far above the finished foot of the face it ends.",
        default=Fraction(1),
        usual="1 in",
        doubt=(None, 12),
        asked=Asked(
            "How much shorter than the face is it?", "So that it is not seen below the face.", ("1", "2.5", "25")
        ),
    )
    narrower: Fraction = key(
        Length(),
        "Narrower by",
        "How much narrower one flat panel is than that of the face.",
        default=ZERO,
        usual="0",
        doubt=(None, 12),
    )
    heading: Fraction | None = key(
        Length(),
        "Heading",
        "What is turned over at its top.",
        default=None,
        usual="as the face",
        doubt=(None, 16),
        asked=Asked("How much of it is turned over at the top?", "skip: as much as of the face.", "skip", skip=True),
    )
    hem: Fraction | None = key(
        Length(),
        "Hem",
        "What is turned up at its foot, all of it.",
        default=None,
        usual="as the face",
        doubt=(None, 24),
        asked=Asked("How much of it is turned up at the foot?", "skip: as much as of the face.", "skip", skip=True),
    )
    side_hem: Fraction | None = key(
        Length(), "Side hem", "At one side, all of it.", default=None, usual="as the face", doubt=(None, 8)
    )
    cuts_per_panel: Fraction | None = key(
        Number(Fraction(1, 2), Fraction(MOST_CUTS), halves=True),
        "Cuts in each panel",
        "Only where the face says how many cuts it has: whole and half cuts joined side by side.",
        default=None,
        usual="worked out from the face; as many as it where both cloths are equally wide",
        doubt=(None, 10),
        when=When.BY_CUTS,
    )
    places: tuple[Place, ...] = where_cuts_lie()


def _from_a_cloth() -> Any:
    """The key of what may be cut from another cloth than the face."""
    return key(
        Text(of="cloth"),
        "Its cloth",
        "The name of one of the cloths of this job.",
        default="",
        usual="the first cloth",
        asked=Asked("What is it cut from?", "Type the name that you gave the cloth."),
    )


@dataclass(frozen=True)
class Band:
    """A contrast band or border of a window's panels, ``width`` wide between its seams."""

    edge: BandEdge = key(
        Choice(BandEdge, ("the leading edge", "the top", "the foot")),
        "At",
        "The edge of each panel it is sewn to.",
        asked=Asked(
            "Where is it sewn on: leading, top or foot?",
            "leading: the edge that travels to the middle of the window.",
            "leading",
            answers=("leading,l", "top,t", "foot,f"),
        ),
    )
    width: Fraction = key(
        Length(above_zero=True),
        "Width",
        "As it shows, between its seams; twice that where it is folded over the edge.",
        asked=Asked("How wide is it?", "The seam at each long side is added.", ("3", "8", "80")),
    )
    cloth: str = _from_a_cloth()
    cut: CutAlong = key(
        Choice(CutAlong, ("along the cloth", "across it, in several lengths where need be")),
        "Its long side lies",
        "Along the cloth in one length, or across it, where its print shall stand upright or lie level.",
        default=CutAlong.ALONG,
        usual="along",
    )
    seam: Fraction | None = key(
        Length(), "Seam", "At each long side, and where lengths are joined.", default=None, usual="as in the job"
    )
    places: tuple[Place, ...] = where_cuts_lie()


@dataclass(frozen=True)
class TieBacks:
    """What holds the panels of a window back, one for each."""

    length: Fraction = key(
        Length(above_zero=True),
        "Length",
        "From end to end, between its seams.",
        asked=Asked("How long is a tie-back?", "Hold a tape around the panel as it will be held.", ("22", "55", "550")),
    )
    width: Fraction = key(
        Length(above_zero=True),
        "Width",
        "Between its seams, where it is widest.",
        asked=Asked("How wide is it?", "Each is cut twice, as a front and a back.", ("4", "10", "100")),
    )
    cloth: str = _from_a_cloth()
    seam: Fraction | None = key(Length(), "Seam", "All round.", default=None, usual="as in the job")
    pieces: int = key(
        Count(1, 4),
        "Cuts for each",
        "2 for a front and a back of the same cloth.",
        default=2,
        usual="2",
    )
    places: tuple[Place, ...] = where_cuts_lie()
