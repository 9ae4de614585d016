"""One piece of cloth as delivered, and its flaws. Lengths are exact inches, measured from its first end."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.records import dataclass
from jobs.model.schema import ZERO, Asked, Groups, Length, Text, Two, When, Write, key


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
