"""A marked point: its place on the table and the pixel that lights it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Mark:
    """One marked point: ``table`` in inches, ``pixel`` in the frame (top-left pixel's centre is (0.5, 0.5))."""

    table: tuple[float, float]
    pixel: tuple[float, float]
