"""The pages of the form about the cloth, its print and its pieces."""

from __future__ import annotations

from jobs.writing.node_places import Path
from projector.desk.form.field import Choice, Field, Group, Kind, Section, Switch
from projector.desk.form.implied import SHEET, told_or_implied
from projector.desk.form.terms import term
from projector.desk.form.values import Values

CLOTH: Path = ("cloth",)
YES_NO = (Choice("yes", "yes"), Choice("no", "no"))
MIRRORS = (Choice("none", "no"), Choice("mirror", "yes, it mirrors"), Choice("glide", "yes, slid by half a repeat"))


def patterned(values: Values, group: Path) -> bool:
    """Whether the cloth has a print that must meet."""
    return values.patterned


def _mirrors(key: str) -> bool:
    return key in ("mirror", "glide")


def _down(values: Values) -> str:
    return told_or_implied(values, (*SHEET, "top_to_bottom"))


def _across(values: Values) -> str:
    return told_or_implied(values, (*SHEET, "side_to_side"))


def _is_patterned(values: Values, group: Path) -> str:
    return "yes" if values.patterned else "no"


JOB = Group(
    "The job",
    (),
    (
        Field(("job",), "What it is called", "The room, the house, the order.", Kind.NAME, needed=True),
        Field(
            ("units",),
            "You measure in",
            term("job", "units"),
            Kind.CHOICE,
            choices=(Choice("in", "inches"), Choice("cm", "centimetres"), Choice("mm", "millimetres")),
            usual="in",
        ),
    ),
)
SIZES = Group(
    "The cloth",
    CLOTH,
    (
        Field(("name",), "Name", term("cloth", "cloth"), Kind.NAME, usual="unnamed cloth"),
        Field(
            ("width",),
            "Cloth width",
            "From selvedge edge to selvedge edge. Selvedge: the woven edge at each side, which does not fray.",
            needed=True,
        ),
        Field(("selvedge",), "Unprinted strip at each side", term("cloth", "selvedge"), usual="0"),
        Switch(
            "patterned",
            "Must the print meet from panel to panel?",
            term("cloth", "patterned"),
            (Choice("yes", "yes, it is patterned"), Choice("no", "no, it is plain")),
            _is_patterned,
            {"yes": ((("repeat", "along"), '""'),), "no": ()},
        ),
        Field(
            ("shrinkage",),
            "Shrinks by",
            "From the label, or from a square you washed: 3\u00a0%.",
            Kind.SHARE,
            usual="0\u00a0%",
        ),
        Field(("sold_by",), "Sold in steps of", term("cloth", "sold_by"), usual="1/4 yd, or 10 cm"),
        Field(
            ("colour",),
            "Colour of the ground",
            "The light is chosen so that it shows on the cloth. Pick it, or type # and six digits.",
            Kind.COLOUR,
            usual="#8d8f92",
        ),
        Field(
            ("faces_alike",),
            "May it be used face down?",
            "Only where both faces are alike.",
            Kind.CHOICE,
            choices=YES_NO,
            usual="no",
        ),
    ),
)
REPEAT = Group(
    "The repeat",
    CLOTH,
    (
        Field(("repeat", "along"), "Repeat along", term("cloth", "along"), needed=True),
        Field(
            ("repeat", "across"),
            "Repeat across",
            "From one point of the print to the same point in the next column.",
            usual="not known",
        ),
        Field(("drop",), "Drop of the next column", term("cloth", "drop"), Kind.NUMBER, usual="not known"),
    ),
    when=patterned,
)
SYMMETRY = Group(
    "How it mirrors",
    ("cloth", "print"),
    (
        Field(
            ("top_to_bottom",),
            "From top to bottom?",
            "Is there a line across the cloth below which all is the same as above it, upside down?",
            Kind.CHOICE,
            choices=MIRRORS,
            usual="not known",
            when=patterned,
        ),
        Field(
            ("mirror_offset",),
            "From a row down to that line",
            term("cloth", "mirror_offset"),
            usual="0",
            when=lambda values, group: patterned(values, group) and _mirrors(_down(values)),
        ),
        Field(
            ("side_to_side",),
            "From side to side?",
            "Is there a line along the cloth beside which left and right are the same, swapped?",
            Kind.CHOICE,
            choices=MIRRORS,
            usual="not known",
            when=patterned,
        ),
        Field(
            ("mirror_offset_across",),
            "From a column to that line",
            "Away from the near selvedge, to the nearest such line.",
            usual="taken as 0",
            when=lambda values, group: patterned(values, group) and _mirrors(_across(values)),
        ),
        Field(
            ("half_turn",),
            "Just the same upside down?",
            term("cloth", "half_turn"),
            Kind.CHOICE,
            choices=YES_NO,
            usual="follows from the mirrors",
            when=patterned,
        ),
        Field(
            ("one_way",),
            "Must it hang one way up?",
            term("cloth", "one_way"),
            Kind.CHOICE,
            choices=YES_NO,
            usual="not known",
        ),
        Field(
            ("top_towards",),
            "Tops of the motifs point to",
            "Lay the cloth with its first end at your left. You may call either end its first.",
            Kind.CHOICE,
            choices=(Choice("first end", "the first end"), Choice("last end", "the last end")),
            usual="first end",
        ),
    ),
)
FLAWS = Group(
    "Flaw",
    ("flaws",),
    (
        Field(("from",), "Begins at", term("flaw", "from"), needed=True),
        Field(("to",), "Ends at", term("flaw", "to"), needed=True),
        Field(
            ("across", 0),
            "Across, from",
            "From the near selvedge, the one before you.",
            usual="the whole width",
        ),
        Field(("across", 1), "Across, to", "From the near selvedge too.", usual="the whole width"),
        Field(("note",), "What it is", "A word for you: slub, stain, join.", Kind.NAME, usual="nothing"),
    ),
    many=True,
    thing="flaw",
    new=(("from", '""'), ("to", '""')),
)
PIECES = Group(
    "Piece",
    ("cloth", "pieces"),
    (
        Field(("length",), "Length", term("piece", "length"), needed=True),
        Field(("first_row",), "First row", term("piece", "first_row"), usual="0", when=patterned),
        Field(("dye_lot",), "Dye lot", "Pieces of one lot have the same colour.", Kind.NAME, usual="a lot of its own"),
    ),
    many=True,
    thing="piece",
    new=(("length", '""'),),
    within=(FLAWS,),
)
CLOTH_PAGE = Section("cloth", "Cloth", "Lay the cloth flat and measure it; do not trust the ticket.", (JOB, SIZES))
PRINT_PAGE = Section(
    "print",
    "Print",
    "Choose one point of the motif that you find again at once: a row is the line across through it.",
    (REPEAT, SYMMETRY),
)
PIECES_PAGE = Section(
    "pieces",
    "Pieces",
    "The cloth as delivered. Leave this page empty while you only order: the program says how much to buy.",
    (PIECES,),
)
