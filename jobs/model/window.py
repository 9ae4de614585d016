"""The windows of a job and what hangs there, each key declared where it is kept. Lengths are exact inches."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.allowances import OwnAllowances
from jobs.model.choices import Facing, HalfAt, Hang, Panels, Part
from jobs.model.cuts import MOST_CUTS
from jobs.model.piece import Place, where_cuts_lie
from jobs.model.records import dataclass
from jobs.model.schema import ZERO, Asked, Choice, Group, Groups, Length, Number, Text, When, Write, YesNo, key
from jobs.model.trimmings import Band, Lining, TieBacks

MOST_FULLNESS = 10


@dataclass(frozen=True)
class RowRule:
    """Where a row of the print shall stand in a finished panel; exactly one of the three is set."""

    below_top: Fraction | None = key(
        Length(),
        "From the top to the row",
        "From the finished top down to the line across through the point of the motif that you chose.",
        default=None,
        usual="0",
        when=When.BELOW_TOP,
        asked=Asked(
            "How far below the finished top is the row?",
            "0 puts it exactly there. Half a motif more than its height keeps the motif whole.",
            "0",
        ),
    )
    above_foot: Fraction | None = key(
        Length(),
        "From the foot to the row",
        "From the finished foot up to the line across through the point of the motif that you chose.",
        default=None,
        when=When.ABOVE_FOOT,
        asked=Asked(
            "How far above the finished foot is the row?",
            "Half the height of the motif, or a little more, keeps the motif whole at the foot.",
        ),
    )
    level_with: str | None = key(
        Text(of="window"),
        "Level with",
        "Another window; both need their top above the floor.",
        default=None,
        when=When.LEVEL_WITH,
        asked=Asked(
            "Level with which window?", "The name of another window of this job, whose rows this one shall meet."
        ),
    )


@dataclass(frozen=True)
class Made:
    """What is cut beside the faces of windows: which part it is, of which window (or of itself).

    ``exact``: it is cut to its own width. Then ``middle`` is how far from a column, away from the near selvedge, the
    middle of it lies; None: wherever there is room. ``seamed`` tells that it is seamed all round, not hemmed. Of things
    that are counted, whatever their hand, it is number ``copy`` (from 1) of ``copies``; of others both are 0.
    """

    part: Part
    of: str
    exact: bool = False
    middle: Fraction | None = None
    seamed: bool = False
    copy: int = 0
    copies: int = 0


@dataclass(frozen=True)
class Window:
    """One window and the panels it gets. Exactly one of ``cuts_per_panel``, ``rod`` and ``flat`` is set.

    ``returns`` is one return: a pair and a whole panel have two, a single left or right panel one. Windows of one
    ``room`` are seen together, so they come from one dye lot. ``made`` and ``flat`` stand in no file: what is derived
    from another window tells which part of it it is, and how wide one of its panels is between its finished sides, laid
    flat (see ``jobs.cutting.cloths``).
    """

    name: str = key(
        Text(),
        "Name",
        "A name of its own, as it shall stand in the light: East bay, Stairs.",
        asked=Asked("What do you call this window?", "Short names are written larger on the cloth."),
    )
    panels: Panels = key(
        Choice(Panels, ("a pair", "one, left", "one, right", "one for all")),
        "What hangs there",
        "Two panels that meet, one at a side as seen from inside the room, or one for all of it.",
        remark="pair | left | right | whole, seen from inside",
        asked=Asked(
            "What hangs there: pair, left, right or whole?",
            "Left and right are as seen from inside the room.",
            "pair",
            "pair: two panels that meet in the middle; left or right: one panel at that side; whole: one for all of "
            "it.",
            ("pair,p,two", "left,l", "right,r", "whole,w,one"),
        ),
    )
    finished_length: Fraction = key(
        Length(above_zero=True),
        "Finished length",
        "From the top of the heading to the foot, as it hangs.",
        doubt=(12, 240),
        remark="top of heading to foot",
        asked=Asked(
            "How long is the finished panel?",
            "Measure at both sides and in the middle, with a tape that does not stretch.",
        ),
    )
    hang: Hang = key(
        Choice(Hang, ("mirror each other", "hang the same")),
        "The two panels",
        "Whether a mirrored pair can be cut depends on the print; you are told at once.",
        default=Hang.MIRRORED,
        usual="mirrored",
        when=When.PAIR_OF_PRINT,
        remark="mirrored | same",
        asked=Asked(
            "Shall the two panels mirror each other, or hang the same?",
            "Whether a mirrored pair can be cut at all depends on the print; you are told at once.",
            "mirrored",
            "mirrored: the print of one is the mirror image of the other; same: both show the print the same way "
            "round.",
            ("mirrored,m,mirror", "same,s"),
        ),
    )
    top_height: Fraction | None = key(
        Length(),
        "Top above the floor",
        "From the floor to the finished top. Needed only where rows hang level from window to window.",
        default=None,
        usual="not known",
        doubt=(20, 300),
        remark="finished top above the floor",
        asked=Asked(
            "How high is the finished top above the floor?",
            "Measure from the floor up to where the top of the heading will be.",
            "skip",
            "Needed so that rows hang level from window to window. skip if nothing is to be level.",
            skip=True,
        ),
    )
    cuts_per_panel: Fraction | None = key(
        Number(Fraction(1, 2), Fraction(MOST_CUTS), halves=True),
        "Cuts in each panel",
        "Whole and half cuts joined side by side: 1, 1 1/2, 2.",
        default=Fraction(1),
        left_out=None,
        usual="1",
        doubt=(None, 10),
        when=When.BY_CUTS,
        remark="joined side by side",
        asked=Asked(
            "How many cuts are joined in one panel?",
            "A half cut is half the width of the cloth and is sewn to the outside of the panel.",
            "1",
        ),
    )
    rod: Fraction | None = key(
        Length(above_zero=True),
        "Rod",
        "From bracket to bracket, the part in front of the window.",
        default=None,
        doubt=(12, 480),
        when=When.BY_ROD,
        remark="the cuts are worked out from this",
        asked=Asked(
            "How long is the rod?", "Without the returns at its ends and without the overlap: they are asked next."
        ),
    )
    returns: Fraction = key(
        Length(),
        "One return",
        "From the front of the rod back to the wall, at one end.",
        default=ZERO,
        usual="0",
        doubt=(None, 14),
        when=When.BY_ROD,
        write=Write.BY_ROD,
        remark="one return, rod to wall",
        drawing="returns",
        asked=Asked(
            "How long is one return?", "A pair and a whole panel have two, a single left or right panel has one.", "0"
        ),
    )
    overlap: Fraction = key(
        Length(),
        "Overlap",
        "Where one panel runs past the other in the middle, counted once for the window.",
        default=ZERO,
        usual="0",
        doubt=(None, 14),
        when=When.BY_ROD,
        write=Write.BY_ROD,
        remark="where the two panels meet",
        drawing="overlap",
        asked=Asked("How much do the panels overlap in the middle?", "0 for none.", "0"),
    )
    fullness: Fraction = key(
        Number(Fraction(1), Fraction(MOST_FULLNESS)),
        "Fullness",
        "Flat width over finished width. 2 means twice as much cloth as rod.",
        default=Fraction(2),
        usual="2",
        told=True,
        doubt=("5/4", 4),
        when=When.BY_ROD,
        write=Write.BY_ROD,
        remark="flat width over finished width",
        asked=Asked("How full shall it be?", "2 to 2 1/2 is common; heavy cloth takes less, sheer cloth 3.", "2"),
    )
    row: RowRule | None = key(
        Group(RowRule, flow=True),
        "A row of the print stands",
        "A whole motif at the foot shows most; rows level from window to window show in a room with several.",
        default=None,
        usual="at the finished top",
        told=True,
        when=When.PATTERNED,
        remark="where a row of the print shall stand",
        drawing="row",
    )
    side_by_side: bool = key(
        YesNo(),
        "May its narrow cuts lie beside others?",
        "No: its half cuts and narrow panels get lengths of their own.",
        default=True,
        usual="yes",
        when=When.NARROW,
        remark="no: its narrow cuts get a length of their own",
    )
    facing: Facing = key(
        Choice(Facing, ("the left panel shows the print as it lies", "the right panel shows it as it lies")),
        "Which way the pair looks",
        "Whether motifs look towards each other or apart: look at both pictures. It may be changed once it is cut.",
        default=Facing.LEFT,
        usual="the left panel as it lies",
        when=When.LOOKS_EITHER_WAY,
        remark="left as it lies | right as it lies",
        asked=Asked(
            "Which way shall the pair look: left or right?",
            "It may be changed when the pair is cut: then the two panels change places.",
            "left",
            "left: the left panel shows the print as it lies on the cloth; right: the right panel does.",
            ("left,l", "right,r"),
        ),
    )
    half_at: HalfAt = key(
        Choice(
            HalfAt, ("outside, at the return edge", "at the leading edge", "at both sides, a whole cut in the middle")
        ),
        "Its half cut goes",
        "Both sides only for one panel for all: halves, or a half that is split, beside a whole cut in the middle.",
        default=HalfAt.RETURN,
        usual="the return edge",
        when=When.NARROW,
        remark="return edge | leading edge | both sides",
    )
    room: str = key(
        Text(),
        "Room",
        "Windows of one room are cut from one dye lot wherever one holds them.",
        default="",
        usual="a room of its own",
        when=When.SEVERAL_WINDOWS,
        remark="windows of one room come from one dye lot",
    )
    places: tuple[Place, ...] = where_cuts_lie()
    cloth: str = key(
        Text(of="cloth"),
        "Its cloth",
        "What its face is cut from: the name of one of the cloths of this job.",
        default="",
        usual="the first cloth",
        when=When.SEVERAL_CLOTHS,
        remark="name of its cloth",
    )
    allowances: OwnAllowances | None = key(
        Group(OwnAllowances, flow=True),
        "Turnings of its own",
        "Where they are other than in the rest of the job.",
        default=None,
        usual="as in the job",
        when=When.OWN_ALLOWANCES,
        remark="where other than in the rest of the job",
    )
    lining: Lining | None = key(
        Group(Lining, flow=True),
        "Lining",
        "Hangs behind the face; from a cloth of its own or from the same.",
        default=None,
        usual="none",
        when=When.LINED,
        remark="hangs behind the face",
    )
    interlining: Lining | None = key(
        Group(Lining, flow=True),
        "Interlining",
        "Lies between face and lining.",
        default=None,
        usual="none",
        when=When.INTERLINED,
        remark="lies between face and lining",
    )
    bands: tuple[Band, ...] = key(
        Groups(Band, "band", flow=True),
        "Contrast bands",
        "Sewn to the leading edge, the top or the foot of each panel.",
        default=(),
        usual="none",
        remark="at the leading edge, the top or the foot",
    )
    tie_backs: TieBacks | None = key(
        Group(TieBacks, flow=True),
        "Tie-backs",
        "One for each panel.",
        default=None,
        usual="none",
        when=When.TIED_BACK,
        remark="one for each panel",
    )
    made: Made | None = None
    flat: Fraction | None = None

    @property
    def is_whole_job(self) -> bool:
        """Whether the window is as a file has it, naming its cloth or what is cut for it beside its face."""
        return bool(self.cloth or self.lining or self.interlining or self.bands or self.tie_backs)
