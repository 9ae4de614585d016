"""What is said where several cuts share a length of cloth: in which order it is cut, once for each such length."""

from __future__ import annotations

from collections.abc import Callable, Collection
from fractions import Fraction

from jobs.model.cuts import Placement
from jobs.model.numbers import counted
from jobs.model.plan import Plan

SELVEDGE_FIRST = "cut selvedge to selvedge first, then slit"


def crosscut_words(placed: Placement, plan: Plan, show: Callable[[Fraction], str]) -> str:
    """How the length is cut off that begins with this cut; nothing where it has a length to itself, or another of that
    length is cut before it."""
    shared = plan.shared_length(placed)
    if len(shared) < 2 or shared[0].cut.id != placed.cut.id:
        return ""
    start, end = placed.crosscuts
    return (
        f"Cut off from selvedge to selvedge first, at {show(start)} and {show(end)}; then slit: "
        f"{counted(len(shared), 'cut')} lie side by side in that length"
    )


def is_cut_off_first(placed: Placement, plan: Plan, done: Collection[str]) -> bool:
    """Whether a length that this cut shares with others must be cut off before it is slit: none of it is cut yet."""
    shared = plan.shared_length(placed)
    return len(shared) > 1 and not any(one.cut.id in done for one in shared)
