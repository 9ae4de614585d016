"""The cloth of a job: its sizes, its print and the pieces as delivered, each key declared where it is kept.

Every length is an exact ``Fraction`` of an inch.
"""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import Border, BorderLeads, Follow, OrderBy, PrintKey, Run
from jobs.model.piece import Piece
from jobs.model.print import SKIPPED, Print, Repeat
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
    Several,
    Share,
    Text,
    When,
    Write,
    YesNo,
    key,
)

MOST_LAYERS = 100


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
            f"{SKIPPED}",
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
