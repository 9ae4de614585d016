"""Light and bench screen together against the light alone, in one run: work at rest, and from a key to its frame.

Two windows are opened on the screen that is found (``DISPLAY``; a dummy one when ``SDL_VIDEODRIVER=dummy``),
1920 x 1080 for the light and 1366 x 768 for the bench screen. At rest: processor time of this process over the time
that passes.
From a key: a thread presses keys at uneven moments, so that some fall while the bench screen is being painted, and the
clock is read when the frame is shown. Half of the presses change the bench screen too.

Run: python -m tests.benchmarks.two_windows [seconds at rest] [presses]
"""

from __future__ import annotations

import random
import sys
import threading
import time
from dataclasses import dataclass, field

import pygame

from projector.session.buttons.beside_cutting import BenchBeside
from projector.session.keys import PAD_KEYS
from projector.session.mode import Rim
from projector.session.windows.loop import Loop
from projector.session.windows.panes import BesidePane, LightPane, ordinary
from projector.session.windows.screens import video
from tests.benchmarks.light_real_stop import at_a_stop, table_of

LIGHT_PX, BENCH_PX = (1920, 1080), (1366, 768)
CHANGING, MOVING = (pygame.K_PAGEDOWN, pygame.K_PAGEUP), (pygame.K_RIGHT, pygame.K_LEFT)
GAPS_S = (0.02, 0.25)
"""Between a frame and the next key: within the bench screen's rest, its painting, and after."""


@dataclass
class Trial:
    """One run of the loop: the light alone or with the bench screen beside it."""

    with_bench: bool
    rest_s: float
    presses: int
    at_rest_percent: float = 0.0
    waited_ms: list[float] = field(default_factory=list)
    painted: int = 0

    def run(self) -> None:
        cutting = at_a_stop(table_of(*LIGHT_PX))
        self.shown = threading.Event()
        light = LightPane(ordinary("light", LIGHT_PX), cutting, lambda frame: self.shown.set())
        second = None
        if self.with_bench:
            second = BesidePane(ordinary("bench", BENCH_PX), BenchBeside(cutting), self._painted)
        loop = Loop(light, second, None, Rim(), PAD_KEYS)
        hands = threading.Thread(target=self._hands, daemon=True)
        hands.start()
        loop.run()
        hands.join()
        for pane in (light, second):
            if pane is not None:
                pane.window.destroy()

    def _painted(self, frame: object) -> None:
        self.painted += 1

    def _hands(self) -> None:
        time.sleep(2.0)
        began, used = time.monotonic(), time.process_time()
        time.sleep(self.rest_s)
        self.at_rest_percent = 100 * (time.process_time() - used) / (time.monotonic() - began)
        chance = random.Random(7)
        for number in range(self.presses):
            key = (CHANGING if number // 2 % 2 else MOVING)[number % 2]
            time.sleep(chance.uniform(*GAPS_S))
            self.shown.clear()
            pressed = time.monotonic()
            pygame.event.post(pygame.Event(pygame.KEYDOWN, key=key, mod=0, unicode=""))
            if self.shown.wait(5.0):
                self.waited_ms.append(1000 * (time.monotonic() - pressed))
            pygame.event.post(pygame.Event(pygame.KEYUP, key=key, mod=0, unicode=""))
        for _ in range(2):
            pygame.event.post(pygame.Event(pygame.QUIT))
            time.sleep(0.5)


def main(rest_s: float = 15.0, presses: int = 80) -> None:
    with video():
        trials = [Trial(with_bench, rest_s, presses) for with_bench in (False, True)]
        for trial in trials:
            trial.run()
    for trial in trials:
        waited = sorted(trial.waited_ms)
        middle, late = waited[len(waited) // 2], waited[int(len(waited) * 0.95)]
        name = "light and bench screen" if trial.with_bench else "light alone"
        print(
            f"{name}: {trial.at_rest_percent:.2f} % of a core at rest; from key to frame {middle:.1f} ms in the "
            f"middle, 19 of 20 within {late:.1f}, at worst {waited[-1]:.1f}; bench screen painted {trial.painted} times"
        )
    alone, both = (sorted(trial.waited_ms)[len(trial.waited_ms) // 2] for trial in trials)
    print(f"with the bench screen the middle frame takes {both / alone:.2f} times as long")


if __name__ == "__main__":
    main(*(kind(word) for kind, word in zip((float, int), sys.argv[1:], strict=False)))
