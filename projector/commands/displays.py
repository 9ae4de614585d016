"""``lightchalk displays``: what screens there are."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from projector.commands.shared.errors import InputAtFault

if TYPE_CHECKING:
    from projector.session.windows.displays import Display


@click.command("displays", epilog="Example: lightchalk displays")
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs.")
def command(as_json: bool) -> None:
    """What screens there are.

    Each with the number and the name that calibrate, tape and cut take as --display, and what would spoil the light:
    mirrored displays, a scaled desktop. The one chosen last is marked; it is lit unless another is given.
    """
    from projector.files.settings import settings_or_none, settings_path
    from projector.session.windows.displays import single, traps
    from projector.session.windows.window import displays

    found = displays()
    if as_json:
        last = settings_or_none(settings_path())[0].display
        click.echo(json.dumps([_told(one, last, traps(one, found)) for one in found]))
        return
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


def _told(display: Display, remembered: str, traps: Sequence[str]) -> dict[str, object]:
    size = {"width_px": display.width_px, "height_px": display.height_px}
    chosen = display.name == remembered
    return {"number": display.number, "name": display.name, **size, "chosen_last": chosen, "traps": list(traps)}
