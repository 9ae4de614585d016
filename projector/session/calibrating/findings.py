"""What a person should know of the marks at hand before they save: how good they are, and what is wrong with them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from calibration import words
from calibration.advice import MarkAdvice, next_mark
from calibration.checking import Check, check_against
from calibration.lens_doubt import LensDoubt, lens_doubt
from calibration.marks import Mark, MarksRefused
from calibration.mistyped import Mistyped, find_mistyped
from calibration.placing import CAREFUL, Placing
from calibration.reach import OutOfReach
from calibration.table import Table
from calibration.uncertainty import Uncertainty
from jobs.job import Unit
from jobs.numbers import show_number

PER_INCH = {Unit.INCH: 1.0, Unit.CENTIMETRE: 2.54, Unit.MILLIMETRE: 25.4}
SPELT = {Unit.INCH: "inches", Unit.CENTIMETRE: "centimetres", Unit.MILLIMETRE: "millimetres"}


@dataclass(frozen=True)
class Slip:
    """A mark (index from 0) that was probably mistyped: ``said`` in words, and what it was meant to be, if clear."""

    mark: int
    said: str
    typed: tuple[str, str] | None = None
    pixel: tuple[float, float] | None = None


@dataclass(frozen=True)
class Findings:
    """How good the fit is (``worst_in`` and after; 0 without one), and which correction is offered.

    ``order`` tells, for each fitted mark, which one's pixel (index from 0) it should have; empty: as they are.
    """

    worst_in: float = 0.0
    where: str = ""
    advice: MarkAdvice | None = None
    lens_fitted: bool = False
    doubt: LensDoubt | None = None
    check: Check | None = None
    slip: Slip | None = None
    order: tuple[int, ...] = ()

    @property
    def offers(self) -> bool:
        """Whether there is a correction that can be taken with one key."""
        return bool(self.order) or (self.slip is not None and self.slip.typed is not None)


UNFITTED = Findings()


def found_in(table: Table, checks: Sequence[Mark], unit: Unit) -> Findings:
    """What a fitted table has to say for itself."""
    worst = Uncertainty(table).worst()
    try:
        check = check_against(table, checks) if checks else None
    except OutOfReach:
        check = None
    return Findings(
        worst.error_in,
        words.spot(worst.at_in, table.lit_area()),
        next_mark(table),
        table.lens is not None and table.lens.terms > 0,
        lens_doubt(table),
        check,
        slip_in(table.marks, table.width_px, table.height_px, unit),
    )


def found_wrong(refused: ValueError, marks: Sequence[Mark], width_px: int, height_px: int, unit: Unit) -> Findings:
    """What can be done about marks that were refused."""
    problems = refused.problems if isinstance(refused, MarksRefused) else ()
    order = next((tuple(number - 1 for number in one.order) for one in problems if one.order), ())
    slip = slip_in(marks, width_px, height_px, unit)
    # A slip that explains the marks is likelier than crosses taken for each other.
    return Findings(slip=slip, order=() if slip and slip.typed else order)


def slip_in(
    marks: Sequence[Mark], width_px: int, height_px: int, unit: Unit, placing: Placing = CAREFUL
) -> Slip | None:
    """The mark that was probably mistyped, looked for among the figures as they were typed, in their own unit."""
    per = PER_INCH[unit]
    typed = [Mark((mark.table[0] * per, mark.table[1] * per), mark.pixel) for mark in marks]
    found = find_mistyped(typed, width_px, height_px, replace(placing, tape_in=per * placing.tape_in))
    return None if found is None else _slip(found, marks, unit)


def _slip(found: Mistyped, marks: Sequence[Mark], unit: Unit) -> Slip:
    where = f"({found.expected_in[0]:.2f}, {found.expected_in[1]:.2f}) {unit}"
    start = f"Mark {found.number} does not go with the others: they want it near {where}"
    if found.slip is None:
        rest = "Measure it once more." if found.sure else "Or another mark is wrong: measure all again."
        return Slip(found.number - 1, f"{start}. {rest}")
    x, y = (show_number(Fraction(repr(round(value, 6)))) for value in found.slip.mark.table)
    said = f"{start}. {found.slip.what.replace('inches', SPELT[unit])}?"
    return Slip(found.number - 1, said, (x, y), found.slip.mark.pixel)
