"""A calibration as it is kept on disk: the fitted table and what was noted beside it."""

from __future__ import annotations

from dataclasses import dataclass

from calibration.marks import Mark
from calibration.table import Table


@dataclass(frozen=True)
class Stored:
    """``checks`` are marks that were kept out of the fit; ``display`` names the screen it was made on, if any."""

    table: Table
    checks: tuple[Mark, ...] = ()
    display: str = ""
