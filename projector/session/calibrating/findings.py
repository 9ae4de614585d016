"""What a person should know of the marks at hand before they save: how good they are, and what is wrong with them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from calibration.advice import LensUncertainty, MarkAdvice, Untested, lens_shows, lens_uncertainty, next_mark, untested
from calibration.checking import Check, check_against
from calibration.homography import OutOfReach
from calibration.marks import CAREFUL, Mark, Placing, tables_of
from calibration.problems import Code, MarksRefused
from calibration.slips.judging import find_slip
from calibration.table import Table
from calibration.uncertainty import Uncertainty
from jobs.model.choices import Unit
from jobs.model.numbers import show_number
from jobs.model.records import dataclass
from projector.words.findings import describe_slip, format_spot

PER_INCH = {Unit.INCH: 1.0, Unit.CENTIMETRE: 2.54, Unit.MILLIMETRE: 25.4}
SPELT = {Unit.INCH: "inches", Unit.CENTIMETRE: "centimetres", Unit.MILLIMETRE: "millimetres"}


@dataclass(frozen=True)
class Slip:
    """What does not go together, ``said`` in words.

    ``marks`` (indices from 0) are to blame beyond doubt, none when several may be; ``typed`` is what each was meant to
    be, if that is clear.
    """

    said: str
    marks: tuple[int, ...] = ()
    typed: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Findings:
    """How good the fit is (``worst_in`` and after; 0 without one), and which correction is offered.

    ``worst_in`` holds for all of the lit area at once, ``where`` is its worst place. ``untested`` are marks
    whose slips would stay unseen; ``disagree``: together the marks leave more than careful work does. ``order`` tells,
    for each fitted mark, which one's pixel (index from 0) it should have; empty: as they are.
    """

    worst_in: float = 0.0
    where: str = ""
    advice: MarkAdvice | None = None
    lens_fitted: bool = False
    doubt: LensUncertainty | None = None
    check: Check | None = None
    slip: Slip | None = None
    order: tuple[int, ...] = ()
    untested: Untested | None = None
    disagree: bool = False

    @property
    def offers(self) -> bool:
        """Whether there is a correction that can be taken with one key."""
        return bool(self.order) or (self.slip is not None and bool(self.slip.typed))


UNFITTED = Findings()


def found_in(table: Table, checks: Sequence[Mark], unit: Unit) -> Findings:
    """What a fitted table has to say for itself."""
    made = Uncertainty(table)
    worst = made.worst()
    try:
        check = check_against(table, checks) if checks else None
    except OutOfReach:
        check = None
    return Findings(
        max(made.everywhere_in(), worst.error_in),
        format_spot(worst.at_in, table.lit_area()),
        next_mark(table),
        lens_shows(made),
        lens_uncertainty(made),
        check,
        slip_in(table.marks, table.width_px, table.height_px, unit),
        untested=untested(made),
        disagree=made.disagree,
    )


def found_wrong(refused: MarksRefused, marks: Sequence[Mark], width_px: int, height_px: int, unit: Unit) -> Findings:
    """What can be done about marks that were refused: of five or more every order was weighed among the slips."""
    orders = [one.value("order") for one in refused.problems if one.code is Code.CROSSED_ORDER]
    order = tuple(number - 1 for number in orders[0]) if orders and isinstance(orders[0], tuple) else ()
    return Findings(slip=slip_in(marks, width_px, height_px, unit), order=order)


def slip_in(
    marks: Sequence[Mark], width_px: int, height_px: int, unit: Unit, placing: Placing = CAREFUL
) -> Slip | None:
    """What was probably mistyped, looked for among the figures as they were typed, in their own unit."""
    per = PER_INCH[unit]
    found = find_slip(marks, width_px, height_px, placing, per)
    if found is None:
        return None

    def show(value: float) -> str:
        sixty_fourths = round(value * 64)
        is_fraction = unit is Unit.INCH and abs(value * 64 - sixty_fourths) < 1e-6
        return show_number(Fraction(sixty_fourths, 64)) if is_fraction else f"{value:.2f}".rstrip("0").rstrip(".")

    said = describe_slip(found, SPELT[unit], tables_of(marks) * per, show)
    if not found.is_sure:
        return Slip(said)
    numbers = tuple(number - 1 for number in found.suspects[0])
    meant = found.slip.meant.tolist() if found.slip else []
    return Slip(said, numbers, tuple((show(x), show(y)) for x, y in meant))
