"""``lightchalk order``: how much cloth to buy."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.model.job import Job
from jobs.model.lengths import show_order
from jobs.model.records import dataclass
from projector.commands.shared.cloths import Where, with_option
from projector.commands.shared.loading import in_words, load_every_cloth, load_job
from projector.commands.shared.options import FILE
from projector.commands.shared.terminal import heading, important
from projector.words.notices import notice_lines

if TYPE_CHECKING:
    from jobs.ordering import Assumed, Order
    from jobs.planning.remedies import Remedy


@click.command("order", epilog="Example: lightchalk order jobs/examples/reading_room.yaml")
@click.argument("job", type=FILE)
@with_option
@click.option("--json", "as_json", is_flag=True, help="Print the order for other programs, lengths in inches.")
def command(job: Where, as_json: bool) -> None:
    """How much cloth to buy, with the arithmetic.

    Two answers are shown and never mixed up: the handbook length, and the guaranteed length, which is the least that
    always suffices wherever in the repeat the mill cut the first end. What is bought is the guaranteed one, rounded up.
    Where the job does not say how its print mirrors, the dearest case is reckoned and what to look for is said.
    Then ways to buy less are compared: rows moved, a panel turned, a smaller hem. Of a job of several cloths each is
    ordered in turn.
    """
    from projector.commands.shared import json_text

    ordered = [_ordered(cloth) for cloth in (load_every_cloth(job) if isinstance(job, Path) else (job,))]
    if as_json:
        click.echo(json_text.dump(json_text.of_orders([(one.taken, one.found, one.less) for one in ordered])))
        return
    for number, one in enumerate(ordered):
        if number:
            click.echo("")
        _show(one)


@dataclass(frozen=True)
class _Ordered:
    """The order of one cloth, as it was read, as it is reckoned, and ways to buy less."""

    read: Job
    taken: Assumed
    found: Order
    less: Sequence[Remedy]


def _ordered(job: Where) -> _Ordered:
    from jobs.ordering import assumed_to_order, order
    from jobs.planning.remedies import savings

    read = load_job(job)
    with in_words(job):
        taken = assumed_to_order(read)
        found = order(taken.resolved)
        return _Ordered(read, taken, found, savings(taken.resolved, found))


def _show(one: _Ordered) -> None:
    from projector.words.arithmetic import order_lines
    from projector.words.told import change_words

    read, taken = one.read, one.taken
    click.echo(heading(f"{read.title}: {read.cloth.name}"))
    for number, step in enumerate(order_lines(taken.resolved, one.found), 1):
        click.echo(f"{number:3}. {step}")
    dearest = ", the dearest case: not all is known of the print" if taken.is_dearest else ""
    click.echo(important(f"To buy: {_bought(read, one.found)}{dearest}"))
    if one.less:
        click.echo(heading("Ways to buy less, each tried by planning with it:"))
    for remedy in one.less:
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
