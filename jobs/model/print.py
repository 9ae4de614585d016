"""The print of a cloth: how far apart it comes again, what mirrors it, each key declared where it is kept."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import End, Symmetry
from jobs.model.records import dataclass
from jobs.model.schema import ZERO, Asked, Choice, Length, PlaneGroup, When, Write, YesNo, key

SMALLEST_REPEAT = Fraction(1, 8)


_MIRRORS = ("no", "yes, it mirrors", "yes, slid by half a repeat")


_SLIDING = ("no,n", "yes,y", "slid,slide,glide")


SKIPPED = "skip: the order is reckoned for the dearest case, and cutting waits for the answer."


@dataclass(frozen=True)
class Repeat:
    """Distances after which the print comes again, along (warp) and across (weft)."""

    along: Fraction = key(
        Length(above_zero=True),
        "Repeat along",
        "Along the selvedge, from one point of the print to the same point further along.",
        doubt=(1, 48),
        asked=Asked(
            "After what length does the print come again, along the selvedge?",
            "Measure ten repeats and divide by ten where you can: the ticket is only near the truth.",
        ),
    )
    across: Fraction | None = key(
        Length(above_zero=True),
        "Repeat across",
        "From one point of the print to the same point in the next column.",
        default=None,
        usual="not known",
        doubt=(1, 60),
        asked=Asked(
            "And across, from selvedge towards selvedge?",
            "Mirrored pairs of half-drop prints and of prints that mirror with a slide cannot be worked out without "
            "it; seams and joined cuts are better with it.",
            "skip",
            "Repeat across: from one point of the print to the same point in the next column. skip if not known.",
            skip=True,
        ),
    )


@dataclass(frozen=True)
class Print:
    """Symmetry of the print as it lies on the cloth, warp vertical.

    ``mirror_offset`` is measured on the hanging cloth: from a row down to the nearest top-to-bottom mirror line (or
    glide line); of cloth run sideways, where that line hangs upright, from the row away from the first end.
    ``mirror_offset_across`` is the distance from a column, away from the near selvedge, to the nearest side-to-side
    one; None: not measured. ``top_towards`` is the end of the piece to which the motif's top points.
    """

    top_to_bottom: Symmetry = key(
        Choice(Symmetry, _MIRRORS),
        "From top to bottom?",
        "Is there a line across the cloth below which all is the same as above it, upside down?",
        default=Symmetry.NONE,
        usual="not known: order takes the dearest",
        when=When.PATTERNED,
        write=Write.PATTERNED,
        remark="mirror | glide | none",
        drawing="top to bottom",
        asked=Asked(
            "Does the print mirror from top to bottom?",
            "slid: the same upside down, but moved sideways by half a repeat. Try it with a pocket mirror stood across "
            f"the cloth. This decides whether turning a panel makes the mirrored half of a pair. {SKIPPED}",
            term="Is there a line across the cloth below which all is as above it, upside down? no, yes, slid; skip: "
            "not known.",
            answers=_SLIDING,
            skip=True,
        ),
    )
    side_to_side: Symmetry = key(
        Choice(Symmetry, _MIRRORS),
        "From side to side?",
        "Is there a line along the cloth beside which left and right are the same, swapped?",
        default=Symmetry.NONE,
        usual="not known: order takes the dearest",
        when=When.PATTERNED,
        write=Write.PATTERNED,
        remark="mirror | glide | none",
        drawing="side to side",
        asked=Asked(
            "Does the print mirror from side to side?",
            "slid: swapped, but moved along by half a repeat. With yes both panels of a pair may lie upright. "
            f"{SKIPPED}",
            term="Is there a line along the cloth with the same left and right of it, swapped? no, yes, slid; skip: "
            "not known.",
            answers=_SLIDING,
            skip=True,
        ),
    )
    half_turn: bool = key(
        YesNo(),
        "Just the same upside down?",
        "Turned by half a turn, not mirrored: does the print look just the same?",
        default=False,
        usual="follows from the mirrors",
        when=When.PATTERNED,
        write=Write.PATTERNED,
        remark="the same upside down?",
        drawing="half turn",
        asked=Asked(
            "Does it look just the same turned upside down?",
            "A print with a half-turn and no mirror looks the same either way up, so turning a panel makes no pair.",
            "no",
            "Half-turn: not mirrored, only turned. Try it with two small cuttings, one turned.",
        ),
    )
    mirror_offset: Fraction = key(
        Length(),
        "From a row down to that line",
        "On the hanging cloth, from a row down to the nearest line about which it mirrors from top to bottom.",
        default=ZERO,
        usual="0",
        when=When.MIRRORS_DOWN,
        remark="from a row down to the mirror line",
        asked=Asked(
            "How far below a row does the next such line lie, as the cloth hangs?",
            "Choose a point you find again at once, an eye or a tip, once for the whole job. 0 when the mirror line "
            "goes through it. It is measured downwards whichever end of the piece the tops point to; of cloth run "
            "sideways, from the row away from the first end.",
            "0",
            "Row: a line across the cloth through a point of the motif that you choose. Hold it tops up and measure "
            "down.",
        ),
    )
    one_way: bool = key(
        YesNo(),
        "Must it hang one way up?",
        "Stems grow up, or the pile or sheen has a direction: then no panel is ever turned.",
        default=False,
        usual="not known: order takes the dearest",
        write=Write.ALWAYS,
        remark="yes: no panel may be turned",
        asked=Asked(
            "Must every panel hang the same way up?",
            f"Stroke the cloth both ways, and look at it in slanting light. {SKIPPED}",
            term="One way: stems grow up, or pile or sheen has a direction. Then no panel is ever turned. skip if not "
            "known.",
            skip=True,
        ),
    )
    top_towards: End = key(
        Choice(End, ("the first end", "the last end")),
        "Tops of the motifs point to",
        "Lay the cloth with its first end at your left. You may call either end its first.",
        default=End.FIRST,
        usual="the first end",
        asked=Asked(
            "Lay it with its first end at your left. To which end do the tops of the motifs point?",
            "You may call either end of the cloth its first. Mark it with a pin: all is measured from there.",
            "first end",
            "first: to the end at your left; last: to the other.",
            answers=("first end,first,left,f", "last end,last,right,l"),
        ),
    )
    group: str | None = key(
        PlaneGroup(),
        "Plane group",
        "Only if you know its name, such as pmm or cm: it says how the print mirrors, all in one word.",
        default=None,
        usual="how it mirrors is said by the other keys",
        when=When.PATTERNED,
        remark="plane group",
    )
    mirror_offset_across: Fraction | None = key(
        Length(),
        "From a column to that line",
        "Away from the near selvedge, to the nearest line about which it mirrors from side to side.",
        default=None,
        usual="taken as 0",
        when=When.MIRRORS_ACROSS,
        remark="from a column across to it",
    )

    @property
    def mirror_along(self) -> Fraction:
        """From a row to that mirror line along the piece, away from its first end; below 0 where down is towards it."""
        return self.mirror_offset if self.top_towards is End.FIRST else -self.mirror_offset
