"""A tape proof as plain data: what was lit, what the tape said, with which tape, and when."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class TapeClass(StrEnum):
    """How good the tape is: accuracy classes of OIML R 35-1, or a metal tape to NIST Handbook 44."""

    I = "I"  # noqa: E741
    II = "II"
    III = "III"
    METAL = "metal tape"


@dataclass(frozen=True)
class TapeReading:
    """A lit length from ``start_in`` to ``end_in`` (table inches), and what the tape says of it, in inches."""

    start_in: tuple[float, float]
    end_in: tuple[float, float]
    tape_in: float


@dataclass(frozen=True)
class TapeProof:
    """Readings taken together. ``nearest_in`` is the step the tape was read to; ``date`` as in the table file."""

    readings: tuple[TapeReading, ...]
    tape: TapeClass = TapeClass.II
    nearest_in: float = 1 / 16
    date: str = ""
    accepted: bool = False
