"""The loop under a dummy driver: held keys, controllers, a sleep, a projector that goes and comes."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

import pygame
import pytest

from projector.session.actions import Action, AnyAction, Typed, written
from projector.session.keys import PAD_KEYS
from projector.session.mode import Pixels, Rim
from projector.session.windows import monitors
from projector.session.windows.displays import Display, DisplayError
from projector.session.windows.ending import Ending
from projector.session.windows.holding import steps_in
from projector.session.windows.loop import HIDDEN_AFTER_S, Loop
from projector.session.windows.panes import LightPane, ordinary
from projector.session.windows.screens import video
from projector.session.windows.watch import Watch
from tests.waiting import HUNG_S

SIZE = (1024, 768)
"""What the dummy driver says its only screen measures."""
LAMP, DESK = Display(1, "lamp", *SIZE), Display(2, "desk", 800, 600, left_px=SIZE[0])


@dataclass
class Counting:
    """A mode that counts what it is asked, in the order of everything that happens; it leaves at once."""

    log: list[str]
    finished: bool = False
    size_px: tuple[int, int] = SIZE

    @property
    def mode(self) -> Counting:
        return self

    @property
    def keys(self) -> dict[str, AnyAction]:
        return {"Esc": Action.LEAVE, "Right": Action.LIGHT_RIGHT}

    def action_for(self, name: str) -> AnyAction:
        return self.keys.get(name, Typed(name))

    def action_at(self, pixel: tuple[int, int]) -> AnyAction:
        return Typed(f"click {pixel}")

    def act(self, action: AnyAction, quiet_s: float) -> bool:
        self.log.append(action.text if isinstance(action, Typed) else written(action))
        self.finished = action is Action.LEAVE
        return not self.log[-1].startswith("click")

    def interrupted(self, why: str) -> bool:
        self.log.append(why)
        return True

    def publish(self) -> dict[str, object]:
        return {}

    def pictures(self) -> object:
        return dict

    def paint(self, pixels: Pixels) -> None:
        self.log.append("light")
        pixels[:] = len(self.log)


@dataclass
class Stage:
    """A loop to be run; ``script`` is called again and again while nothing happens, with how often it was called."""

    log: list[str] = field(default_factory=list)
    screens: list[Display] = field(default_factory=lambda: [LAMP, DESK])
    now_s: float = 0.0
    wall_s: float = 0.0

    told: list[dict[str, object]] = field(default_factory=list)
    ending: Ending = field(default_factory=Ending)

    def open(self, ask: object) -> None: ...

    def close(self) -> None: ...

    def tell(self, state: dict[str, object], draw: object) -> None:
        self.told.append(state)

    def run(self, script: Callable[[int], None], *, watched: bool = True) -> Counting:
        host = Counting(self.log)
        light = LightPane(ordinary("light", SIZE), host, None)
        say = light.say
        light.say = lambda words: (self.log.append(f"said {words}"), say(words))[1]  # type: ignore[method-assign]
        watch = Watch(LAMP) if watched else None
        self.light = light
        turns = 0

        def turn(wait_ms: int) -> pygame.Event:
            nonlocal turns
            waiting = pygame.event.poll()
            if waiting.type == pygame.NOEVENT:
                self.now_s += wait_ms / 1000
                self.wall_s += wait_ms / 1000
                script(turns)
                turns += 1
            return waiting

        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(monitors, "screens", lambda: tuple(self.screens))
            patch.setattr(pygame.event, "wait", turn)
            rim = Rim(link=self, clock=lambda: self.now_s)
            looping = Loop(light, watch, rim, PAD_KEYS, self.ending, lambda: self.wall_s)
            try:
                looping.run()
            finally:
                # A window left to the garbage collector would take another one with it, opened since in its place.
                light.close()
        return host


@pytest.fixture
def stage(monkeypatch: pytest.MonkeyPatch) -> Iterator[Stage]:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    watchdog = threading.Timer(HUNG_S, lambda: pygame.event.post(pygame.Event(pygame.QUIT)))
    watchdog.daemon = True
    watchdog.start()
    with video():
        yield Stage()
    watchdog.cancel()


def press(key: int, typed: str = "") -> None:
    pygame.event.post(pygame.Event(pygame.KEYDOWN, key=key, mod=0, unicode=typed))


def leave() -> None:
    press(pygame.K_ESCAPE)


def acts(*actions: Callable[[], None]) -> Callable[[int], None]:
    """One action after another, three rests between them; then leaving."""
    steps = (*actions, leave)
    return lambda turn: steps[turn // 3 - 1]() if turn % 3 == 0 and 0 < turn // 3 <= len(steps) else None


def test_the_light_is_painted_after_each_action_that_changes_something(stage: Stage) -> None:
    stage.run(acts(lambda: press(pygame.K_n, "n"), lambda: press(pygame.K_x, "x")))
    named = [word for word in stage.log if word in ("N", "X", "light")]
    assert named[named.index("N") :] == ["N", "light", "X", "light"]


def test_at_rest_nothing_is_painted(stage: Stage) -> None:
    stage.run(acts(*[lambda: None] * 10))
    assert stage.log.count("light") <= 2


def test_a_click_goes_to_what_is_shown(stage: Stage) -> None:
    def click() -> None:
        pygame.event.post(pygame.Event(pygame.MOUSEBUTTONDOWN, pos=(30, 20), button=1, window=stage.light.window))

    stage.run(acts(click))
    assert [word for word in stage.log if "click" in word] == ["click (30, 20)"]


def test_a_cross_of_a_controller_held_down_gathers_pace_until_it_is_let_go(stage: Stage) -> None:
    began: list[float] = []

    def hold() -> None:
        began.append(stage.now_s)
        pygame.event.post(pygame.Event(pygame.JOYHATMOTION, value=(1, 0), hat=0, instance_id=0))

    def script(turn: int) -> None:
        if turn == 2:
            hold()
        elif began and stage.now_s - began[0] > 1.2 and len(began) == 1:
            began.append(stage.now_s)
            pygame.event.post(pygame.Event(pygame.JOYHATMOTION, value=(0, 0), hat=0, instance_id=0))
        elif turn == 200:
            leave()

    stage.run(script)
    steps = stage.log.count("light right")
    assert abs(steps - steps_in(began[1] - began[0])) <= 1
    assert steps > 10


def test_buttons_of_a_controller_press_keys(stage: Stage) -> None:
    def button(number: int) -> None:
        pygame.event.post(pygame.Event(pygame.JOYBUTTONDOWN, button=number, instance_id=0))

    stage.run(acts(lambda: button(0), lambda: button(2), lambda: button(20)))
    assert [word for word in stage.log if word in ("PageDown", "B", "Pad21")] == ["PageDown", "B", "Pad21"]


def test_a_sleep_is_told_once(stage: Stage) -> None:
    def sleep() -> None:
        stage.wall_s += 600

    stage.run(acts(sleep, lambda: None, lambda: None))
    told = [word for word in stage.log if word.startswith("The computer stood still")]
    assert told == ["The computer stood still for 10 minutes. Somebody may have touched projector or table meanwhile."]


def test_a_projector_that_is_away_is_told_keys_do_nothing_and_its_light_comes_back(stage: Stage) -> None:
    def unplug() -> None:
        stage.screens.remove(LAMP)
        stage.now_s += 2

    def plug() -> None:
        stage.screens.insert(0, LAMP)
        stage.now_s += 2

    def n() -> None:
        press(pygame.K_n, "n")

    stage.run(acts(unplug, n, plug, n))
    words = "The projector (lamp) is gone. See to its cable and switch it on. What is ticked is kept."
    gone = stage.log.index(f"said {words} Esc, pressed twice, leaves.")
    again = stage.log.index("The projector (lamp) was away and is back. It may have been touched.")
    assert gone < again
    assert not {"N", "light"} & set(stage.log[gone:again])
    assert "N" in stage.log[again:]
    assert "light" in stage.log[again:]
    # Page and phone are told as well, and that it is back.
    told = [state["projector"] for state in stage.told]
    assert [told[0], words, told[-1]] == ["", next(filter(None, told)), ""]


def test_a_laptop_that_is_closed_leaves_the_light_alone(stage: Stage) -> None:
    def closed() -> None:
        stage.screens[:] = [replace(LAMP, left_px=-300)]
        stage.now_s += 2

    def opened() -> None:
        stage.screens[:] = [LAMP, DESK]
        stage.now_s += 2

    def n() -> None:
        press(pygame.K_n, "n")

    stage.run(acts(closed, n, opened, n))
    # No check by two marks: the projector itself was never away.
    assert not [word for word in stage.log if "away" in word or word.startswith("said")]
    assert stage.log.count("N") == 2


def test_asked_by_the_system_it_ends_after_what_is_in_hand_and_asks_nobody(stage: Stage) -> None:
    def ask() -> None:
        press(pygame.K_n, "n")
        press(pygame.K_x, "x")
        stage.ending.asked = True

    host = stage.run(acts(ask, lambda: press(pygame.K_n, "n")))
    assert not host.finished
    assert [word for word in stage.log if word in ("N", "X", "leave")] == ["N", "X"]


def test_while_the_projector_is_away_esc_asks_to_leave(stage: Stage) -> None:
    def unplug() -> None:
        stage.screens.remove(LAMP)
        stage.now_s += 2

    host = stage.run(acts(unplug))
    assert "leave" in stage.log
    assert host.finished


def test_a_screen_set_to_another_size_says_so_and_work_goes_on_when_it_is_set_back(stage: Stage) -> None:
    def set_to(size: tuple[int, int]) -> None:
        stage.screens[0] = replace(LAMP, width_px=size[0], height_px=size[1])
        stage.light.window.size = size
        stage.now_s += 2

    stage.run(acts(lambda: set_to((200, 100)), lambda: press(pygame.K_n, "n"), lambda: set_to(SIZE)))
    small = next(word for word in stage.log if word.startswith("said"))
    assert small.startswith("said The projector (lamp) was set to 200 x 100 pixels. Set it back to 1024 x 768.")
    after = stage.log[stage.log.index(small) :]
    assert "N" not in after
    assert "light" in after


def test_an_ordinary_window_of_another_size_ends_with_words(stage: Stage) -> None:
    def shrink() -> None:
        stage.light.window.size = (200, 100)
        press(pygame.K_x, "x")

    with pytest.raises(DisplayError, match="changed to 200 x 100 pixels while at work"):
        stage.run(acts(shrink), watched=False)


def test_the_arrow_of_the_mouse_is_hidden_when_it_rests(stage: Stage) -> None:
    seen: list[bool] = []

    def move() -> None:
        pygame.event.post(pygame.Event(pygame.MOUSEMOTION, pos=(5, 5), rel=(1, 1), buttons=(0, 0, 0)))

    def look() -> None:
        seen.append(pygame.mouse.get_visible())

    def wait() -> None:
        stage.now_s += HIDDEN_AFTER_S

    stage.run(acts(move, look, wait, look))
    assert seen == [True, False]
