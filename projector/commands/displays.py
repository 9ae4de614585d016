"""``lightchalk displays``: what screens there are."""

from __future__ import annotations

import click

from projector.commands.errors import InputAtFault


@click.command("displays", epilog="Example: lightchalk displays")
def command() -> None:
    """What screens there are.

    Each with the number that calibrate and cut take as --display.
    """
    from projector.session.window import displays

    found = displays()
    if not found:
        raise InputAtFault("no screen was found; plug the projector in, switch it on and try again")
    for display in found:
        click.echo(f"{display.number}: {display.name}, {display.width_px} x {display.height_px}")
