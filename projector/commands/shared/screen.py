"""Which screen the projector is: the one given, else the one given last time, else the last one plugged in."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from projector.session.windows.displays import Display


HELP = "Which screen the projector is, by number or name (see: lightchalk displays). Remembered."


def screen_for(wanted: str | None, frame_px: tuple[int, int] | None = None) -> int:
    """The number of the screen to light, after saying what the person should know of it.

    ``wanted`` is a number or a name, which is then remembered, unless the screen has other pixels than the calibration
    (``frame_px``) and so cannot be the one; None: as remembered. Raises ``DisplayError``.
    """
    from projector.session.windows.displays import chosen, single, traps
    from projector.session.windows.window import displays

    found = displays()
    if wanted is None:
        screen = _as_remembered(found)
    else:
        screen = chosen(found, int(wanted) if wanted.strip().isdecimal() and len(wanted) < 10 else wanted)
        if frame_px in (None, screen.size_px):
            _remember(screen)
    for notice in (*traps(screen, found), *single(found)):
        click.echo(f"Note: {notice}")
    return screen.number


def _as_remembered(found: tuple[Display, ...]) -> Display:
    from projector.files.settings import settings_or_none, settings_path
    from projector.session.windows.displays import chosen

    settings, damaged = settings_or_none(settings_path())
    if damaged:
        click.echo(f"Note: {damaged}")
    last = chosen(found, None)
    if not settings.display:
        return last
    again = next((one for one in found if one.name == settings.display), None)
    if again is None:
        click.echo(
            f"Note: the screen chosen last time ({settings.display}) is not there, so screen {last.number} "
            f"({last.name}) is lit. Choose another with --display."
        )
    return again or last


def _remember(screen: Display) -> None:
    from projector.files.settings import Settings, settings_or_none, settings_path, write_settings
    from projector.files.write import CannotWrite

    path = settings_path()
    settings, damaged = settings_or_none(path)
    if settings.display == screen.name:
        return
    try:
        write_settings(path, replace(Settings() if damaged else settings, display=screen.name))
    except CannotWrite as fault:
        click.echo(f"Note: the choice of screen could not be remembered: {fault}")
