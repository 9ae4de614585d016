"""``lightchalk desk``, and ``lightchalk`` without a command: the window for everything."""

from __future__ import annotations

from pathlib import Path

import click

from projector.commands.shared.errors import DONE, WRONG_USAGE, InputAtFault, fault_lines
from projector.commands.shared.options import FILE


@click.command("desk", epilog="Example: lightchalk desk jobs/examples/reading_room.yaml")
@click.argument("job", type=FILE, required=False)
def command(job: Path | None) -> None:
    """The window for everything: a job in a form, its order and pictures, the table.

    Begin or open a job, change its numbers and see how the panels will hang and what to buy as you type; then
    calibrate, practise and cut, each with a click. Works without a projector. The same as lightchalk without a command.
    """
    from projector.desk.opening import NoWindow, open_desk

    try:
        open_desk(job, fault_lines)
    except NoWindow as refused:
        raise InputAtFault(str(refused)) from None


def without_a_command(ctx: click.Context) -> int:
    """Open the window; where there is none, say so and show the help."""
    from projector.desk.opening import NoWindow, open_desk

    try:
        open_desk(None, fault_lines)
    except NoWindow as refused:
        click.echo(ctx.get_help())
        click.echo(f"\nGive one of these commands, for {refused}.", err=True)
        return WRONG_USAGE
    return DONE
