"""What a key press asks to have recorded, before anything of it is shown."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from calibration.moved import Move
from projector.session.state.laid import Laid


@dataclass(frozen=True)
class Done:
    """A cut was ticked: to be recorded before it is shown."""

    cut: str


@dataclass(frozen=True)
class Undone:
    """The last tick was taken back: to be recorded before it is shown."""

    cut: str


@dataclass(frozen=True)
class Corrected:
    """The light had moved and is put right for this session: to be recorded before it is shown."""

    move: Move


@dataclass(frozen=True)
class LaidEvent:
    """The cloth was laid: to be recorded before the light follows it for good."""

    laid: Laid


@dataclass(frozen=True)
class UnlaidEvent:
    """The last laying was taken back: to be recorded before it is shown."""

    cut: str


@dataclass(frozen=True)
class Replanned:
    """The plan is to be made anew with the repeat along as measured: to be recorded before the session ends."""

    along: Fraction


@dataclass(frozen=True)
class PlanAsBefore:
    """The plan made anew is taken back: to be recorded before the session ends."""


@dataclass(frozen=True)
class WayConfirmed:
    """A person has seen which way a panel lies: to be recorded before it is cut."""

    cut: str


@dataclass(frozen=True)
class WayReopened:
    """The last such confirmation is taken back: to be recorded before it is asked again."""

    cut: str


@dataclass(frozen=True)
class Left:
    """The person leaves the table."""


Recorded = Done | Undone | Corrected | LaidEvent | UnlaidEvent | WayConfirmed | WayReopened | Replanned | PlanAsBefore
"""What goes into the journal."""
Event = Recorded | Left
