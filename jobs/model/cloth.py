"""The cloth of a job: its sizes, its print and the pieces as delivered, each key declared where it is kept.

Every length is an exact ``Fraction`` of an inch.
"""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import Border, BorderLeads, End, Follow, OrderBy, PrintKey, Run, Symmetry
from jobs.model.records import dataclass
from jobs.model.schema import (
    ZERO,
    Asked,
    Choice,
    Colour,
    Count,
    EachSide,
    Group,
    Groups,
    Length,
    Number,
    PlaneGroup,
    Several,
    Share,
    Text,
    Two,
    When,
    Write,
    YesNo,
    key,
)

SMALLEST_REPEAT = Fraction(1, 8)
MOST_LAYERS = 100
_MIRRORS = ("no", "yes, it mirrors", "yes, slid by half a repeat")
_SLIDING = ("no,n", "yes,y", "slid,slide,glide")
_SKIP = "skip: the order is reckoned for the dearest case, and cutting waits for the answer."


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
            f"the cloth. This decides whether turning a panel makes the mirrored half of a pair. {_SKIP}",
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
            f"slid: swapped, but moved along by half a repeat. With yes both panels of a pair may lie upright. {_SKIP}",
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
            f"Stroke the cloth both ways, and look at it in slanting light. {_SKIP}",
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


BOLT = Fraction(60 * 36)
"""The greatest length that a mill is taken to sell without a break, in inches (common practice, no source)."""


@dataclass(frozen=True)
class Cloth:
    """The material. ``shrinkage`` is a share (3 % is 3/100); ``sold_by`` the unit orders are rounded up to.

    ``first_column`` is the column the first row is measured on, from the near selvedge; None: the columns are centred.
    ``side_by_side`` tells whether narrow panels and half cuts may share one length of cloth. ``longest_piece`` is the
    greatest length the cloth is sold in without a break; None: a ``BOLT``. ``shrinkage_across`` counts only where
    the height of the panels lies across the cloth. ``picture`` is a file with one repeat of the print, named from the
    job file.
    ``not_known`` are the keys of the print that nobody has answered yet: what stands here for them means nothing until
    ``jobs.ordering.assumed`` puts an answer there.
    """

    name: str = key(
        Text(),
        "Name",
        "Its name and colour, as on the ticket.",
        left_out="unnamed cloth",
        usual="unnamed cloth",
        write=Write.ALWAYS,
        asked=Asked("What do you call the cloth?", "It stands on the order. Up to 120 characters."),
    )
    width: Fraction = key(
        Length(above_zero=True),
        "Cloth width",
        "From selvedge edge to selvedge edge. Selvedge: the woven edge at each side, which does not fray.",
        doubt=(30, 130),
        remark="selvedge edge to selvedge edge",
        asked=Asked(
            "How wide is it, from selvedge edge to selvedge edge?",
            "Lay it flat, do not pull. The ticket is often out by half an inch: measure.",
            ("54", "140", "1400"),
        ),
    )
    selvedge: Fraction | EachSide = key(
        Length(sides=True),
        "Unprinted strip at each side",
        "From the very edge to where the print begins.",
        default=ZERO,
        usual="0: the whole cloth width is taken as usable",
        told=True,
        doubt=(None, 2),
        write=Write.ALWAYS,
        remark="unprinted strip at each side",
        asked=Asked(
            "How wide is the unprinted strip at each side?",
            "It is cut away or lost in the seam, so it does not count as width. 0 where the print runs to the edge.",
            ("1/2", "1.5", "15"),
        ),
    )
    repeat: Repeat | None = key(
        Group(Repeat, flow=True),
        "The repeat",
        "Until the print comes again; left out for plain cloth.",
        default=None,
        usual="plain cloth",
        when=When.PATTERNED,
        remark="until the print comes again",
    )
    drop: Fraction = key(
        Number(ZERO, Fraction(1), below=True),
        "Drop of the next column",
        "How much lower the next column sits: 0 level beside it, 1/2 of the repeat for a half-drop print.",
        default=ZERO,
        usual="not known: order takes the dearest",
        when=When.PATTERNED,
        write=Write.PATTERNED,
        remark="0 straight, 1/2 half-drop",
        drawing="drop",
        asked=Asked(
            "How much lower does the next column sit?",
            "Follow one motif straight across the cloth. Level with it: 0. Halfway between two: 1/2. A third: 1/3. "
            f"{_SKIP}",
            term="Drop: 0 when the same motif lies level beside it, 1/2 of the repeat for a half-drop print. skip if "
            "not known.",
            skip=True,
        ),
    )
    print: Print = key(
        Group(Print),
        "How it mirrors",
        "What the print looks like turned and mirrored decides which pairs can be cut.",
        default=Print(),
        write=Write.ALWAYS,
    )
    faces_alike: bool = key(
        YesNo(), "May it be used face down?", "Only where both faces are alike.", default=False, usual="no"
    )
    shrinkage: Fraction = key(
        Share(below=Fraction(1, 2)),
        "Shrinks by",
        "From the label, or from a square you washed: 3 %.",
        default=ZERO,
        usual="0 %",
        doubt=(None, "1/8"),
        write=Write.ALWAYS,
        remark="part of the length lost in the wash",
        asked=Asked(
            "How much of its length will it lose in the wash, in percent?",
            "Every cut is made longer by it, so that the finished length is right after the wash. 0 when it is "
            "never washed.",
            "0 %",
        ),
    )
    colour: str = key(
        Colour(),
        "Colour of the ground",
        "The light is chosen so that it shows on the cloth.",
        default="#8d8f92",
        usual="#8d8f92",
        write=Write.ALWAYS,
        remark="of the ground",
        asked=Asked(
            "What colour is its ground?",
            "Ground: what lies between the motifs. White, cream, ivory, beige, sand, grey, charcoal, black, brown, "
            "rust, red, pink, plum, orange, gold, yellow, green, olive, teal, blue, navy and purple are known by name, "
            "and dark or pale ones: dark green.",
            "grey",
            "The light is chosen so that it shows on the cloth. A name such as cream or blue, or #rrggbb.",
        ),
    )
    motif_colours: tuple[str, ...] = key(
        Several(Colour(), "colour"),
        "Colours of the motif",
        "The light is chosen so that it shows on them too.",
        default=(),
        usual="none",
    )
    sold_by: Fraction | None = key(
        Length(above_zero=True, sold=True),
        "Sold in steps of",
        "The order is rounded up to this.",
        default=None,
        usual="1/4 yd, or 10 cm",
        doubt=(None, 144),
        remark="orders are rounded up to it",
        asked=Asked(
            "In what steps is it sold?",
            "A quarter yard, an eighth, ten centimetres, a whole metre: ask the shop.",
            ("1/4 yd", "10 cm", "10 cm"),
        ),
    )
    repeat_tolerance: Fraction = key(
        Share(below=Fraction(1, 10)),
        "The repeat may be longer by",
        "A ticket's repeat is off by a percent or so; what is bought is enough for one that is longer by this, too.",
        default=ZERO,
        usual="0 %: what a repeat 1 % longer would need is said",
        when=When.PATTERNED,
        remark="how much longer the repeat may turn out",
    )
    order_by: OrderBy = key(
        Choice(OrderBy, ("the guaranteed length", "the handbook length")),
        "What is bought",
        "Guaranteed: the least that is always enough for the repeat as given. Handbook: whole repeats for every cut.",
        default=OrderBy.GUARANTEED,
        usual="the guaranteed length",
        when=When.PATTERNED,
        remark="guaranteed | handbook",
    )
    pieces: tuple[Piece, ...] = key(
        Groups(Piece, "piece", least=1),
        "The pieces",
        "The cloth as delivered; left out while you only order.",
        default=(),
        usual="one piece as ordered",
        remark="as delivered; all measured from the first end",
    )
    follow: Follow = key(
        Choice(Follow, ("the print", "the selvedge")),
        "The cut lines follow",
        "The print as it really lies, skewed or bowed; or the selvedge, square to it.",
        default=Follow.PRINT,
        left_out=None,
        usual="the print; on plain cloth the selvedge",
        when=When.PATTERNED,
    )
    thickness: Fraction | None = key(
        Length(above_zero=True),
        "Thickness of a layer",
        "Light that falls slantwise is put right for it.",
        default=None,
        usual="not known",
        doubt=(None, "1/2"),
        remark="of one layer",
    )
    layers: int = key(
        Count(1, MOST_LAYERS),
        "Layers on each other",
        "The one that is cut lies uppermost.",
        default=1,
        usual="1",
        doubt=(None, 12),
        remark="on each other, the cut one uppermost",
    )
    run: Run = key(
        Choice(Run, ("up", "sideways")),
        "It runs",
        "Up: the selvedges hang upright. Sideways: they lie along top and foot, without a seam.",
        default=Run.UP,
        usual="up",
        remark="sideways: the selvedges lie along top and foot",
        asked=Asked(
            "Is it tall enough to run sideways, and shall it be?",
            "The finished length with heading and hem must lie across the cloth, between the selvedges. Patterned "
            "cloth must be made for it, or look right lying on its side. The print is then taken as it lies across the "
            "cloth.",
            "no",
            "Sideways: its selvedges lie along top and foot, so that a panel has no seam, however wide it is.",
            answers=("no,n,false", "yes,y,true"),
        ),
    )
    first_column: Fraction | None = key(
        Length(),
        "First column",
        "From the near selvedge to the column on which the first row is measured.",
        default=None,
        usual="the columns lie centred between the selvedges",
        when=When.PATTERNED,
        remark="from the near selvedge",
    )
    side_by_side: bool = key(
        YesNo(),
        "May narrow cuts lie side by side?",
        "Half cuts and narrow panels share one length of cloth.",
        default=True,
        usual="yes",
        remark="no: narrow cuts get a length of their own",
    )
    longest_piece: Fraction | None = key(
        Length(above_zero=True),
        "Sold no longer than",
        "The greatest length without a break; a longer order is split into pieces.",
        default=None,
        usual="60 yd",
        doubt=(72, None),
    )
    shrinkage_across: Fraction = key(
        Share(below=Fraction(1, 2)),
        "Shrinks across by",
        "Part of the cloth width lost in the wash.",
        default=ZERO,
        usual="0 %",
        doubt=(None, "1/8"),
        when=When.SIDEWAYS,
        remark="part of the height lost",
    )
    picture: str = key(
        Text(of="file"),
        "Picture of one repeat",
        "The pictures of the cloth show it; a measured photograph makes one.",
        default="",
        usual="a plain sign is drawn",
    )
    border: Border | None = key(
        Choice(Border, ("the near selvedge", "the far selvedge")),
        "A border along",
        "Only where one selvedge has a border that shall lead: be at the leading edge of the panels.",
        default=None,
        usual="no border",
        remark="the selvedge with a border that leads",
    )
    border_leads: BorderLeads = key(
        Choice(BorderLeads, ("both panels of a pair", "one of them")),
        "The border leads in",
        "In both, one panel is turned or used face down, where the print allows that.",
        default=BorderLeads.BOTH,
        usual="both",
        when=When.BORDERED,
        remark="both | one panel of a pair",
    )
    not_known: frozenset[PrintKey] = frozenset()

    @property
    def selvedges(self) -> tuple[Fraction, Fraction]:
        """The unprinted strips at the near and at the far side."""
        return self.near_selvedge, self.far_selvedge

    @property
    def near_selvedge(self) -> Fraction:
        """The unprinted strip at the near side."""
        return self.selvedge.near if isinstance(self.selvedge, EachSide) else self.selvedge

    @property
    def far_selvedge(self) -> Fraction:
        """The unprinted strip at the far side."""
        return self.selvedge.far if isinstance(self.selvedge, EachSide) else self.selvedge
