"""A job as plain data: what the windows, the cloth and the allowances are, each key declared where it is kept.

Every length is an exact ``Fraction`` of an inch, whatever unit the file was written in.
Nothing here reads files or computes; see ``jobs.io`` and ``jobs.cutting``.
"""

from __future__ import annotations

from dataclasses import field, replace
from fractions import Fraction

from jobs.model.allowances import TURNED_TWICE, Allowances, OwnAllowances
from jobs.model.choices import ReturnsAdded, TurnedOver, Unit
from jobs.model.cloth import Cloth
from jobs.model.goods import FlatPanel, Wanted
from jobs.model.problems import Path, Problem
from jobs.model.records import dataclass
from jobs.model.schema import (
    ZERO,
    Asked,
    Choice,
    Group,
    Groups,
    Length,
    Number,
    Several,
    Share,
    Text,
    When,
    Write,
    key,
    keys_of,
)
from jobs.model.window import Made, Window

BRIGHTEST_LX = 100_000
"""Full sun."""
_TURNED_OVER = Choice(TurnedOver, ("the heading", "the hem", "the side hems"))


def allowances_of(window: Window | FlatPanel, allowances: Allowances) -> Allowances:
    """The allowances of one window: those of the job, but for what it has of its own."""
    own = window.allowances
    if own is None:
        return allowances
    given = {one.field: getattr(own, one.field) for one in keys_of(OwnAllowances)}
    return replace(allowances, **{name: value for name, value in given.items() if value is not None})


@dataclass(frozen=True)
class CuttingTable:
    """The table the cloth is laid on, when no calibration is given."""

    length: Fraction = key(
        Length(above_zero=True),
        "Length",
        "From left to right as you stand at it, the flat top that is free.",
        doubt=(30, 480),
        asked=Asked("How long is it?", "Measure the flat top that is free for the cloth.", ("120", "300", "3000")),
    )
    width: Fraction = key(
        Length(above_zero=True),
        "Width",
        "From the edge before you to the far edge.",
        doubt=(20, 144),
        asked=Asked("How wide is it?", "Measure the flat top that is free for the cloth.", ("60", "150", "1500")),
    )


@dataclass(frozen=True)
class Pins:
    """Pins or hooks along the heading: never farther apart than ``spacing`` on the flat panel, the first and the last
    ``from_side`` inside the finished sides."""

    spacing: Fraction = key(
        Length(above_zero=True),
        "Pins apart, at most",
        "Pins or hooks are lit along the heading, evenly, never farther apart than this on the flat panel.",
        doubt=(1, 12),
    )
    from_side: Fraction = key(
        Length(),
        "First pin from the side",
        "How far the first and the last stand inside the finished sides.",
        default=Fraction(1),
        usual="1 in",
        when=When.PINS,
        write=Write.ALWAYS,
    )


@dataclass(frozen=True)
class RoomLight:
    """Lux on the table: the light of the room, and the projector's full white."""

    room: Fraction = key(
        Number(ZERO, Fraction(BRIGHTEST_LX)),
        "Light of the room, lux",
        "Measured on the table, projector off. The colours of the light are chosen for it.",
        default=Fraction(300),
        usual="300",
        write=Write.ALWAYS,
    )
    projector: Fraction = key(
        Number(Fraction(1), Fraction(BRIGHTEST_LX)),
        "Light of the projector, lux",
        "Measured on the table where it lights full white.",
        default=Fraction(2000),
        usual="2000",
        write=Write.ALWAYS,
    )


@dataclass(frozen=True)
class Limits:
    """How much bow and skew of the cloth was agreed with the supplier, as shares of the cloth width."""

    bow: Fraction = key(
        Share(),
        "Bow, at most",
        "How far a row may bulge along between the selvedges, as a part of the cloth width.",
        default=Fraction(2, 100),
        usual="2 %",
        doubt=(None, "1/10"),
        when=When.PATTERNED,
        write=Write.ALWAYS,
    )
    skew: Fraction = key(
        Share(),
        "Skew, at most",
        "How much further along a row may meet the far selvedge, as a part of the cloth width.",
        default=Fraction(2, 100),
        usual="2 %",
        doubt=(None, "1/10"),
        when=When.PATTERNED,
        write=Write.ALWAYS,
    )


@dataclass(frozen=True)
class Job:
    """Everything a job file says. ``notices`` are what was left out of it and what was taken instead, as data.

    ``cloth`` is the first of its cloths, ``cloths`` are the others; ``listed`` tells that the file has all of them
    under ``cloths``. A job of several cloths is worked out cloth by cloth, see ``jobs.cutting.cloths``.
    """

    title: str = key(
        Text(),
        "What it is called",
        "The room, the house, the order.",
        name="job",
        asked=Asked(
            "What is this job called?",
            "It stands on the order, on the pictures and on every list. Up to 120 characters.",
        ),
    )
    unit: Unit = key(
        Choice(Unit, ("inches", "centimetres", "millimetres")),
        "You measure in",
        "The unit of every number without one of its own.",
        name="units",
        left_out=Unit.INCH,
        usual="in",
        told=True,
        write=Write.ALWAYS,
        remark="of numbers without a unit",
        asked=Asked(
            "Inches, centimetres or millimetres?",
            "Type in, cm or mm. Use the unit of the tape you measure with: nothing is converted by hand then.",
            "in",
            "The unit of every number typed without one. Any length may still carry its own, such as 6 yd or 28.6 cm.",
            (
                "in,inch,inches",
                "cm,centimetre,centimetres,centimeters",
                "mm,millimetre,millimetres,millimeters",
            ),
        ),
    )
    cloth: Cloth = key(
        Group(Cloth), "The cloth", "Lay the cloth flat and measure it; do not trust the ticket.", instead="cloths"
    )
    windows: tuple[Window, ...] = key(
        Groups(Window, "window", least=1),
        "The windows",
        "All that is cut from these cloths belongs in one job.",
        instead="flat_panels",
    )
    allowances: Allowances = key(
        Group(Allowances),
        "Allowances",
        "What is added to the finished sizes.",
        default=Allowances(),
        usual="all 0",
        told=True,
        write=Write.ALWAYS,
    )
    table: CuttingTable | None = key(
        Group(CuttingTable, flow=True),
        "The cutting table",
        "Long cuts are moved along a short table in several pulls; its size tells how many.",
        default=None,
        usual="not known; with a calibration, as far as its outermost mark",
    )
    limits: Limits = key(
        Group(Limits, flow=True),
        "Agreed with the supplier",
        "How much bow and skew the cloth may have.",
        default=Limits(),
        usual="2 % each",
        remark="as agreed with the supplier",
    )
    tolerance: Fraction = key(
        Length(above_zero=True),
        "A cut line may be off by",
        "A line that may be farther off is lit broken and says so.",
        default=Fraction(1, 16),
        usual="1/16 in",
        doubt=("1/64", "1/2"),
        remark="of a lit cut line",
    )
    returns_added: ReturnsAdded = key(
        Choice(ReturnsAdded, ("gathered like the rest", "added flat")),
        "The returns are",
        "Both are usual; the order says which was used.",
        default=ReturnsAdded.BEFORE,
        usual="before fullness",
        when=When.ANY_ROD,
    )
    flaws_may_lie_in: tuple[TurnedOver, ...] = key(
        Several(_TURNED_OVER, "place"),
        "A flaw may lie in",
        "What is turned over hides it, and less cloth is lost.",
        default=(),
        usual="nowhere",
    )
    wanted: tuple[Wanted, ...] = key(
        Groups(Wanted, "thing", flow=True),
        "Small things",
        "Cushion fronts and the like, from what is left.",
        default=(),
        usual="none",
        remark="small things from what is left",
    )
    flat_panels: tuple[FlatPanel, ...] = key(
        Groups(FlatPanel, "flat panel"),
        "Flat panels",
        "Shades and flat valances, cut to their own size.",
        default=(),
        usual="none",
        remark="shades and flat valances",
    )
    pins: Pins | None = key(
        Group(Pins, flow=True),
        "Pins",
        "Lit along the heading.",
        default=None,
        usual="not lit",
        remark="along the heading",
    )
    stiffener: Fraction | None = key(
        Length(above_zero=True),
        "Stiffener below the edge",
        "How far below the cut edge of the heading a stiffener is laid; a line is lit there.",
        default=None,
        usual="not lit",
        doubt=(None, 4),
        remark="below the cut edge of the heading",
    )
    doubled: tuple[TurnedOver, ...] = key(
        Several(_TURNED_OVER, "hem"),
        "Hems turned twice",
        "Each time half of what is allowed; the inner fold is lit as well.",
        default=(),
        usual="none",
        remark="turned twice",
    )
    light: RoomLight = key(
        Group(RoomLight, flow=True),
        "The light",
        "Lux on the table, for choosing the colours of light.",
        default=RoomLight(),
        usual="300 and 2000",
        remark="lux on the table",
    )
    cloths: tuple[Cloth, ...] = key(
        Groups(Cloth, "cloth"),
        "More cloths",
        "Lining, interlining and whatever else is cut, each with a name; windows name theirs.",
        default=(),
        usual="none",
        remark="further cloths; windows name theirs",
    )
    notices: tuple[Problem, ...] = field(default=(), compare=False)
    listed: bool = field(default=False, compare=False)

    @property
    def every_cloth(self) -> tuple[Cloth, ...]:
        """All cloths, the first one first."""
        return (self.cloth, *self.cloths)

    def cloth_named(self, name: str) -> Cloth | None:
        """The cloth of this name, capital and small letters alike; the first one for no name; None for none."""
        if not name:
            return self.cloth
        return next((one for one in self.every_cloth if one.name.casefold() == name.casefold()), None)

    def made_for(self, window: str) -> Made | None:
        """Which part of another window this one is; None for a window of its own."""
        return next((one.made for one in self.windows if one.name == window), None)

    def allowed_at(self, name: str) -> Allowances:
        """The allowances of the window of this name; of one that is not there, those of the job."""
        window = next((one for one in self.windows if one.name == name), None)
        return self.allowances if window is None else allowances_of(window, self.allowances)

    def is_turned_twice(self, name: str, part: TurnedOver) -> bool:
        """Whether this part of the window of this name is turned twice: as the job says of all, or by the kind of its
        hem. A lining is turned over as it is told to be, whatever its face is called."""
        by_kind = part is TurnedOver.HEM and self.made_for(name) is None
        return part in self.doubled or (by_kind and self.allowed_at(name).hem_kind in TURNED_TWICE)

    def as_for(self, window: Window) -> Job:
        """The job with the allowances of this window in the place of its own."""
        given = allowances_of(window, self.allowances)
        return self if given is self.allowances else replace(self, allowances=given)

    def place_of_cloth(self, number: int) -> Path:
        """Where the cloth of this number, from 0, stands in the file."""
        if self.listed:
            return ("cloths", number)
        return ("cloths", number - 1) if number else ("cloth",)
