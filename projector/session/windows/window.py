"""Windows: run a host on a whole screen, with another beside it, or in an ordinary window."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import replace

from projector.session.host import Beside, Host, Link
from projector.session.keys import PAD_KEYS
from projector.session.windows.displays import Display, NoDisplayError, WrongSizeError, beside, chosen, traps
from projector.session.windows.loop import Clock, Loop
from projector.session.windows.panes import BesidePane, LightPane, OnFrame, ordinary, whole_screen
from projector.session.windows.screens import screens, video
from projector.session.windows.watch import Watch

__all__ = ["Clock", "OnFrame", "displays", "run_full_screen", "run_in_window"]


def displays() -> tuple[Display, ...]:
    """The screens there are, the first one first; none when there is no screen at all."""
    try:
        with video():
            return screens()
    except NoDisplayError:
        return ()


def run_full_screen(
    make: Callable[[Display], Host],
    *,
    display: int | str | None = None,
    make_beside: Callable[[Host], Beside] | None = None,
    pads: Mapping[str, str] = PAD_KEYS,
    on_frame: OnFrame | None = None,
    on_beside: OnFrame | None = None,
    clock: Clock = time.monotonic,
    link: Link | None = None,
) -> None:
    """Run a host on a whole screen at its native size, until it is finished.

    ``display`` is a number from 1 or a name (None: the last). Where there is another screen, ``make_beside`` makes what
    stands on that. ``pads`` are the keys that a game controller's buttons stand for, ``link`` is
    who sees and asks from elsewhere. Raises ``DisplayError`` when there
    is no such screen, or when the host paints another size than the screen has.
    """
    with video():
        found = screens()
        screen = chosen(found, display)
        host = make(replace(screen, spoilt=traps(screen, found)))
        if host.size_px != screen.size_px:
            raise WrongSizeError(host.size_px, screen)
        other = beside(screen, found) if make_beside is not None else None
        second = None
        if other is not None and make_beside is not None:
            second = BesidePane(whole_screen("lightchalk: bench", other), make_beside(host), on_beside)
        try:
            light = LightPane(whole_screen("lightchalk", screen), host, on_frame)
            _run(light, Loop(light, second, Watch(screen), clock, pads, link=link))
        finally:
            if second is not None:
                second.close()


def run_in_window(
    host: Host,
    title: str,
    *,
    pads: Mapping[str, str] = PAD_KEYS,
    on_frame: OnFrame | None = None,
    clock: Clock = time.monotonic,
    link: Link | None = None,
) -> None:
    """Run a host in an ordinary window of its own size, until it is finished. Raises ``DisplayError``."""
    with video():
        light = LightPane(ordinary(title, host.size_px), host, on_frame)
        _run(light, Loop(light, None, None, clock, pads, link=link))


def _run(light: LightPane, loop: Loop) -> None:
    try:
        loop.run()
    finally:
        light.close()
