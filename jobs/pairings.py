"""What makes one panel of a pair from the other, and the words for it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from jobs.plan import Way

SAME_ADVICE = "write `hang: same` for a pair that hangs the same way"
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
