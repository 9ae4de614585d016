"""Windows: run a mode on a whole screen, or in an ordinary window."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from projector.session.keys import PAD_KEYS
from projector.session.mode import Mode, Rim, Showing
from projector.session.windows.displays import Display, NoDisplayError, WrongSizeError, chosen, traps
from projector.session.windows.ending import ending
from projector.session.windows.loop import Loop
from projector.session.windows.panes import LightPane, ordinary, whole_screen
from projector.session.windows.screens import screens, video
from projector.session.windows.watch import Watch


def displays() -> tuple[Display, ...]:
    """The screens there are, the first one first; none when there is no screen at all."""
    try:
        with video():
            return screens()
    except NoDisplayError:
        return ()


def run_full_screen(
    make: Callable[[Display], Mode[Any, Any]],
    rim: Rim,
    *,
    pads: Mapping[str, str] = PAD_KEYS,
) -> None:
    """Run a mode on a whole screen at its native size, until it is finished or the system asks to end.

    ``pads`` are the keys that a game controller's buttons stand for. Raises ``DisplayError`` when there is no such
    screen, or when the mode lights another size than the screen has.
    """
    with ending() as asked, video():
        found = screens()
        screen = chosen(found, rim.display)
        mode = make(replace(screen, spoilt=traps(screen, found)))
        if mode.size_px != screen.size_px:
            raise WrongSizeError(mode.size_px, screen)
        light = LightPane(whole_screen("lightchalk", screen), mode, rim.on_frame)
        _run(light, Loop(light, Watch(screen), rim, pads, asked))


def run_in_window(showing: Showing, title: str, rim: Rim, *, pads: Mapping[str, str] = PAD_KEYS) -> None:
    """Run a mode in an ordinary window as large as it is shown, until it is finished or the system asks to end.

    Raises ``DisplayError``.
    """
    with ending() as asked, video():
        light = LightPane(ordinary(title, showing.size_px), showing, rim.on_frame)
        _run(light, Loop(light, None, rim, pads, asked))


def _run(light: LightPane, loop: Loop) -> None:
    try:
        loop.run()
    finally:
        light.close()
