"""The check with a tape: lit lengths and diagonals against what it says of them, and what to do about it.

Tape accuracy: OIML R 35-1 (also EU 2014/32 annex X), limit ``a + b L`` mm with L in metres rounded up; metal tapes by
NIST Handbook 44, 5.52. A limit counts as a standard uncertainty of limit / sqrt 3, a reading to the nearest d as
d / sqrt 12 (JCGM 100, from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from calibration.checking import TOLERANCE_IN, Verdict, verdict_of, worst_of
from calibration.marks import TapeClass, TapeReading
from calibration.problems import Code, ReadingsRefused, problem
from calibration.quantiles import CENTRAL_95
from calibration.table import Table, frame_grid
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

MM_PER_INCH = 25.4
OIML_MM = {TapeClass.I: (0.1, 0.1), TapeClass.II: (0.3, 0.2), TapeClass.III: (0.6, 0.4)}
LONGEST_IN = 360.0
"""The longest tape whose limits are known: 30 ft."""
ALIGNED = math.cos(math.radians(20))
"""A length counts as along or across when it runs within 20 degrees of it, else as a diagonal."""


def tape_limit_in(tape: TapeClass, length_in: float) -> float:
    """How far a tape may be wrong, in inches, on a length in inches. Raises ``ReadingsRefused`` outside its range."""
    if not 0 < length_in <= LONGEST_IN:
        raise ReadingsRefused(problem(("readings",), Code.BEYOND_A_TAPE, length_in=length_in, most_in=LONGEST_IN))
    if tape is TapeClass.METAL:
        return 1 / 32 if length_in <= 72 else 1 / 16
    constant, per_metre = OIML_MM[tape]
    return (constant + per_metre * math.ceil(round(length_in * MM_PER_INCH / 1000, 9))) / MM_PER_INCH


@dataclass(frozen=True)
class ReadingResult:
    """One reading: ``off_in`` is what the tape says beyond the lit length; honest work keeps it in ``allowed_in``.

    ``map_in`` is how far the length could be off before it was taped, ``left_in`` how far it still can be after that:
    two independent estimates of one length combine to 1 / (1 / map^2 + 1 / tape^2) (JCGM 100, from memory).
    """

    reading: TapeReading
    lit_in: float
    off_in: float
    allowed_in: float
    map_in: float
    left_in: float
    verdict: Verdict

    @property
    def runs(self) -> str:
        """ "along", "across" or "diagonal" on the table."""
        dx, dy = (abs(b - a) / self.lit_in for a, b in zip(self.reading.start_in, self.reading.end_in, strict=True))
        return "along" if dx >= ALIGNED else "across" if dy >= ALIGNED else "diagonal"


@dataclass(frozen=True)
class Stretch:
    """A scale error: the tape reads ``share`` more than what is lit (0.01 is 1 %), with its standard uncertainty."""

    share: float
    uncertainty: float

    @property
    def matters(self) -> bool:
        """Whether it is more than chance, in 99 of 100 cases."""
        return abs(self.share) > 2.576 * self.uncertainty


@dataclass(frozen=True)
class TapeResult:
    """All readings with the scale errors they give along and across (None where no reading runs so)."""

    readings: tuple[ReadingResult, ...]
    along: Stretch | None
    across: Stretch | None
    tolerance_in: float

    @property
    def verdict(self) -> Verdict:
        """The worst verdict of any reading."""
        return worst_of(result.verdict for result in self.readings)

    @property
    def stretched(self) -> dict[str, Stretch]:
        """The scale errors, "along" and "across", that are more than chance and too much for the longest reading.

        Too much is more than half the tolerance.
        """
        longest = max(one.lit_in for one in self.readings)
        found = {"along": self.along, "across": self.across}
        return {
            name: stretch
            for name, stretch in found.items()
            if stretch is not None and stretch.matters and abs(stretch.share) * longest > self.tolerance_in / 2
        }


def judge_tape(
    table: Table,
    readings: Sequence[TapeReading],
    tape: TapeClass = TapeClass.II,
    nearest_in: float = 1 / 16,
    tolerance_in: float = TOLERANCE_IN,
) -> TapeResult:
    """Each reading against tape, reading step and predicted error of the map; scale errors along and across.

    Raises ``ValueError`` without readings and for a step that is not above 0, ``ReadingsRefused`` for a length of 0 or
    over 30 ft, ``OutOfReach`` for one that the light does not reach.
    """
    if not readings or not nearest_in > 0:
        raise ValueError("a check with a tape needs readings, and the step they were read to")
    starts, ends = (np.array([getattr(reading, end) for reading in readings]) for end in ("start_in", "end_in"))
    spans = ends - starts
    lit = np.linalg.norm(spans, axis=1)
    limits = np.array([tape_limit_in(tape, float(size)) for size in lit])
    of_map = Uncertainty(table).length_uncertainty_in(starts, ends)
    of_tape = np.sqrt(limits**2 / 3 + nearest_in**2 / 12)
    spread = np.hypot(of_map, of_tape)
    left = of_map * of_tape / spread
    off = np.array([reading.tape_in for reading in readings]) - lit
    results = tuple(
        ReadingResult(
            reading,
            float(lit[index]),
            float(off[index]),
            float(CENTRAL_95 * spread[index]),
            float(CENTRAL_95 * of_map[index]),
            float(CENTRAL_95 * left[index]),
            verdict_of(math.erfc(abs(float(off[index] / spread[index])) / math.sqrt(2)), len(readings)),
        )
        for index, reading in enumerate(readings)
    )
    along, across = _stretches(spans, lit, off, spread)
    return TapeResult(results, along, across, tolerance_in)


def _stretches(spans: Array, lit: Array, off: Array, spread: Array) -> tuple[Stretch | None, Stretch | None]:
    """Scale errors by weighted least squares: a small strain lengthens a line by ``sx dx^2 / L + sy dy^2 / L``."""
    effect = spans**2 / lit[:, None] / spread[:, None]
    covered = [bool((np.abs(spans[:, axis]) >= 0.5 * lit).any()) for axis in (0, 1)]
    chosen = effect[:, covered]
    normal = chosen.T @ chosen
    if np.linalg.cond(normal) > 1e6:
        return None, None
    spreads = np.linalg.inv(normal)
    shares = iter(zip(spreads @ chosen.T @ (off / spread), np.sqrt(np.diag(spreads)), strict=True))
    along, across = (Stretch(*(float(value) for value in next(shares))) if seen else None for seen in covered)
    return along, across


def lengths_to_light(table: Table, inset: float = 0.1) -> tuple[tuple[tuple[float, float], tuple[float, float]], ...]:
    """Six lines worth taping, as pairs of table points: two long sides, two short sides, two diagonals of the frame."""
    corners = table.to_table(frame_grid(table.width_px, table.height_px, 2, 2, inset)).tolist()
    first, second, third, fourth = ((float(x), float(y)) for x, y in corners)
    return (first, second), (third, fourth), (first, third), (second, fourth), (first, fourth), (second, third)


class Action(StrEnum):
    """What to do after a check with a tape."""

    ACCEPT = "accept"
    MEASURE_MORE = "measure more"
    ADD_MARKS = "add marks"
    REDO = "redo"


def action_after(result: TapeResult) -> Action:
    """Redo when the tape and the light cannot both be right, add marks when they agree but not closely enough."""
    if result.verdict == Verdict.MISSES or result.stretched:
        return Action.REDO
    if result.verdict == Verdict.DOUBTFUL or not {"along", "across", "diagonal"} <= {
        one.runs for one in result.readings
    }:
        return Action.MEASURE_MORE
    if any(max(abs(one.off_in), one.left_in) > result.tolerance_in for one in result.readings):
        return Action.ADD_MARKS
    return Action.ACCEPT
