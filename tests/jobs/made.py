"""Jobs built by hand for the tests; lengths may be whole numbers or fractions as text."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from jobs.model.choices import Panels, Symmetry, Unit
from jobs.model.cloth import Cloth, Print, Repeat
from jobs.model.job import Allowances, Job
from jobs.model.window import RowRule, Window

Length = int | str | Fraction

MIRROR_DOWN = Print(top_to_bottom=Symmetry.MIRROR)
"""A print that a turned panel mirrors, its rows chosen on a mirror line."""


def cloth(along: Length | None = None, **more: Any) -> Cloth:
    """Cloth 54 in wide with this repeat along, or plain."""
    repeat = Repeat(Fraction(along)) if along is not None else None
    return replace(Cloth("Reeds on sand", Fraction(54), repeat=repeat), **more)


def window(name: str, finished: Length, panels: Panels = Panels.PAIR, cuts: int = 1, **more: Any) -> Window:
    """A window with this finished length."""
    return replace(Window(name, panels, Fraction(finished), cuts_per_panel=Fraction(cuts)), **more)


def below_top(distance: Length) -> RowRule:
    """A row this far below the finished top."""
    return RowRule(below_top=Fraction(distance))


def above_foot(distance: Length) -> RowRule:
    """A row this far above the finished foot."""
    return RowRule(above_foot=Fraction(distance))


def job(of: Cloth, *windows: Window, unit: Unit = Unit.INCH, **allowances: Length) -> Job:
    """A job with these windows; allowances left out are zero."""
    given = {name: Fraction(length) for name, length in allowances.items()}
    return Job("Test room", unit, of, tuple(windows), Allowances(**given))


def whole_cuts(of: Cloth, lengths: list[Length]) -> Job:
    """One whole panel of one cut for each length, without allowances."""
    return job(of, *(window(f"Bay {number}", length, Panels.WHOLE) for number, length in enumerate(lengths, 1)))
