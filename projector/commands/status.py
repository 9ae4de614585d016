"""``lightchalk status``: which cuts are done, which is next."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from jobs.model.choices import Unit
from jobs.model.lengths import show_length
from jobs.model.numbers import counted
from jobs.model.records import dataclass
from projector.commands.shared.cloths import Where, file_of, with_option
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.options import FILE
from projector.commands.shared.planned import fitting, load_going_on
from projector.commands.shared.terminal import heading, important
from projector.words.told import note_lines

if TYPE_CHECKING:
    from jobs.journal.events import Journal
    from jobs.journal.history import History
    from jobs.journal.placed import Recorded
    from jobs.model.cuts import Cut


@click.command("status", epilog="Example: lightchalk status jobs/examples/reading_room.yaml")
@click.argument("job", type=FILE)
@with_option
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs.")
@click.option("--mend", is_flag=True, help="First write a damaged record anew from all lines that can be read.")
@click.option(
    "--cut-anew", metavar="CUT", help="First keep what is cut for CUT as a spare: it is planned and cut anew."
)
def command(job: Where, as_json: bool, mend: bool, cut_anew: str | None) -> None:
    """Which cuts are done and which is next.

    It is read from the record that a session keeps beside the job file, which holds where each cut lies. Where lines of
    it are damaged, all that the others tell is shown; look at the cloth before you --mend it. The record as it was is
    kept beside it.
    """
    from jobs.journal.history import history_of
    from projector.commands.shared import json_text
    from projector.commands.shared.recording import damage_in_words, give_up, mend_record, record_of

    if mend and record_of(job).damaged:
        click.echo(f"The record is written anew; as it was it is kept in {mend_record(job)}", err=as_json)
    if cut_anew is not None:
        give_up(job, cut_anew)
    record = record_of(job)
    history = history_of(record.events)
    found, faults = _found(job, record, history)
    click.echo(json_text.dump(_document(found, record)) if as_json else _text(found, record))
    if record.damaged or faults:
        raise InputAtFault(*damage_in_words(job, record), *faults)


@dataclass(frozen=True)
class _Found:
    """How far a job is: cuts done as the record has them, those to do (None: not known, for the job does not say)."""

    title: str
    unit: Unit
    done: tuple[tuple[str, Recorded | None], ...]
    to_do: tuple[Cut, ...] | None
    spares: tuple[Recorded, ...] = ()
    notes: tuple[str, ...] = ()


def _found(job: Where, record: Journal, history: History) -> tuple[_Found, tuple[str, ...]]:
    """What is known of the job, and why that is not all; with nothing cut the latter alone is told."""
    from jobs.journal.placed import recorded

    try:
        begun = fitting(job, load_going_on(job, record.events))
    except InputAtFault as fault:
        if not history.is_begun:
            raise
        places = {one.cut: one.placed for one in history.made}
        spares = tuple(one.placed for one in history.spares if one.placed)
        return _Found(file_of(job).stem, Unit.INCH, tuple(places.items()), None, spares), fault.lines
    plan = begun.plan
    known = {placed.cut.id: recorded(placed, plan.job.cloth) for placed in plan.placements}
    to_do = tuple(p.cut for p in plan.placements if p.cut in plan.cuts and p.cut.id not in begun.done)
    ours = {cut.id for cut in plan.cuts}
    spares = tuple(placed for name, placed in known.items() if name not in ours)
    done = tuple((cut, known[cut]) for cut in begun.done)
    return _Found(plan.job.title, plan.job.unit, done, to_do, spares, note_lines(begun.notes, plan.job.unit)), ()


def _document(found: _Found, record: Journal) -> dict[str, Any]:
    to_do = found.to_do or ()
    return {
        "job": found.title,
        "done": [cut for cut, _ in found.done],
        "next": to_do[0].id if to_do else None,
        "left": [cut.id for cut in to_do],
        "places": [_place(placed) for _, placed in found.done if placed is not None],
        "spares": [_place(placed) for placed in found.spares],
        "notes": list(found.notes),
        "torn": record.torn,
        "damaged": [{"line": bad.line, "what": bad.what} for bad in record.damaged],
    }


def _place(placed: Recorded) -> dict[str, Any]:
    return {
        "id": placed.id,
        "window": placed.window,
        "hand": placed.hand.value,
        "number": placed.number,
        "of": placed.of,
        "piece": placed.piece,
        "start_in": float(placed.start),
        "end_in": float(placed.end),
    }


def _text(found: _Found, record: Journal) -> str:
    count = len(found.done) + len(found.to_do or ())
    of = f"{len(found.done)} of {counted(count, 'cut')}" if found.to_do is not None else counted(count, "cut")
    lines = [heading(f"{found.title}: {of} done")]
    lines += [f"  done   {_named(placed) if placed else cut}{_where(placed, found.unit)}" for cut, placed in found.done]
    for position, cut in enumerate(found.to_do or ()):
        line = f"  {'next ' if position == 0 else 'to do'}  {_named(cut)}"
        lines.append(important(line) if position == 0 else line)
    lines += [f"  spare  {_named(placed)}{_where(placed, found.unit)}" for placed in found.spares]
    lines += [f"Note: {note}" for note in found.notes]
    if record.torn:
        lines.append("The record ends in a torn line, as after a power cut: look whether the last cut is ticked.")
    return "\n".join(lines)


def _named(cut: Cut | Recorded) -> str:
    from jobs.model.cuts import name_of_cut

    return name_of_cut(cut.window, cut.hand, cut.number, cut.of)


def _where(placed: Recorded | None, unit: Unit) -> str:
    if placed is None:
        return ""
    start, end = show_length(placed.start, unit), show_length(placed.end, unit)
    return f": piece {placed.piece}, from {start} to {end}"
