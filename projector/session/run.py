"""Run the session at the table, or the demo of it. The command line calls these."""

from __future__ import annotations

import time
from collections.abc import Iterable
from datetime import date

from calibration.table import Table
from jobs.model.plan import Plan
from projector.files.table_file import Stored
from projector.session.buttons.beside_cutting import BenchBeside
from projector.session.buttons.cutting import cutting_buttons
from projector.session.buttons.under import WithButtons, split_for_buttons
from projector.session.cutting.demo import Demo, EyeAt, PlaceOf
from projector.session.cutting.host import Cutting
from projector.session.cutting.recording import Record, not_kept
from projector.session.cutting.remembered import AT_FIRST, Before, KeepLight, forget_light
from projector.session.host import Link
from projector.session.keys import DEFAULT_KEYS, Keys, pad_keys
from projector.session.lighting.colours import room_of_job
from projector.session.lighting.lighting import bench_of
from projector.session.saying.notices import height_in_words, notices_of
from projector.session.state.laid import Laid
from projector.session.state.meeting import Meeting, meeting_of
from projector.session.state.state import Session
from projector.session.windows.displays import Display, NoDisplayError, window_size
from projector.session.windows.speaker import speaking
from projector.session.windows.window import Clock, OnFrame, displays, run_full_screen, run_in_window


def run_cutting(
    plan: Plan,
    table: Table,
    record: Record,
    done: Iterable[str] = (),
    *,
    display: int | str | None = None,
    keys: Keys = DEFAULT_KEYS,
    lit_width_in: float | None = None,
    stored: Stored | None = None,
    layings: tuple[Laid, ...] = (),
    before: Before = AT_FIRST,
    keep_light: KeepLight = forget_light,
    sound: bool = False,
    on_frame: OnFrame | None = None,
    on_beside: OnFrame | None = None,
    clock: Clock = time.monotonic,
    link: Link | None = None,
) -> Session:
    """Light the plan through the projector, full screen, until the person leaves; the session as it was left.

    ``table`` is for light on the cloth. With the calibration as ``stored`` it is first checked on the bare table
    whether anything has moved. ``done`` are cuts ticked and ``layings`` layings made before, ``before`` is what else an
    earlier session left, and ``keep_light`` remembers how the person sets the light. With ``sound`` ticks, what is
    taken back and what is refused are heard; ``link`` is who sees and asks from elsewhere. Raises ``NoStopsError``,
    ``ForeignCutsError`` and ``DisplayError`` (no such screen, or one of another size than the table was made for).
    """
    bench = bench_of(plan, table, keys, lit_width_in)
    made: list[Cutting] = []

    def cutting(meeting: Meeting | None) -> Cutting:
        return Cutting(
            bench, table, record, done, meeting, layings, may_replan=True, before=before, keep_light=keep_light
        )

    if stored is None:
        made.append(cutting(None))

    def on(display: Display) -> Cutting:
        if stored is not None:
            cloth, unit = plan.job.cloth, plan.job.unit.value
            height = height_in_words(stored.table, cloth, unit)
            notices = notices_of(stored, date.today(), display.name)
            said = (*before.said, *display.spoilt, *notices, *filter(None, (height, room_of_job(plan.job))))
            made.append(cutting(meeting_of(stored.table, said)))
        made[0].heard = heard
        return made[0]

    with speaking(sound) as heard:
        run_full_screen(
            on,
            display=display,
            make_beside=lambda _: BenchBeside(made[0]),
            pads=pad_keys(keys),
            on_frame=on_frame,
            on_beside=on_beside,
            clock=clock,
            link=link,
        )
    return made[0].session


def run_demo(
    plan: Plan,
    table: Table,
    eye_at: EyeAt,
    *,
    record: Record = not_kept,
    done: Iterable[str] = (),
    size_px: tuple[int, int] | None = None,
    keys: Keys = DEFAULT_KEYS,
    lit_width_in: float | None = None,
    place_of: PlaceOf | None = None,
    sound: bool = False,
    on_frame: OnFrame | None = None,
    clock: Clock = time.monotonic,
    link: Link | None = None,
) -> Session:
    """The same session in an ordinary window, its light seen on the simulated table; the session as it was left.

    ``eye_at(stop, size_px)(frame)`` is the picture (height, width, 3) of the table, ``place_of(pixel, size_px)`` the
    place that a pixel of it shows, for the mouse; ``size_px`` (width, height) fits the first screen unless given.
    Raises ``NoDisplayError`` where there is no screen.
    """
    found = displays()
    if not found:
        raise NoDisplayError
    above_px, strip_px = split_for_buttons(size_px or window_size(found[0]))
    cutting = Cutting(bench_of(plan, table, keys, lit_width_in), table, record, done)
    host = WithButtons(
        Demo(cutting, eye_at, above_px, place_of), lambda: cutting_buttons(cutting.session, keys), strip_px
    )
    with speaking(sound) as cutting.heard:
        run_in_window(
            host, f"lightchalk: {plan.job.title}", pads=pad_keys(keys), on_frame=on_frame, clock=clock, link=link
        )
    return cutting.session
