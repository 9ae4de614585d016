"""``lightchalk displays``: what screens there are."""

from __future__ import annotations

import click

from projector.commands.shared.errors import InputAtFault


@click.command("displays", epilog="Example: lightchalk displays")
def command() -> None:
    """What screens there are.

    Each with the number and the name that calibrate, tape and cut take as --display, and what would spoil the light:
    mirrored displays, a scaled desktop. The one chosen last is marked; it is lit unless another is given.
    """
    from projector.files.settings import settings_or_none, settings_path
    from projector.session.windows.displays import single, traps
    from projector.session.windows.window import displays

    found = displays()
    if not found:
        raise InputAtFault("no screen was found; plug the projector in, switch it on and try again")
    remembered, damaged = settings_or_none(settings_path())
    for display in found:
        last = " (chosen last)" if display.name == remembered.display else ""
        click.echo(f"{display.number}: {display.name}, {display.width_px} x {display.height_px}{last}")
    traps_found = (trap for display in found for trap in traps(display, found))
    for notice in (*dict.fromkeys(traps_found), *single(found)):
        click.echo(f"Note: {notice}")
    if damaged:
        click.echo(f"Note: {damaged}")
