"""The loop at the heart of every window: actions in, frames out, asleep while nothing happens. It runs any mode."""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable, Mapping
from typing import Any

import pygame

from projector.session.actions import REPEATING, Action, AnyAction, UnknownAction, parse
from projector.session.card import read_card
from projector.session.keys import keys_for
from projector.session.mode import Mode, Rim
from projector.session.windows.displays import found_again
from projector.session.windows.ending import Ending
from projector.session.windows.events import ASKED, CLOSED, LET_GO, MOVED, PRESSED, REPAINT, Controllers, pressed_name
from projector.session.windows.holding import Held
from projector.session.windows.monitors import Seeing
from projector.session.windows.panes import LightPane
from projector.session.windows.watch import WAKE_EVERY_S, Seen, Wakings, Watch, back, slept

HIDDEN_AFTER_S = 3.0


class Loop:
    """One run of a mode in its window; with ``watch`` on a whole screen, which may go and come back.

    ``pads`` are the keys that a game controller's buttons stand for; ``ending`` tells whether the system asks to end.
    """

    def __init__(
        self,
        light: LightPane,
        watch: Watch | None,
        rim: Rim,
        pads: Mapping[str, str],
        ending: Ending,
        wall: Callable[[], float] = time.time,
    ) -> None:
        self.light, self.watch, self._link = light, watch, rim.link
        self._clock, self._wall, self._pads = rim.clock, wall, pads
        self._ending = ending
        self._held, self._key = Held(), 0
        self._last_s = rim.clock()
        self._wakings = Wakings(self._last_s, wall())
        self._looked_s = self._last_s
        # In an ordinary window the arrow lies on no cloth.
        self._pointer = Pointer() if watch is not None else None
        self._place: object = None
        self._seen, self._late = 0, False
        self._seeing = Seeing()
        if watch is not None:
            watch.layout = self._seeing.displays()

    @property
    def mode(self) -> Mode[Any, Any]:
        """What is run."""
        return self.light.showing.mode

    def run(self) -> None:
        """Until the mode is finished, or the system asks to end: what is on its way is done, the next thing is not."""
        controllers = Controllers()
        if self._link is not None:
            self._link.open(_ask)
        try:
            self._show()
            self._tell()
            while not (self.mode.finished or self._ending.asked):
                self._turn(controllers)
        finally:
            controllers.close()
            self._seeing.close()
            if self._link is not None:
                self._link.close()

    def _tell(self) -> None:
        """The state to those who see it elsewhere, once the light shows it."""
        if self._link is not None:
            state = self.mode.publish()
            place = tuple(state.get(key) for key in ("page", "dark", "left")), (state.get("stop") or {}).get("number")
            if place != self._place:
                self._place, self._seen = place, self._seen + 1
            away = self.watch.words if self.watch is not None else ""
            self._link.tell(state | {"projector": away, "seen": self._seen, "late": self._late}, self.mode.pictures())
            self._late = False

    def _turn(self, controllers: Controllers) -> None:
        """One waking: everything that has happened is taken, then the light is painted once, if it must be."""
        waited = pygame.event.wait(self._wait_ms())
        paint, moved = False, False
        for event in (waited, *pygame.event.get()):
            controllers.notice(event)
            moved |= event.type in MOVED
            paint |= self._take(event)
        paint |= self._hold_on()
        paint |= self._look_round(moved)
        if paint and not self.mode.finished:
            self._show()
        if paint or self._late:
            self._tell()

    def _wait_ms(self) -> int:
        """How long to sleep at most when nothing happens."""
        held_s = self._held.wait_s(self._clock())
        return max(1, round((WAKE_EVERY_S if held_s is None else min(WAKE_EVERY_S, held_s)) * 1000))

    def _take(self, event: pygame.Event) -> bool:
        """One event; tell whether to paint anew. Letting go counts too: a pedal stood on bounces when it comes up."""
        if event.type == ASKED and event.card is not None:
            self.mode.card = event.card
            return True
        now_s = self._clock()
        quiet_s = now_s - self._last_s
        if event.type in LET_GO or event.type == pygame.JOYHATMOTION:
            self._held.release()
            self._last_s = now_s
        action = self._action_of(event)
        if action is not None:
            self._held.release()
            self._last_s = now_s
            return self._act(action, event, quiet_s)
        if event.type == pygame.MOUSEMOTION and self._pointer is not None:
            self._pointer.moved(now_s)
        return event.type in REPAINT

    def _action_of(self, event: pygame.Event) -> AnyAction | None:
        """What an event asks for, whatever it comes from; None: nothing."""
        if event.type in CLOSED:
            return Action.LEAVE
        if event.type == ASKED:
            if event.seen not in (None, self._seen):
                # Somebody else was quicker: what was asked was meant for another stop or question.
                self._late = True
                return None
            if event.pixel is not None:
                return self.light.showing.action_at(event.pixel)
            asked: AnyAction = event.action
            return asked
        if event.type in PRESSED:
            name = pressed_name(event, self._pads)
            return None if name is None else self.mode.action_for(name)
        if event.type == pygame.MOUSEBUTTONDOWN and event.button == 1:
            return self.light.showing.action_at(event.pos)
        return None

    def _act(self, action: AnyAction, event: pygame.Event, quiet_s: float) -> bool:
        if self.watch is not None and self.watch.lost and action is not Action.LEAVE:
            # Nobody sees what it would do while the light is away; only leaving is spoken of in its place.
            return False
        if event.type in PRESSED and action in REPEATING:
            self._held.press(action, self._last_s)
            self._key = getattr(event, "key", 0)
        return self.mode.act(action, quiet_s)

    def _hold_on(self) -> bool:
        """The steps that a key held down has come to; only while the keyboard itself says that it is held."""
        if self._held.action and self._key and not pygame.key.get_pressed()[self._key]:
            self._held.release()
        action, paint = self._held.action, False
        if action is not None:
            for _ in range(self._held.due(self._clock())):
                paint |= self.mode.act(action, 0.0)
        return paint

    def _look_round(self, moved: bool) -> bool:
        """Has the computer slept, is the projector still there? Tell whether to paint anew."""
        now_s = self._clock()
        if self._pointer is not None:
            self._pointer.rest(now_s)
        paint, gap_s = False, self._wakings.slept_s(now_s, self._wall())
        if gap_s:
            paint |= self.mode.interrupted(slept(gap_s))
        if self.watch is not None and (moved or self.watch.lost or now_s - self._looked_s >= WAKE_EVERY_S):
            self._looked_s = now_s
            paint |= self._look_at_the_projector(self.watch)
        return paint

    def _look_at_the_projector(self, watch: Watch) -> bool:
        words, there = watch.words, self._seeing.displays()
        seen = watch.look(there, self.light.has_px)
        if seen in (Seen.LOST, Seen.GONE):
            self._held.release()
        if seen is Seen.GONE and there:
            # On a screen that is still there somebody can read why the light is away.
            self.light.close()
            self.light.open_on(there[0])
        if seen in (Seen.BACK, Seen.MOVED):
            self._put_in_place(watch)
        if seen is Seen.BACK:
            self.mode.interrupted(back(watch.screen.name))
        return watch.words != words or seen is not Seen.NOTHING

    def _put_in_place(self, watch: Watch) -> None:
        """The window made anew on the screen where it belongs, wherever that lies now."""
        self.light.close()
        watch.layout = self._seeing.anew()
        watch.screen = found_again(watch.screen, watch.layout) or watch.screen
        self.light.open_on(watch.screen)

    def _show(self) -> None:
        """The light as it is now, or why it is away."""
        if self.watch is not None and self.watch.lost:
            self.light.say(f"{self.watch.words} {self._how_to_leave()}")
        elif self.watch is None or self.light.has_px == self.light.showing.size_px:
            # A screen that has just been set to another size is looked at before it is painted again.
            self.light.show()
            self._last_s = self._clock()

    def _how_to_leave(self) -> str:
        keys = keys_for(Action.LEAVE, self.mode.keys)
        return f"{keys[0]}, pressed twice, leaves." if keys else ""


def _ask(name: str, seen: int | None = None) -> None:
    """Have an action of that name taken in its turn; of no effect once the windows are closed. Raises UnknownAction.

    ``click X Y`` is a click on that pixel of the window. With ``seen`` it is taken only while the light is at the place
    of that number.
    """
    pixel, action, card = None, None, None
    if name == "card" or name.startswith("card "):
        card = read_card(name.removeprefix("card").strip())
    elif name.startswith("click "):
        try:
            x, y = (int(part) for part in name.split(" ")[1:])
        except ValueError:
            raise UnknownAction(name) from None
        pixel = x, y
    else:
        action = parse(name)
    with contextlib.suppress(pygame.error):
        pygame.event.post(pygame.Event(ASKED, action=action, pixel=pixel, card=card, seen=seen))


class Pointer:
    """Shown as soon as the mouse moves; hidden after a rest, for it would lie on the cloth."""

    def __init__(self) -> None:
        self._moved_s: float | None = None

    def moved(self, now_s: float) -> None:
        """The mouse has moved over the light."""
        pygame.mouse.set_visible(True)
        self._moved_s = now_s

    def rest(self, now_s: float) -> None:
        """Time has passed."""
        if self._moved_s is not None and now_s - self._moved_s >= HIDDEN_AFTER_S:
            pygame.mouse.set_visible(False)
            self._moved_s = None
