"""Which layers of a scene are lit; each has its own key at the table."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Layers:
    """Layers that can be darkened one by one; flaws, leftovers and hatching are always lit."""

    cut: bool = True
    rows: bool = True
    match: bool = True
    trims: bool = True
    folds: bool = True
    letters: bool = True
    pins: bool = True
