"""The command ``lightchalk``: a list of commands loaded only when used, and the one error boundary."""

from __future__ import annotations

import sys
from importlib import import_module
from typing import TYPE_CHECKING

import click

from projector.commands.shared.errors import report

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

# Name -> the line shown in the list. Kept here so that the list is shown without importing a single command.
COMMANDS = {
    "open": "The page for everything: a job in a form, its order and pictures, the table.",
    "demo": "See a pair cut on a simulated table; no projector needed.",
    "new": "Ask the questions of a job one by one and write the file.",
    "check": "Read a job and say what was understood.",
    "order": "How much cloth to buy, with the arithmetic.",
    "plan": "Where each cut lies on the piece, the pulls and the leftovers.",
    "calibrate": "Teach the projector where the inches of the table are.",
    "table": "What a calibration says: pixels, inches, expected error.",
    "lay": "Fit the light to the print as it really lies: repeat, turn, skew, bow, verdict.",
    "colours": "Which colours of light show best on the cloth of a job, with the numbers.",
    "tape": "Compare lit lengths with a tape.",
    "cut": "Light the cuts of a job on the table, one after another.",
    "status": "Which cuts are done and which is next.",
    "picture": "A picture of the frame, the table, the cloth or the pair as hung.",
    "sheet": "The cut sheet to pin above the table, and a tag for the top of each cut.",
    "export": "The plan as CSV, or the lines of a stop as DXF.",
    "measure": "Repeat, drop and symmetry of a print from a photograph.",
    "displays": "What screens there are.",
}


class LazyCommands(click.Group):
    """A click group whose commands live in modules of the same name, imported when asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"projector.commands.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does; a name there is none of is answered with the one that was meant."""
        name = args[0]
        if name in COMMANDS or name.startswith("-"):
            return super().resolve_command(ctx, args)
        from difflib import get_close_matches

        if name.endswith((".yaml", ".yml")):
            raise click.UsageError(
                f"{name} is no command; say what to do with it, such as: lightchalk check {name}", ctx
            )
        near = get_close_matches(name, COMMANDS, 1)
        meant = f"did you mean {near[0]}?" if near else "lightchalk --help lists them."
        raise click.UsageError(f"There is no command {name}; {meant}", ctx)

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """The commands that begin so, without importing any; options as click finds them."""
        from click.shell_completion import CompletionItem

        found = [CompletionItem(name, help=words) for name, words in COMMANDS.items() if name.startswith(incomplete)]
        return found + click.Command.shell_complete(self, ctx, incomplete)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(
    cls=LazyCommands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Begin with: lightchalk demo",
)
@click.version_option(package_name="lightchalk", message="%(prog)s %(version)s")
@click.pass_context
def lightchalk(ctx: click.Context) -> int | None:
    """Light a cutting table through a projector, so that patterned curtain cloth is cut without chalk.

    Plan the cuts of a job, calibrate the projector from four marked points, then let the light show every cut line,
    row and TOP on the cloth at full size. Without a command a page opens in the browser in which all of it is done.
    """
    if ctx.invoked_subcommand is not None:
        return None
    from projector.commands.open import open_page

    open_page(None)
    return None


def run() -> None:
    """Entry point of the console command: run it, and turn every failure into words and an exit code."""
    sys.exit(report(lambda: lightchalk(prog_name="lightchalk", standalone_mode=False)))


if __name__ == "__main__":
    run()
