"""What is cut beside curtains: flat panels for shades and valances, cushions and other small goods."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.allowances import OwnAllowances
from jobs.model.choices import Middle, Motif
from jobs.model.piece import Place, where_cuts_lie
from jobs.model.records import dataclass
from jobs.model.schema import ZERO, Choice, Count, Group, Length, Text, Two, When, YesNo, key
from jobs.model.window import RowRule

MOST_WANTED = 200


@dataclass(frozen=True)
class FlatPanel:
    """A shade or a flat valance: cut to its own width and length, without fullness."""

    name: str = key(Text(), "Name", "A name of its own, as it shall stand in the light: Stair shade.")
    width: Fraction = key(
        Length(above_zero=True), "Finished width", "Between its finished sides; it is cut to just that.", doubt=(6, 120)
    )
    finished_length: Fraction = key(
        Length(above_zero=True), "Finished length", "From its finished top to its foot.", doubt=(4, 240)
    )
    count: int = key(Count(1, 60), "How many", "Of the same size, cut alike.", default=1, usual="1")
    cloth: str = key(
        Text(of="cloth"),
        "Its cloth",
        "The name of one of the cloths of this job.",
        default="",
        usual="the first cloth",
        when=When.SEVERAL_CLOTHS,
    )
    allowances: OwnAllowances | None = key(
        Group(OwnAllowances, flow=True),
        "Turnings of its own",
        "Top, foot and sides, where they are other than in the rest of the job.",
        default=None,
        usual="as in the job",
        when=When.OWN_ALLOWANCES,
    )
    middle: Middle = key(
        Choice(Middle, ("a motif", "the gap between two", "what comes")),
        "In its middle lies",
        "Seen across: a column of motifs, the middle between two, or whatever comes.",
        default=Middle.MOTIF,
        usual="a motif",
        when=When.PATTERNED,
    )
    row: RowRule | None = key(
        Group(RowRule, flow=True),
        "A row of the print stands",
        "As at a window.",
        default=None,
        usual="at the finished top",
        when=When.PATTERNED,
    )
    top_height: Fraction | None = key(
        Length(),
        "Top above the floor",
        "From the floor to the finished top. Needed only where rows hang level.",
        default=None,
        usual="not known",
        doubt=(20, 300),
    )
    beside: str = key(
        Text(of="flat panel"),
        "Goes on from",
        "The flat panel to the left of it, seen from inside: the print runs on from that one to this.",
        default="",
        usual="it stands for itself",
        when=When.PATTERNED,
    )
    apart: Fraction = key(
        Length(),
        "Apart from that",
        "Between the two as they hang.",
        default=ZERO,
        usual="0",
        doubt=(None, 120),
        when=When.PATTERNED,
    )
    room: str = key(
        Text(),
        "Room",
        "What hangs in one room is cut from one dye lot wherever one holds it.",
        default="",
        usual="none",
    )
    places: tuple[Place, ...] = where_cuts_lie()


@dataclass(frozen=True)
class Wanted:
    """A small thing: so long along the cloth, so wide across it without its ``seam``, so many of it.

    It is cut from what is left, or ``ordered`` with the rest. ``point`` is how far below and beside a motif point the
    place lies that comes into the middle of it: down and across as it hangs.
    """

    name: str = key(Text(), "What it is", "A cushion front, a tie-back.")
    size: tuple[Fraction, Fraction] = key(
        Two(Length(above_zero=True), ("Along the cloth", "Across the cloth")),
        "Size",
        "Without the seam, where one is given; else as cut, seams and all.",
    )
    count: int = key(
        Count(1, MOST_WANTED),
        "How many",
        "Placed on what is left they never make the order longer.",
        default=1,
        usual="1",
    )
    motif: Motif = key(
        Choice(Motif, ("centred", "anywhere")),
        "The motif",
        "Centred: a motif lies in its middle.",
        default=Motif.ANYWHERE,
        name="row",
        usual="anywhere",
        when=When.PATTERNED,
    )

    seam: Fraction = key(Length(), "Seam", "Added at each of its four sides.", default=ZERO, usual="0", doubt=(None, 3))
    backs: bool = key(
        YesNo(),
        "With backs?",
        "As many again of the same size, whatever of the print they show.",
        default=False,
        usual="no",
    )
    ordered: bool = key(
        YesNo(),
        "Is it ordered?",
        "Yes: cloth is bought for it. No: it is placed on what is left, where there is room.",
        default=False,
        name="order",
        usual="no",
    )
    cloth: str = key(
        Text(of="cloth"),
        "Its cloth",
        "The name of one of the cloths of this job.",
        default="",
        usual="the first cloth",
        when=When.SEVERAL_CLOTHS,
    )
    point: tuple[Fraction, Fraction] | None = key(
        Two(Length(), ("Below the row", "Beside the column")),
        "Centred on",
        "The point of the motif that comes into the middle: down from a row, and away from the near selvedge.",
        default=None,
        usual="where row and column cross",
        when=When.PATTERNED,
    )
    places: tuple[Place, ...] = where_cuts_lie()

    @property
    def along(self) -> Fraction:
        """What is cut, along the cloth."""
        return self.size[0] + 2 * self.seam

    @property
    def across(self) -> Fraction:
        """What is cut, across the cloth."""
        return self.size[1] + 2 * self.seam
