"""The last page of the form: what few jobs need, for sewing, for the cloth on the table, and small things wanted."""

from __future__ import annotations

from jobs.writing.node_places import Path
from projector.desk.form.about_cloth import CLOTH, YES_NO, patterned
from projector.desk.form.field import Choice, Field, Group, Kind, Section
from projector.desk.form.values import Values


def _by_rod(values: Values, group: Path) -> bool:
    return any(values.has(("windows", number, "rod")) for number in range(values.count(("windows",))))


def _sideways(values: Values, group: Path) -> bool:
    return values.text(("cloth", "run")) == "sideways"


SEWING = Group(
    "Lit for sewing",
    (),
    (
        Field(
            ("pins", "spacing"),
            "Pins apart, at most",
            "Pins or hooks are lit along the heading, evenly, never farther apart than this on the flat panel.",
            usual="not lit",
        ),
        Field(
            ("pins", "from_side"),
            "First pin from the side",
            "How far the first and the last stand inside the finished sides.",
            usual="1 in",
            when=lambda values, group: values.has(("pins",)),
        ),
        Field(
            ("stiffener",),
            "Stiffener below the edge",
            "How far below the cut edge of the heading a stiffener is laid; a line is lit there.",
            usual="not lit",
        ),
        Field(
            ("doubled",),
            "Hems turned twice",
            "Each time half of what is allowed; the inner fold is lit as well.",
            Kind.SEVERAL,
            choices=(Choice("hem", "the hem"), Choice("side hem", "the side hems")),
        ),
        Field(
            ("returns_added",),
            "The returns are",
            "Both are usual; the order says which was used.",
            Kind.CHOICE,
            choices=(Choice("before fullness", "gathered like the rest"), Choice("after fullness", "added flat")),
            usual="before fullness",
            when=_by_rod,
        ),
    ),
)
AGREED = Group(
    "Agreed with the supplier",
    ("limits",),
    (
        Field(
            ("bow",),
            "Bow, at most",
            "How far a row may bulge along between the selvedges, as a part of the cloth width.",
            Kind.SHARE,
            usual="2\u00a0%",
        ),
        Field(
            ("skew",),
            "Skew, at most",
            "How much further along a row may meet the far selvedge, as a part of the cloth width.",
            Kind.SHARE,
            usual="2\u00a0%",
        ),
    ),
    when=patterned,
)
ON_THE_TABLE = Group(
    "The cloth on the table",
    CLOTH,
    (
        Field(
            ("run",),
            "It runs",
            "Up: the selvedges hang upright. Sideways: they lie along top and foot, without a seam.",
            Kind.CHOICE,
            choices=(Choice("up", "up"), Choice("sideways", "sideways")),
            usual="up",
        ),
        Field(
            ("shrinkage_across",),
            "Shrinks across by",
            "Part of the cloth width lost in the wash.",
            Kind.SHARE,
            usual="0\u00a0%",
            when=_sideways,
        ),
        Field(
            ("longest_piece",),
            "Sold no longer than",
            "The greatest length without a break; an order is then split into pieces.",
            usual="any length",
        ),
        Field(
            ("side_by_side",),
            "May narrow cuts lie side by side?",
            "Half cuts and narrow panels share one length of cloth.",
            Kind.CHOICE,
            choices=YES_NO,
            usual="yes",
        ),
        Field(
            ("thickness",), "Thickness of a layer", "Light that falls slantwise is put right for it.", usual="not known"
        ),
        Field(("layers",), "Layers on each other", "The one that is cut lies uppermost.", Kind.NUMBER, usual="1"),
    ),
)
THE_PRINT = Group(
    "More of the print",
    CLOTH,
    (
        Field(
            ("picture",),
            "Picture of one repeat",
            "The pictures of the cloth show it. Measure a photo (page Print) makes one.",
            Kind.FILE,
            usual="a plain motif is drawn",
        ),
        Field(
            ("motif_colours",),
            "Colours of the motif",
            "The light is chosen so that it shows on them too: # and six digits each, a comma between two.",
            Kind.COLOURS,
            usual="none",
        ),
        Field(
            ("first_column",),
            "First column",
            "From the near selvedge to the column on which the first row is measured.",
            usual="the columns lie centred between the selvedges",
            when=patterned,
        ),
        Field(
            ("follow",),
            "The cut lines follow",
            "The print as it really lies, skewed or bowed; or the selvedge, square to it.",
            Kind.CHOICE,
            choices=(Choice("print", "the print"), Choice("selvedge", "the selvedge")),
            usual="print",
            when=patterned,
        ),
        Field(
            ("print", "group"),
            "Plane group",
            "Only if you know its name, such as pmm or cm: it says how the print mirrors, all in one word.",
            Kind.NUMBER,
            usual="how it mirrors is as on the page Print",
            when=patterned,
        ),
    ),
)
LIT = Group(
    "The light",
    (),
    (
        Field(
            ("light", "room"),
            "Light of the room, lux",
            "Measured on the table, projector off. The colours of the light are chosen for it.",
            Kind.NUMBER,
            usual="300",
        ),
        Field(
            ("light", "projector"),
            "Light of the projector, lux",
            "Measured on the table where it lights full white.",
            Kind.NUMBER,
            usual="2000",
        ),
        Field(
            ("tolerance",),
            "A cut line may be off by",
            "A line that may be farther off is lit broken and says so.",
            usual="1/16 in",
        ),
    ),
)
HIDDEN = Group(
    "Flaws that do no harm",
    (),
    (
        Field(
            ("flaws_may_lie_in",),
            "A flaw may lie in",
            "What is turned over hides it, and less cloth is lost.",
            Kind.SEVERAL,
            choices=(Choice("heading", "the heading"), Choice("hem", "the hem"), Choice("side hem", "the side hems")),
        ),
    ),
)
WANTED = Group(
    "Small thing",
    ("wanted",),
    (
        Field(("name",), "What it is", "A cushion front, a tie-back.", Kind.NAME, needed=True),
        Field(("size", 0), "Along the cloth", "As cut, seams and all.", needed=True),
        Field(("size", 1), "Across the cloth", "As cut, seams and all.", needed=True),
        Field(
            ("count",),
            "How many",
            "They are placed on what is left and never make the order longer.",
            Kind.NUMBER,
            usual="1",
        ),
        Field(
            ("row",),
            "The motif",
            "Centred: a motif lies in its middle.",
            Kind.CHOICE,
            choices=(Choice("anywhere", "anywhere"), Choice("centred", "centred")),
            usual="anywhere",
            when=patterned,
        ),
    ),
    many=True,
    thing="small thing",
    new=(("name", '""'), ("size", '["", ""]')),
)
MORE_PAGE = Section(
    "more",
    "More",
    "What few jobs need. All of it may stay empty.",
    (SEWING, HIDDEN, ON_THE_TABLE, THE_PRINT, LIT, AGREED, WANTED),
)
