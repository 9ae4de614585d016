"""Run each mode in its window: cutting and its demo, calibrating and its practice, the check with a tape.

The command line calls these.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from calibration.height import LensPosition
from calibration.marks import Mark, TapeCheck
from calibration.table import Table, fit_table
from jobs.model.choices import Unit
from jobs.model.lengths import parse_length
from jobs.model.records import dataclass
from projector.demo.practice import practice
from projector.files.decimal_comma import with_point
from projector.files.table_file import SIMULATED, Stored
from projector.session.calibrating.mode import Calibration, SaveTable
from projector.session.calibrating.reducer import Fit, Parse
from projector.session.calibrating.state import Calibrating
from projector.session.calibrating.state import begin as begin_calibrating
from projector.session.calibrating.tape_check import TapeChecking
from projector.session.calibrating.tape_check_mode import CheckByTape, KeepCheck
from projector.session.cutting.begin import AT_FIRST, Before, begin
from projector.session.cutting.doubts import height_in_words, notices_of, room_of_job
from projector.session.cutting.journal import Record, not_kept
from projector.session.cutting.light import KeepLight, forget_light
from projector.session.cutting.mode import Cutting
from projector.session.cutting.startup_check import startup_check_of
from projector.session.cutting.state import Session, Setup
from projector.session.keys import pad_keys
from projector.session.mode import USUAL, Rim
from projector.session.seen import Demo, EyeAt, PlaceOf, Practising
from projector.session.windows.displays import Display, NoDisplayError, window_size
from projector.session.windows.speaker import speaking
from projector.session.windows.window import displays, run_full_screen, run_in_window


def run_cutting(
    setup: Setup,
    record: Record,
    before: Before = AT_FIRST,
    *,
    stored: Stored | None = None,
    keep_light: KeepLight = forget_light,
    rim: Rim = USUAL,
) -> Session:
    """Light the plan through the projector, full screen, until the person leaves; the session as it was left.

    With the calibration as ``stored`` it is first checked on the bare table whether anything has moved. ``before`` is
    what an earlier session left, and ``keep_light`` remembers how the person sets the light. Raises ``NoStopsError``,
    ``ForeignCutsError`` and ``DisplayError`` (no such screen, or one of another size than the table was made for).
    """
    made = [] if stored is not None else [Cutting(begin(setup, before, may_replan=True), record, keep_light)]

    def on(display: Display) -> Cutting:
        if stored is not None:
            job = setup.plan.job
            height = height_in_words(stored.table, job.cloth, job.unit.value)
            notices = notices_of(stored, date.today(), display.name)
            said = (*before.said, *display.spoilt, *notices, *filter(None, (height, room_of_job(job))))
            check = startup_check_of(stored.table, said)
            made.append(Cutting(begin(setup, before, check, may_replan=True), record, keep_light))
        made[0].heard = heard
        return made[0]

    with speaking(rim.sound) as heard:
        run_full_screen(on, rim, pads=pad_keys(setup.keys))
    return made[0].state


def run_demo(
    setup: Setup,
    eye_at: EyeAt,
    place_of: PlaceOf,
    *,
    record: Record = not_kept,
    before: Before = AT_FIRST,
    size_px: tuple[int, int] | None = None,
    rim: Rim = USUAL,
) -> Session:
    """The same session in an ordinary window, its light seen on the simulated table; the session as it was left.

    ``eye_at(stop, size_px)(frame)`` is the picture (height, width, 3) of the table, ``place_of(pixel, size_px)`` the
    place that a pixel of it shows, for the mouse; ``size_px`` (width, height) fits the first screen unless given.
    Raises ``NoDisplayError`` where there is no screen.
    """
    cutting = Cutting(begin(setup, before), record)
    demo = Demo(cutting, eye_at, size_px or _window_px(), place_of, rim.on_light)
    try:
        with speaking(rim.sound) as cutting.heard:
            run_in_window(demo, f"lightchalk: {setup.plan.job.title}", rim, pads=pad_keys(setup.keys))
    finally:
        demo.close()
    return cutting.state


def _window_px() -> tuple[int, int]:
    """The size of a window that fits the first screen. Raises ``NoDisplayError``."""
    found = displays()
    if not found:
        raise NoDisplayError
    return window_size(found[0])


@dataclass(frozen=True)
class Start:
    """How a calibration begins.

    ``unit`` is that of bare numbers typed; the marks of an ``earlier`` calibration give the crosses their first pixels;
    with ``by_photographs`` the pattern for photographs comes before any cross.
    """

    unit: Unit = Unit.INCH
    earlier: Stored | None = None
    gamma: float = 2.2
    lens_position: LensPosition | None = None
    by_photographs: bool = False

    def state(self, width_px: int, height_px: int) -> Calibrating:
        """The calibration of a frame of this size, begun."""
        marks, checks = (self.earlier.table.marks, self.earlier.checks) if self.earlier else ((), ())
        begun = begin_calibrating(width_px, height_px, self.unit, marks, checks)
        return replace(begun, by_photographs=self.by_photographs)


ANEW = Start()


def run_calibrating(save: SaveTable, start: Start = ANEW, rim: Rim = USUAL) -> Stored | None:
    """Calibrate full screen; the calibration as ``save`` wrote it, None when the person left without saving.

    Raises ``DisplayError``.
    """
    made: list[Calibration] = []

    def on(display: Display) -> Calibration:
        size = display.size_px
        fit = fitting(*size, start.gamma, start.lens_position)
        made.append(Calibration(start.state(*size), fit, parsing(start.unit), save, display.name))
        return made[0]

    run_full_screen(on, rim)
    return made[0].saved


def run_practice(
    save: SaveTable, start: Start = ANEW, *, size_px: tuple[int, int] | None = None, rim: Rim = USUAL
) -> Stored | None:
    """Practise calibrating on the simulated table, in an ordinary window.

    Gives the calibration as ``save`` wrote it; None when the person left without saving. Raises ``NoDisplayError``.
    """
    table = practice()
    size = (table.projector.width_px, table.projector.height_px)
    fit = fitting(*size, table.projector.gamma, start.lens_position)
    calibration = Calibration(start.state(*size), fit, parsing(start.unit), save, display=SIMULATED)
    shown = Practising(calibration, table, start.unit, size_px or _window_px(), rim.on_light)
    run_in_window(shown, "lightchalk: calibration, simulated", rim)
    return calibration.saved


def run_tape_check(state: TapeChecking, keep: KeepCheck, rim: Rim = USUAL) -> TapeCheck | None:
    """Check the light with a tape, full screen; the check as ``keep`` wrote it, None when the person left without.

    Raises ``DisplayError``.
    """
    mode = CheckByTape(state, parsing(state.unit), keep)
    run_full_screen(lambda _: mode, rim)
    return mode.kept


def fitting(width_px: int, height_px: int, gamma: float = 2.2, lens_position: LensPosition | None = None) -> Fit:
    """A fit of marks in a frame of this size, dated today."""

    def fit(marks: Sequence[Mark]) -> Table:
        today = date.today().isoformat()
        fitted = fit_table(marks, width_px, height_px)
        return replace(fitted, gamma=gamma, date=today, lens_position=lens_position)

    return fit


def parsing(unit: Unit) -> Parse:
    """A reader of lengths, bare numbers in ``unit``; a comma that can only be a decimal sign counts as one."""
    return lambda text: parse_length(with_point(text), unit, signed=True)
