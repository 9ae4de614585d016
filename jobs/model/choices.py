"""The choices a job file offers, each word as it is written there."""

from __future__ import annotations

from enum import StrEnum


class Unit(StrEnum):
    """Unit of bare numbers in a job file, and the unit lengths are shown in."""

    INCH = "in"
    CENTIMETRE = "cm"
    MILLIMETRE = "mm"


class Symmetry(StrEnum):
    """What a mirror line of one direction does to the print."""

    NONE = "none"
    MIRROR = "mirror"
    GLIDE = "glide"


class PrintKey(StrEnum):
    """What only a look at the cloth can tell of its print, each under its key in the file."""

    DROP = "drop"
    TOP_TO_BOTTOM = "top_to_bottom"
    SIDE_TO_SIDE = "side_to_side"
    ONE_WAY = "one_way"


class Panels(StrEnum):
    """Which panels a window gets; hands are as seen from inside the room."""

    PAIR = "pair"
    LEFT = "left"
    RIGHT = "right"
    WHOLE = "whole"


class Hang(StrEnum):
    """How the second panel of a pair relates to the first."""

    MIRRORED = "mirrored"
    SAME = "same"


class Facing(StrEnum):
    """Which panel of a mirrored pair shows the print as it lies on the cloth: the motifs look the other way with it."""

    LEFT = "left as it lies"
    RIGHT = "right as it lies"


class Follow(StrEnum):
    """What cut lines follow: the print as it really lies, or the selvedge (square to it)."""

    PRINT = "print"
    SELVEDGE = "selvedge"


class End(StrEnum):
    """One of the two ends of a piece."""

    FIRST = "first end"
    LAST = "last end"


class ReturnsAdded(StrEnum):
    """Whether the returns are multiplied by the fullness with the rest, or added to it flat."""

    BEFORE = "before fullness"
    AFTER = "after fullness"


class Run(StrEnum):
    """Which way the cloth runs in a panel: its selvedges upright, or level along top and foot."""

    UP = "up"
    SIDEWAYS = "sideways"


class TurnedOver(StrEnum):
    """Parts of a cut that are turned over, where a flaw may be hidden."""

    HEADING = "heading"
    HEM = "hem"
    SIDE_HEM = "side hem"


class Motif(StrEnum):
    """Where a motif lies in a small thing."""

    CENTRED = "centred"
    ANYWHERE = "anywhere"


class Part(StrEnum):
    """What is cut beside the faces of windows."""

    LINING = "lining"
    INTERLINING = "interlining"
    BAND = "band"
    TIE_BACK = "tie-back"
    FLAT_PANEL = "flat panel"
    SMALL_THING = "small thing"


class BandEdge(StrEnum):
    """The edge of a panel that a band is sewn to."""

    LEADING = "leading"
    TOP = "top"
    FOOT = "foot"


class CutAlong(StrEnum):
    """Whether the long side of a band lies along the cloth, or across it in as many lengths as that takes."""

    ALONG = "along"
    ACROSS = "across"


class Middle(StrEnum):
    """What of the print lies in the middle of a flat panel, seen across."""

    MOTIF = "motif"
    GAP = "gap"
    ANYTHING = "anything"


class Border(StrEnum):
    """The selvedge that a border is printed or woven along."""

    NEAR = "near"
    FAR = "far"


class BorderLeads(StrEnum):
    """In how many panels of a pair the border must be at the leading edge."""

    BOTH = "both"
    ONE = "one"


class OrderBy(StrEnum):
    """Which of the two figures of an order is bought."""

    GUARANTEED = "guaranteed"
    HANDBOOK = "handbook"


class HalfAt(StrEnum):
    """Where the half cut of a panel is joined."""

    RETURN = "return edge"
    LEADING = "leading edge"
    BOTH = "both sides"


class HeadingKind(StrEnum):
    """How the top of a panel is made up, in the words of the trade."""

    PINCH = "pinch pleats"
    GOBLET = "goblet pleats"
    PENCIL = "pencil pleats"
    GATHERED = "gathered"
    WAVE = "wave"
    EYELETS = "eyelets"
    TABS = "tabs"
    ROD_POCKET = "rod pocket"
    FLAT = "flat"


class HemKind(StrEnum):
    """How the foot of a panel is made up, in the words of the trade."""

    DOUBLE = "double"
    SINGLE = "single"
    WEIGHTED = "weighted"
    PUDDLED = "puddled"
    NARROW = "narrow"
    FACED = "faced"
