"""Cutting as a mode: the session with its light, its record and its sounds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from functools import partial

from calibration.homography import OutOfReach
from calibration.photographs.pattern import NoPattern, Pattern
from jobs.journal.cannot import CannotRecord
from projector.files.write import CannotWrite
from projector.papers.drawing import Drawing
from projector.session.actions import Action, AnyAction, Lies, Match, Offers, Pointed
from projector.session.card import lay_card
from projector.session.cutting.journal import Event, Record
from projector.session.cutting.light import KeepLight, choice_at, forget_light, settings_of
from projector.session.cutting.pages import Page
from projector.session.cutting.photographed import asked_of, lit_on_white
from projector.session.cutting.pictures import stop_pictures
from projector.session.cutting.publish import offers_of, publish
from projector.session.cutting.reducer import in_trouble, interrupted, press
from projector.session.cutting.registering import point_at, seen_in_photograph, told_of_mates
from projector.session.cutting.scene import lit
from projector.session.cutting.startup_check import PAGES as CHECK_PAGES
from projector.session.cutting.state import Session
from projector.session.cutting.text import not_recorded, text_of
from projector.session.mode import Json, Lit, Mode, Pixels
from projector.session.sounds import Sound

NO_PATTERN = "The pattern for photographs cannot be lit here: lay the cloth by motif points."
TICKING = frozenset((Action.NEXT_STOP, Action.CUT_DONE))


class Cutting(Mode[Session, Event]):
    """One session: ``record`` is called, and has returned, before anything of a tick is shown.

    ``keep_light`` remembers how the person sets the light.
    """

    def __init__(self, session: Session, record: Record, keep_light: KeepLight = forget_light) -> None:
        table = session.setup.table
        super().__init__(session, (table.width_px, table.height_px), table.gamma)
        self._record, self._keep_light = record, keep_light
        self._patterns: dict[bool, Pixels] = {}
        self.heard: Callable[[Sound], None] | None = None
        """Plays what an action sounds like; None: nothing is heard."""

    @property
    def finished(self) -> bool:
        return self.state.page is Page.LEFT

    @property
    def keys(self) -> Mapping[str, AnyAction]:
        return self.state.setup.keys

    @property
    def offers(self) -> Offers:
        return offers_of(self.state)

    def reduce(self, action: AnyAction, quiet_s: float) -> tuple[Session, tuple[Event, ...]]:
        if isinstance(action, Pointed):
            return self._pointed(action), ()
        if isinstance(action, Lies):
            return seen_in_photograph(self.state, action), ()
        if isinstance(action, Match):
            return told_of_mates(self.state, action), ()
        after, events = press(self.state, action if isinstance(action, Action) else Action.ANY_OTHER, quiet_s)
        if after.page is Page.PATTERN and self.state.page is not Page.PATTERN:
            try:
                self._pattern(lit_on_white(after))
            except (ImportError, NoPattern):
                return in_trouble(replace(after, page=Page.MARKING), NO_PATTERN), ()
        return after, events

    def _pattern(self, on_white: bool) -> Pixels:
        """The frame for photographs, the whole pattern or ``on_white``. Raises NoPattern for one too small, ImportError
        where OpenCV is missing."""
        from projector.light.pattern import pattern_frame

        if on_white not in self._patterns:
            self._patterns[on_white] = pattern_frame(Pattern(*self.size_px), on_white=on_white)
        return self._patterns[on_white]

    def paint(self, pixels: Pixels) -> None:
        if self.state.page is not Page.PATTERN or self.state.dark:
            super().paint(pixels)
            return
        pixels[:] = self._pattern(lit_on_white(self.state))
        if self.card:
            lay_card(pixels, self.card, self.state.setup.table)

    def _pointed(self, action: Pointed) -> Session:
        try:
            x, y = self.state.setup.table.to_table([action.pixel])[0].tolist()
        except OutOfReach:
            return self.state
        return point_at(self.state, (x, y))

    def keep(self, event: Event, state: Session) -> Session:
        status = self._record(event)
        return replace(state, status=status) if status else state

    def refused(self, fault: CannotRecord | CannotWrite | OSError) -> Session:
        advice = {"advice": fault.advice} if isinstance(fault, CannotRecord) else {}
        return in_trouble(self.state, not_recorded(str(fault), **advice))

    def act(self, action: AnyAction, quiet_s: float) -> bool:
        was = self.state
        changed = super().act(action, quiet_s)
        if self.heard is not None and (sound := sound_of(was, self.state, action)) is not None:
            self.heard(sound)
        if settings_of(self.state.light) != settings_of(was.light):
            self._keep_light(self.state.light)
        return changed

    def interrupted(self, why: str) -> bool:
        was, self.state = self.state, interrupted(self.state, why)
        return self.state != was

    def lit(self) -> Lit:
        session, setup = self.state, self.state.setup
        styles = choice_at(setup.plan.job, session.light.colour).styles
        table = setup.bare if session.page in CHECK_PAGES and setup.bare else setup.table
        over, under = lit(session)
        return Lit(over, table, styles, session.light.width_factor, under)

    def publish(self) -> Json:
        session = self.state
        told = self.told("cutting", session.page.name.lower(), text_of(session), dark=session.dark)
        lay = {"lay": asked_of(session)} if session.page is Page.PATTERN and not session.dark else {}
        return told | publish(session, date.today()) | lay

    def pictures(self) -> Callable[[], Mapping[str, Drawing]]:
        return partial(stop_pictures, self.state)


def sound_of(was: Session, now: Session, action: AnyAction) -> Sound | None:
    """What is heard when an action has turned one session into the other; None: nothing."""
    if len(now.done) > len(was.done):
        return Sound.DONE
    if now.page is Page.TROUBLE and was.page is not Page.TROUBLE:
        return Sound.REFUSED
    same = replace(now, status=was.status, just_ticked=was.just_ticked) == was
    if action is Action.UNDO and was.page is Page.STOP and not was.dark:
        return Sound.REFUSED if same else Sound.TAKEN_BACK
    if action in TICKING and was.page is Page.IS_IT_CUT and same:
        return Sound.REFUSED
    return None
