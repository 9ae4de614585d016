"""The session at the table with its light and its record: keys in, recorded ticks and pixels out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date

import numpy as np

from calibration.homography import OutOfReach
from calibration.moved import Move
from calibration.table import Table
from jobs.journal.cannot import CannotRecord
from projector.light.canvas import Canvas
from projector.light.styles import Style
from projector.light.warp import draw
from projector.scene.marks import Kind, Point, Scene
from projector.session.actions import REPEATING, Action, AnyAction, Pointed
from projector.session.bench.drawing import bench_pixels
from projector.session.cutting.beginning import begin
from projector.session.cutting.publish import Json, publish
from projector.session.cutting.recording import Record
from projector.session.cutting.remembered import AT_FIRST, Before, KeepLight, forget_light, settings_of
from projector.session.host import Pixels
from projector.session.keys import action_for
from projector.session.laying.press import point_at
from projector.session.lighting.checks import Check, checks_of
from projector.session.lighting.colours import choice_at, colours_in_words
from projector.session.lighting.lighting import Bench, bench_of, lit
from projector.session.pressing.interruptions import interrupted
from projector.session.pressing.meeting_press import PAGES
from projector.session.pressing.press import in_trouble, press
from projector.session.saying.notices import raised_table
from projector.session.saying.sounds import Sound, sound_of
from projector.session.saying.words import not_recorded
from projector.session.state.laid import Laid
from projector.session.state.meeting import Meeting
from projector.session.state.state import Corrected, Left, Page, Session


class Cutting:
    """One session: ``record`` is called, and has returned, before anything of a tick is shown.

    ``table`` is for light on the cloth. ``meeting`` checks first, on the bare table, whether anything has moved; a
    correction then holds for the session. ``before`` is what else an earlier session left; ``keep_light`` remembers how
    the person sets the light.
    """

    def __init__(
        self,
        bench: Bench,
        table: Table,
        record: Record,
        done: Iterable[str] = (),
        meeting: Meeting | None = None,
        layings: tuple[Laid, ...] = (),
        *,
        may_replan: bool = False,
        before: Before = AT_FIRST,
        keep_light: KeepLight = forget_light,
    ) -> None:
        self.session: Session = begin(
            bench.plan,
            done,
            meeting,
            layings,
            bench.area,
            ways=before.ways,
            light=before.light,
            made_anew=before.made_anew,
            may_replan=may_replan,
        )
        self._keep_light = keep_light
        self.bench = bench
        self.table = table
        self._bare, self._checks = (meeting.table if meeting else table), meeting is not None
        self._record = record
        self.heard: Callable[[Sound], None] | None = None
        """Plays what a press sounds like; None: nothing is heard."""
        self.bench_is_beside = False
        """Whether the bench screen stands on a screen of its own, so that it is never lit in place of the light."""
        self._canvas = Canvas(table.width_px, table.height_px, table.gamma)
        self._drawn: tuple[Session | None, Bench | None, Table | None] = (None, None, None)

    @property
    def size_px(self) -> tuple[int, int]:
        return self.table.width_px, self.table.height_px

    @property
    def finished(self) -> bool:
        return self.session.page is Page.LEFT

    @property
    def styles(self) -> Mapping[Kind, Style]:
        """How each kind of mark is lit now, but for the width that the person has set."""
        return choice_at(self.bench.plan.job, self.session.colour).styles

    @property
    def scene(self) -> Scene:
        """What is lit now, in table inches."""
        return lit(self.session, self.bench)

    def key(self, name: str, quiet_s: float) -> bool:
        return self.press(action_for(name, self.bench.keys), quiet_s)

    def click(self, pixel: tuple[int, int], quiet_s: float) -> bool:
        return self._pointed((pixel[0] + 0.5, pixel[1] + 0.5))

    def _pointed(self, pixel: tuple[float, float]) -> bool:
        try:
            x, y = self.table.to_table([pixel])[0].tolist()
        except OutOfReach:
            return False
        return self.point((x, y))

    def point(self, place: Point) -> bool:
        """The mouse points at a place on the table; tell whether the light changed."""
        was, self.session = self.session, point_at(self.session, place)
        return self.session != was

    def close(self) -> bool:
        return self.press(Action.LEAVE, 0.0)

    def repeats(self, name: str) -> bool:
        return action_for(name, self.bench.keys) in REPEATING

    def act(self, action: AnyAction, quiet_s: float) -> bool:
        """Take one action, from wherever it came; tell whether the light changed."""
        if isinstance(action, Pointed):
            return self._pointed(action.pixel)
        return self.press(action if isinstance(action, Action) else Action.ANY_OTHER, quiet_s)

    def publish(self) -> Json:
        """The state as JSON values, see ``publish``."""
        return publish(self.session, self.bench, self._checked())

    def _checked(self) -> tuple[Check, ...]:
        session, bench = self.session, self.bench
        laid = session.is_laid_here if session.lattices and any(session.lattices) else None
        return checks_of(bench.plan, session.stop, self.table, date.today(), laid=laid, lit_width_in=bench.lit_width_in)

    def press(self, action: Action, quiet_s: float) -> bool:
        """Take one request; tell whether the light changed."""
        was = self.session
        if action is Action.BENCH and self.bench_is_beside:
            return False
        session, events = press(was, action, quiet_s)
        try:
            for event in events:
                said = None if isinstance(event, Left) else self._record(event)
                session = replace(session, told=said) if said else session
                if isinstance(event, Corrected):
                    self._mend(event.move)
        except CannotRecord as fault:
            session = in_trouble(was, not_recorded(str(fault), fault.advice))
        except OSError as fault:
            session = in_trouble(was, not_recorded(str(fault)))
        if session.colour != was.colour and not session.told:
            session = replace(session, told=colours_in_words(self.bench.plan.job, session.colour))
        self.session = session
        if self.heard is not None and (sound := sound_of(was, session, action)) is not None:
            self.heard(sound)
        if settings_of(session.light) != settings_of(was.light):
            self._keep_light(session.light)
        return session != was

    def interrupted(self, why: str) -> bool:
        """Something came between: the quick check by two marks stands before the next cut."""
        was, self.session = self.session, interrupted(self.session, why, self._bare, checks=self._checks)
        return self.session != was

    def _mend(self, move: Move) -> None:
        """The light put right, on the bare table and on the cloth."""
        self._bare = move.mended(self._bare)
        self.table = raised_table(self._bare, self.bench.plan.job.cloth)
        self.bench = bench_of(self.bench.plan, self.table, self.bench.keys, self.bench.lit_width_in)

    def bench_screen(self, size_px: tuple[int, int], *, with_keys: bool = True, alert: str = "") -> Pixels:
        """The bench screen at a size (width, height), packed 0x00RRGGBB; ``alert`` is what must be seen first."""
        session, bench, checks = self.session, self.bench, self._checked()
        width, height = size_px
        keys = bench.keys if with_keys else None
        seen = bench_pixels(session, bench.plan, checks, keys=keys, width_px=width, height_px=height, alert=alert)
        red, green, blue = np.moveaxis(seen.astype(np.uint32), -1, 0)
        return red << 16 | green << 8 | blue

    def paint(self, pixels: Pixels) -> None:
        session = self.session
        if session.on_bench and not session.dark:
            pixels[:] = self.bench_screen(self.size_px)
            return
        table = self._bare if session.page in PAGES else self.table
        seen = (session, self.bench, table)
        if any(now is not before for now, before in zip(seen, self._drawn, strict=True)):
            draw(self.scene, table, self._canvas, styles=self.styles, width_factor=session.width_factor)
            self._drawn = seen
        self._canvas.into(pixels)
