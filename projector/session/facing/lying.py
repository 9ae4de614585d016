"""How a panel lies on the table, seen by the person: at which of its four sides its top is, and at which it leads."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from projector.scene.labels import side_words
from projector.scene.lit_stop import LitStop
from projector.scene.sideways_labels import edge_words


class Side(StrEnum):
    """A side of what lies on the table; the value says where it is."""

    LEFT = "at your left"
    RIGHT = "at your right"
    NEAR = "nearest you"
    FAR = "away from you"

    @property
    def over(self) -> Side:
        """The side across from it."""
        return {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT, Side.NEAR: Side.FAR, Side.FAR: Side.NEAR}[self]

    @property
    def loud(self) -> str:
        """Where it is, with the word that matters in capitals."""
        last = self.value.split()[-1]
        return self.value.removesuffix(last) + last.upper() if "your" in self.value else self.value.upper()


@dataclass(frozen=True)
class Lying:
    """``top`` and ``leads`` are sides; ``leading`` and ``other`` the words for the leading side and the one across."""

    top: Side
    leads: Side
    leading: str
    other: str


def lying_of(lit: LitStop) -> Lying:
    """How the panel of a stop lies: its top at an end of it, or at a selvedge where the cloth is run sideways."""
    if lit.is_sideways:
        (leading, *_), (other, *_) = edge_words(lit)
        leads = Side.LEFT if lit.placement.cut.leading_is_first else Side.RIGHT
        return Lying(Side.FAR if lit.rising > 0 else Side.NEAR, leads, leading, other)
    near, far = (words[0] for words in side_words(lit))
    leading, other = (near, far) if lit.leading_is_near else (far, near)
    return Lying(
        Side.RIGHT if lit.towards_top > 0 else Side.LEFT,
        Side.NEAR if lit.leading_is_near else Side.FAR,
        leading,
        other,
    )
