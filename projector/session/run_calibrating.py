"""Run the calibration by hand, its practice, and the proof with a tape. The command line calls these."""

from __future__ import annotations

import time
from collections.abc import Sequence
from datetime import date

from calibration.height import LensPosition
from calibration.marks import Mark, TapeCheck, TapeClass
from calibration.table import Table, fit_table
from jobs.model.choices import Unit
from jobs.model.lengths import parse_length
from projector.files.readers import with_point
from projector.files.table_file import Stored
from projector.session.buttons.beside_mirror import Mirror
from projector.session.buttons.calibrating import calibrating_buttons
from projector.session.buttons.taping import taping_buttons
from projector.session.buttons.under import WithButtons, split_for_buttons
from projector.session.calibrating.host import Calibration, SaveTable
from projector.session.calibrating.practice import Practising
from projector.session.calibrating.review import Fit, Parse
from projector.session.host import Host
from projector.session.taping.host import KeepProof, TapeProving
from projector.session.taping.taping import begin_taping
from projector.session.windows.displays import Display, NoDisplayError, window_size
from projector.session.windows.window import Clock, OnFrame, displays, run_full_screen, run_in_window
from projector.simulated.practice import practice


def run_calibrating(
    save: SaveTable,
    *,
    unit: Unit = Unit.INCH,
    display: int | str | None = None,
    marks: Sequence[Mark] = (),
    checks: Sequence[Mark] = (),
    gamma: float = 2.2,
    lens_position: LensPosition | None = None,
    on_frame: OnFrame | None = None,
    clock: Clock = time.monotonic,
) -> Stored | None:
    """Calibrate by hand, full screen; the calibration as ``save`` wrote it, None when the person left without saving.

    ``unit`` is that of bare numbers typed; ``marks`` and ``checks`` of an earlier calibration give the crosses their
    first pixels. Raises ``DisplayError``.
    """
    made: list[Calibration] = []

    def on(display: Display) -> Calibration:
        size = (display.width_px, display.height_px)
        fit = fitting(*size, gamma, lens_position)
        calibration = Calibration(size, unit, fit, parsing(unit), save, marks, checks, display.name)
        made.append(calibration)
        return calibration

    def mirror(host: Host) -> Mirror:
        return Mirror(host, lambda: made[0].state, lambda: calibrating_buttons(made[0].state))

    run_full_screen(on, display=display, make_beside=mirror, on_frame=on_frame, clock=clock)
    return made[0].saved


def run_practice(
    save: SaveTable,
    *,
    unit: Unit = Unit.INCH,
    size_px: tuple[int, int] | None = None,
    lens_position: LensPosition | None = None,
    on_frame: OnFrame | None = None,
    clock: Clock = time.monotonic,
) -> tuple[Stored, float] | None:
    """Practise calibrating on the simulated table, in an ordinary window.

    Gives the calibration as ``save`` wrote it and how far off it truly is at its worst place, in inches; None when the
    person left without saving. Raises ``NoDisplayError``.
    """
    found = displays()
    if not found:
        raise NoDisplayError
    bench = practice()
    size = (bench.rig.width_px, bench.rig.height_px)
    fit = fitting(*size, bench.rig.gamma, lens_position)
    calibration = Calibration(size, unit, fit, parsing(unit), save, display="simulated")
    above_px, strip_px = split_for_buttons(size_px or window_size(found[0]))
    practising = Practising(calibration, bench, unit, above_px)
    host = WithButtons(practising, lambda: calibrating_buttons(calibration.state), strip_px)
    run_in_window(host, "lightchalk: calibration, simulated", on_frame=on_frame, clock=clock)
    stored = calibration.saved
    return None if stored is None else (stored, bench.true_error_in(stored.table))


def run_taping(
    table: Table,
    keep: KeepProof,
    *,
    unit: Unit = Unit.INCH,
    tape: TapeClass = TapeClass.II,
    nearest_in: float = 1 / 16,
    display: int | str | None = None,
    on_frame: OnFrame | None = None,
    clock: Clock = time.monotonic,
) -> TapeCheck | None:
    """Prove the light with a tape, full screen; the proof as ``keep`` wrote it, None when the person left without.

    Raises ``DisplayError`` and ``OutOfReach``.
    """
    host = TapeProving(begin_taping(table, unit, tape, nearest_in, date.today().isoformat()), parsing(unit), keep)

    def mirror(host_lit: Host) -> Mirror:
        return Mirror(host_lit, lambda: host.state, lambda: taping_buttons(host.state))

    run_full_screen(lambda _: host, display=display, make_beside=mirror, on_frame=on_frame, clock=clock)
    return host.kept


def fitting(width_px: int, height_px: int, gamma: float = 2.2, lens_position: LensPosition | None = None) -> Fit:
    """A fit of marks in a frame of this size, dated today."""

    def fit(marks: Sequence[Mark]) -> Table:
        today = date.today().isoformat()
        return fit_table(marks, width_px, height_px, gamma=gamma, date=today, lens_position=lens_position)

    return fit


def parsing(unit: Unit) -> Parse:
    """A reader of lengths, bare numbers in ``unit``; a comma that can only be a decimal sign counts as one."""
    return lambda text: parse_length(with_point(text), unit, signed=True)
