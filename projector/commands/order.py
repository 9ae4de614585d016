"""``lightchalk order``: how much cloth to buy."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.model.job import Job
from jobs.model.lengths import show_order
from projector.commands.shared.loading import in_words, load_job
from projector.commands.shared.options import FILE
from projector.commands.shared.terminal import heading, important
from projector.words.notices import notice_lines

if TYPE_CHECKING:
    from jobs.ordering import Order


@click.command("order", epilog="Example: lightchalk order jobs/examples/reading_room.yaml")
@click.argument("job", type=FILE)
@click.option("--json", "as_json", is_flag=True, help="Print the order for other programs, lengths in inches.")
def command(job: Path, as_json: bool) -> None:
    """How much cloth to buy, with the arithmetic.

    Two answers are shown and never mixed up: the handbook length, and the guaranteed length, which is the least that
    always suffices wherever in the repeat the mill cut the first end. What is bought is the guaranteed one, rounded up.
    Where the job does not say how its print mirrors, the dearest case is reckoned and what to look for is said.
    Then ways to buy less are compared: rows moved, a panel turned, a smaller hem.
    """
    from jobs.ordering import assumed, order
    from jobs.planning.remedies import savings
    from projector.words.arithmetic import order_lines
    from projector.words.told import change_words

    read = load_job(job)
    with in_words(job):
        taken = assumed(read)
        found = order(taken.resolved)
        less = savings(taken.resolved, found)
    if as_json:
        from projector.commands.shared import json_text

        click.echo(json_text.dump(json_text.of_order(taken, found, less)))
        return
    click.echo(heading(f"{read.title}: {read.cloth.name}"))
    for number, step in enumerate(order_lines(taken.resolved, found), 1):
        click.echo(f"{number:3}. {step}")
    dearest = ", the dearest case: not all is known of the print" if taken.taken else ""
    click.echo(important(f"To buy: {_bought(read, found)}{dearest}"))
    if less:
        click.echo(heading("Ways to buy less, each tried by planning with it:"))
    for remedy in less:
        saves = show_order(remedy.saves, read.unit, read.cloth.sold_by)
        click.echo(f"  {saves} less: {change_words(remedy.change, read.unit)}")
    for notice in notice_lines(taken.job):
        click.echo(f"Note: {notice}")


def _bought(job: Job, found: Order) -> str:
    """What is asked for in the shop, piece by piece where there are several."""
    text = show_order(found.buy, job.unit, job.cloth.sold_by)
    if len(found.pieces) < 2:
        return text
    each = " + ".join(show_order(piece, job.unit, job.cloth.sold_by) for piece in found.pieces)
    return f"{text}, in {len(found.pieces)} pieces of one dye lot: {each}"
