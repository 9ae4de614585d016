"""One piece of cloth as delivered, its flaws, and where cuts shall lie on it: exact inches from its first end."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from jobs.model.cuts import MOST_CUTS, Hand
from jobs.model.records import dataclass
from jobs.model.schema import ZERO, Asked, Choice, Count, Groups, Length, Text, Two, When, Write, key

MOST_PIECES = 1000


@dataclass(frozen=True)
class Flaw:
    """A bad place on a piece: from and to along it; ``across`` from the near selvedge, whole width when None."""

    start: Fraction = key(
        Length(),
        "Begins at",
        "Along the piece, from its first end. Measure generously.",
        name="from",
        asked=Asked("Where along the piece does it begin?", "Measure generously."),
    )
    end: Fraction = key(
        Length(),
        "Ends at",
        "From the first end too.",
        name="to",
        asked=Asked("Where does it end?", "Measure generously."),
    )
    across: tuple[Fraction, Fraction] | None = key(
        Two(Length(), ("Across, from", "Across, to")),
        "Across",
        "From the near selvedge, the one before you: where it begins and where it ends.",
        default=None,
        usual="the whole width",
    )
    note: str = key(
        Text(),
        "What it is",
        "A word for you: slub, stain, join.",
        default="",
        usual="nothing",
        asked=Asked(
            "What is it?",
            "It stands on the lists and pictures.",
            "skip",
            "A word for you: slub, stain, join. skip for none.",
            skip=True,
        ),
    )


@dataclass(frozen=True)
class Piece:
    """One continuous length of cloth as delivered. ``first_row`` is measured from its first end.

    Pieces of one ``dye_lot`` have the same colour; a piece without one is a lot of its own.
    """

    length: Fraction = key(
        Length(above_zero=True),
        "Length",
        "Along a selvedge from its first end, flat.",
        doubt=(18, 3600),
        asked=Asked("How long is this piece?", "Measure it, do not trust the ticket."),
    )
    first_row: Fraction = key(
        Length(),
        "First row",
        "From its first end to a row, any row: the line across through the point of the motif that you chose.",
        default=ZERO,
        usual="0",
        told=True,
        when=When.PATTERNED,
        write=Write.PATTERNED,
        remark="from the first end to a row",
        asked=Asked(
            "How far is it from its first end to a row?",
            "On a half-drop print take a row of the column nearest the near selvedge, and stay with that column.",
            "0",
        ),
    )
    flaws: tuple[Flaw, ...] = key(
        Groups(Flaw, "flaw", flow=True), "Flaws", "Bad places that must be kept out.", default=(), usual="none"
    )
    dye_lot: str = key(
        Text(), "Dye lot", "Pieces of one lot have the same colour.", default="", usual="a lot of its own"
    )


@dataclass(frozen=True)
class Place:
    """Where the person wants a cut to lie: a wish, met as near as rows, flaws and cut cloth allow."""

    panel: Hand = key(
        Choice(Hand, ("the left one", "the right one", "the only one")), "Panel", "As seen from inside the room."
    )
    near: Fraction = key(
        Length(),
        "Begins near",
        "From the first end of the piece. It goes to the nearest place where its rows come right.",
    )
    cut: int = key(
        Count(1, MOST_CUTS),
        "Cut of that panel",
        "Cuts joined side by side are counted from the leading edge; of several things alike, which one.",
        default=1,
        usual="1",
    )
    piece: int = key(Count(1, MOST_PIECES), "Piece", "In the order they are listed here.", default=1, usual="1")


def where_cuts_lie() -> Any:
    """The key for such wishes, of a window or of what is made beside it."""
    return key(
        Groups(Place, "place", flow=True),
        "Where its cuts shall lie",
        "A wish for single cuts; the others are laid around them. Where one cannot be met you are told why.",
        default=(),
        usual="where least cloth is used",
        remark="where single cuts shall lie",
    )
