"""Check marks: marks that were not used in the fit, held against what was predicted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from calibration.advice import first_targets
from calibration.marks import Mark, pixels_of, tables_of
from calibration.quantiles import principal_variances, radial_quantile, radial_tail
from calibration.table import Table
from calibration.uncertainty import Uncertainty

Array = NDArray[np.float64]

TOLERANCE_IN = 1 / 16


class Verdict(StrEnum):
    """How a measured thing stands to what was predicted."""

    AGREES = "agrees"
    DOUBTFUL = "doubtful"
    MISSES = "misses"


def verdict_of(chance: float, count: int) -> Verdict:
    """The verdict on one of ``count`` disagreements that has this chance of being so large by honest placing."""
    if chance >= 0.05:
        return Verdict.AGREES
    return Verdict.MISSES if chance < 0.01 / count else Verdict.DOUBTFUL


def worst_of(verdicts: Iterable[Verdict]) -> Verdict:
    """The worst of one or more verdicts."""
    return max(verdicts, key=list(Verdict).index)


@dataclass(frozen=True)
class CheckedMark:
    """One check mark: how far the light misses it, and the distance it was expected within in 95 % of cases."""

    mark: Mark
    missed_in: float
    expected_in: float
    chance: float
    verdict: Verdict


@dataclass(frozen=True)
class Check:
    """All check marks; the overall verdict is the worst of theirs."""

    marks: tuple[CheckedMark, ...]
    tolerance_in: float

    @property
    def verdict(self) -> Verdict:
        """``MISSES`` if any does, else ``DOUBTFUL`` if any is, else ``AGREES``."""
        return worst_of(checked.verdict for checked in self.marks)

    @property
    def within_tolerance(self) -> bool:
        """Whether every check mark is met to the tolerance."""
        return all(checked.missed_in <= self.tolerance_in for checked in self.marks)


def check_targets(table: Table) -> Array:
    """Pixels (4, 2) to light for check marks: the middles of the frame's edges.

    The middle of the frame is left out, for a bent light fits there whatever it does elsewhere.
    """
    return first_targets(table.width_px, table.height_px, 8)[4:]


def check_against(table: Table, marks: Sequence[Mark], tolerance_in: float = TOLERANCE_IN) -> Check:
    """How far the light misses each check mark against prediction; ``marks`` (one or more) were not used in the fit.

    Raises ``ValueError`` without marks and ``OutOfReach`` for a mark that the map does not reach.
    """
    if not marks:
        raise ValueError("there is no check mark")
    made, places = Uncertainty(table), tables_of(marks)
    misses = table.to_table(pixels_of(marks)) - places
    slopes = table.jacobian(places)
    back = np.linalg.inv(slopes)
    covariance = made.covariance_in(places) + back @ table.placing.covariance_px(slopes) @ back.transpose(0, 2, 1)
    distances = np.linalg.norm(misses, axis=1)
    figures = np.column_stack(
        [distances, radial_quantile(covariance), radial_tail(distances, *principal_variances(covariance))]
    ).tolist()
    return Check(
        tuple(
            CheckedMark(mark, missed, expected, chance, verdict_of(chance, len(marks)))
            for mark, (missed, expected, chance) in zip(marks, figures, strict=True)
        ),
        tolerance_in,
    )
