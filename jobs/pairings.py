"""What makes one panel of a pair from the other, and the words for it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from jobs.model.cloth import Cloth
from jobs.model.cuts import Way
from jobs.model.problems import Code, Problem, problem

SAME_LEADS = "the same selvedge leads in both panels"


class Pairing(StrEnum):
    """What makes the right panel of a pair from the left one."""

    SAME = "same"
    TURNED = "turned"
    OWN_IMAGE = "own image"
    FACE_DOWN = "face down"
    SLID_ALONG = "own image, slid along"
    SLID_ACROSS = "turned, slid across"
    TURNED_SLID_ALONG = "turned, slid along"
    """Of cloth run sideways only, as is the next."""
    OWN_SLID_ACROSS = "own image, slid across"


@dataclass(frozen=True)
class WayChoice:
    """How the right panel of a pair lies (the left one lies upright), why, and what the person should know."""

    way: Way
    reason: str
    notice: str = ""
    pairing: Pairing = Pairing.SAME


def mirror_is_possible(cloth: Cloth) -> bool:
    """A lattice with a drop is its own mirror image only when twice the drop is a whole repeat."""
    return (2 * cloth.drop).denominator == 1


def no_mirror_line(cloth: Cloth) -> Problem:
    """The refusal of a print that is said to mirror with a drop that allows none."""
    return problem(("cloth", "drop"), Code.NO_MIRROR_WITH_DROP, drop=cloth.drop)
