"""A print as its symmetry: which moves of the cloth in its plane leave it looking the same.

The print's frame: along from a row of the first column, away from the piece's first end; across from the first column,
away from the near selvedge. International Tables for Crystallography, vol. A.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import product
from typing import Any

from jobs.model.choices import End, PrintKey, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.records import dataclass

ZERO = Fraction(0)
ANSWERS: dict[PrintKey, tuple[object, ...]] = {
    PrintKey.DROP: tuple(Fraction(*of) for of in ((0, 1), (1, 2), (1, 3), (2, 3), (1, 4), (3, 4))),
    PrintKey.TOP_TO_BOTTOM: tuple(Symmetry),
    PrintKey.SIDE_TO_SIDE: tuple(Symmetry),
    PrintKey.ONE_WAY: (True, False),
}


@dataclass(frozen=True)
class Move:
    """What is at ``along``, ``across`` goes to ``along_sense`` x along + ``along``, and the same across."""

    along_sense: int
    along: Fraction
    across_sense: int
    across: Fraction

    def after(self, first: Move) -> Move:
        """First that one, then this."""
        return Move(
            self.along_sense * first.along_sense,
            self.along + self.along_sense * first.along,
            self.across_sense * first.across_sense,
            self.across + self.across_sense * first.across,
        )

    def back(self) -> Move:
        """What undoes it."""
        return Move(
            self.along_sense, -self.along_sense * self.along, self.across_sense, -self.across_sense * self.across
        )


def answered(cloth: Cloth) -> Iterator[Cloth]:
    """The cloth with every set of answers to what is not known of its print; itself where all is."""
    asked = [key for key in ANSWERS if key in cloth.not_known]
    for answers in product(*(ANSWERS[key] for key in asked)):
        given: dict[str, Any] = {key.value: answer for key, answer in zip(asked, answers, strict=True)}
        drop = given.pop("drop", cloth.drop)
        yield replace(cloth, drop=drop, print=replace(cloth.print, **given), not_known=frozenset())


def first_column(cloth: Cloth) -> Fraction:
    """From the near selvedge: as measured, else that of as many whole columns as the print holds, in its middle."""
    printed = cloth.width - cloth.near_selvedge - cloth.far_selvedge
    across = cloth.repeat.across if cloth.repeat is not None else None
    if cloth.first_column is not None:
        return cloth.first_column
    whole = max(1, printed // across) if across is not None else 1
    return cloth.near_selvedge + printed / 2 - (whole - 1) * (across or ZERO) / 2


def on_lattice(cloth: Cloth, along: Fraction, across: Fraction) -> bool:
    """Whether the print comes again so far along and across: n columns on it sits n x drop repeats further along."""
    if cloth.repeat is None:
        return True
    if cloth.repeat.across is None:
        return not across and not along % cloth.repeat.along
    columns = across / cloth.repeat.across
    return columns.denominator == 1 and not (along - columns * cloth.drop * cloth.repeat.along) % cloth.repeat.along


def about_a_line_across(cloth: Cloth) -> Move | None:
    """What mirrors the print from top to bottom, as it hangs upright; None where nothing does."""
    sheet, repeat = cloth.print, cloth.repeat
    if repeat is None or sheet.top_to_bottom is Symmetry.NONE:
        return None
    # Down the hanging cloth is away from the end the tops point to; of cloth run sideways it is said from the row on.
    away = 1 if cloth.run is Run.SIDEWAYS or sheet.top_towards is End.FIRST else -1
    slide = (repeat.across or ZERO) / 2 if sheet.top_to_bottom is Symmetry.GLIDE else ZERO
    return Move(-1, 2 * away * sheet.mirror_offset, 1, slide)


def about_a_line_along(cloth: Cloth) -> Move | None:
    """What mirrors it from side to side."""
    sheet, repeat = cloth.print, cloth.repeat
    if repeat is None or sheet.side_to_side is Symmetry.NONE:
        return None
    slide = repeat.along / 2 if sheet.side_to_side is Symmetry.GLIDE else ZERO
    return Move(1, slide, -1, 2 * (sheet.mirror_offset_across or ZERO))


def looks_the_same(cloth: Cloth, move: Move) -> bool:
    """Whether the print lies on itself after the move. Of a half-turn alone nobody says where its centre lies: no."""
    if cloth.repeat is None:
        return True
    across, along = about_a_line_across(cloth), about_a_line_along(cloth)
    known = {(1, 1): Move(1, ZERO, 1, ZERO), (-1, 1): across, (1, -1): along}
    known[-1, -1] = along.after(across) if across is not None and along is not None else None
    like = known[move.along_sense, move.across_sense]
    return like is not None and on_lattice(cloth, move.along - like.along, move.across - like.across)
