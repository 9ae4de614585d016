"""``lightchalk open``, and ``lightchalk`` without a command: the page in a browser."""

from __future__ import annotations

from pathlib import Path

import click

from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.options import FILE


@click.command("open", epilog="Example: lightchalk open jobs/examples/reading_room.yaml")
@click.argument("job", type=FILE, required=False)
@click.option("--no-browser", is_flag=True, help="Only say the address; open it yourself.")
@click.option("--port", type=int, default=0, help="The port to serve on; a free one unless given.")
def command(job: Path | None, no_browser: bool, port: int) -> None:
    """The page for everything: a job in a form, its order and pictures, the table.

    It opens in the browser of this computer; nothing else can reach it but a phone that you let in. Begin or open a
    job, change its numbers and see how the panels will hang and what to buy as you type; then calibrate, practise and
    cut. It works without a projector, and ends a while after its last page was closed, or with Ctrl-C. The same as
    lightchalk without a command.
    """
    open_page(job, browser=not no_browser, port=port)


def open_page(job: Path | None, *, browser: bool = True, port: int = 0) -> None:
    """Serve the page of the folder of this job, or of the folder the person is in."""
    from projector.page.kept import state_folder
    from projector.page.server.serving import NoPort, serve

    if job is not None:
        from jobs.io.source import read_text
        from projector.commands.shared.loading import in_words
        from projector.page.form.values import values_of

        with in_words(job):
            values_of(read_text(job), str(job))
    folder = job.resolve().parent if job is not None else Path.cwd()

    def on_progress(address: str) -> None:
        click.echo(f"The page: {address}\nIt is for this computer alone. Leave this running; Ctrl-C ends it.")

    try:
        serve(folder, state_folder(), job.resolve().name if job is not None else None, port, browser, on_progress)
    except NoPort as refused:
        raise InputAtFault(str(refused)) from None
