"""``lightchalk check``: read a job and say what was understood."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import click

from jobs.cutting.cloths import unused_cloths
from jobs.io.reader import read_job
from jobs.model.allowances import Allowances, OwnAllowances
from jobs.model.choices import Hang, Panels, Run, Symmetry, Unit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut
from jobs.model.doubts import doubts
from jobs.model.job import Job
from jobs.model.lengths import show_cut, show_length, show_share
from jobs.model.print import Print, Repeat
from jobs.model.resolved import ResolvedJob, ResolvedWindow
from jobs.model.schema import keys_of
from jobs.model.window import Window
from projector.commands.shared.loading import in_words, load_every_cloth, load_job
from projector.commands.shared.options import FILE
from projector.commands.shared.terminal import headed, heading
from projector.words.arithmetic import panel_lines
from projector.words.notices import notice_lines
from projector.words.pairs import pair_words
from projector.words.wording import called, sentence, where


@click.command("check", epilog="Example: lightchalk check jobs/examples/reading_room.yaml")
@click.argument("job", type=FILE)
def command(job: Path) -> None:
    """Read a job and say what was understood.

    Every problem of the file is named in one go, with its line and column and what to write instead.
    """
    from jobs.ordering import assumed_to_order
    from projector.light.letters import missing

    with in_words(job):
        whole = read_job(job)
    cloths = load_every_cloth(job)
    for number, cloth in enumerate(cloths):
        read = load_job(cloth)
        with in_words(cloth):
            resolved = assumed_to_order(read).resolved
        names = " ".join(window.name for window in read.windows)
        title, *lines = job_lines(resolved, read.cloth.repeat, sorted(missing(names)))
        click.echo(heading(title) if number == 0 else "")
        for line in lines:
            click.echo(headed(line))
    for unused in unused_cloths(whole):
        click.echo(f"Note: nothing is cut from {unused}.")
    for line in doubt_lines(whole):
        click.echo(line)


def job_lines(resolved: ResolvedJob, repeat: Repeat | None, unlit: Sequence[str] = ()) -> Iterator[str]:
    """Lines that say back what the file says, ``repeat`` as it stands there; ``unlit`` are characters that no light can
    write."""
    job = resolved.job
    yield job.title
    yield from _cloth_lines(replace(job, cloth=replace(job.cloth, repeat=repeat)))
    yield f"Allowances: {_sizes(job.allowances, job.unit)}"
    explained: set[Hang] = set()
    for one in resolved.windows:
        yield from _window_lines(job, one.window, one.cuts)
        yield from _pair_lines(job, one, first=one.window.hang not in explained)
        explained |= {one.window.hang} if one.window.panels is Panels.PAIR else set()
    for step in panel_lines(resolved):
        yield f"  {step}"
    if job.table:
        yield f"Table: {show_cut(job.table.length, job.unit)} by {show_cut(job.table.width, job.unit)}"
    for notice in notice_lines(job):
        yield f"Note: {notice}"
    if unlit:
        yield f"Note: these characters cannot be lit and show as an empty box: {' '.join(unlit)}"


def _sizes(allowances: Allowances | OwnAllowances, unit: Unit) -> str:
    said = []
    for key in keys_of(type(allowances)):
        size = getattr(allowances, key.field)
        if isinstance(size, Fraction):
            kind = getattr(allowances, f"{key.field}_kind", None)
            said.append(f"{key.name.replace('_', ' ')} {show_cut(size, unit)}{f' ({kind})' if kind else ''}")
    return ", ".join(said)


def doubt_lines(job: Job) -> Iterator[str]:
    """What is legal in a whole job and hardly meant."""
    for doubt in doubts(job):
        yield f"Look: {where(doubt.path, called(job.windows))}: {sentence(doubt, job.unit)}"


def _cloth_lines(job: Job) -> Iterator[str]:
    cloth = job.cloth
    width = show_cut(cloth.width, job.unit)
    strips = dict.fromkeys(show_cut(strip, job.unit) for strip in (cloth.near_selvedge, cloth.far_selvedge))
    selvedges = f", unprinted selvedges of {' (near) and '.join(strips)}" if any(cloth.selvedges) else ""
    selvedges += " (far)" if len(strips) > 1 else ""
    yield f"Cloth: {cloth.name}, {width} wide{selvedges}"
    yield f"  {_print_words(cloth, job)}"
    if cloth.run is Run.SIDEWAYS:
        yield "  run sideways: the selvedges lie along top and foot, the height of a panel across the cloth"
    if cloth.shrinkage:
        yield f"  shrinks by {show_share(cloth.shrinkage)}"
    for number, piece in enumerate(cloth.pieces, 1):
        length = f"  piece {number}: {show_length(piece.length, job.unit)}"
        row = f", first row {show_cut(piece.first_row, job.unit)} from its first end" if cloth.repeat else ""
        yield length + row
        for flaw in piece.flaws:
            ends = f"from {show_cut(flaw.start, job.unit)} to {show_cut(flaw.end, job.unit)}"
            yield f"    flaw {ends}{f' ({flaw.note})' if flaw.note else ''}"


def _print_words(cloth: Cloth, job: Job) -> str:
    if cloth.repeat is None:
        return "plain: nothing to match"
    repeat = f"repeat {show_length(cloth.repeat.along, job.unit)} along"
    if cloth.repeat.across:
        repeat += f" and {show_length(cloth.repeat.across, job.unit)} across"
    drop = f", drop {cloth.drop} of a repeat" if cloth.drop else ", straight match"
    return f"{repeat}{drop}; {_symmetry_words(cloth.print)}; motif tops towards {_towards(cloth)}"


def _towards(cloth: Cloth) -> str:
    return "the far selvedge" if cloth.run is Run.SIDEWAYS else f"the {cloth.print.top_towards}"


def _symmetry_words(sheet: Print) -> str:
    lines = (("top to bottom", sheet.top_to_bottom), ("side to side", sheet.side_to_side))
    found = [
        f"{'mirrors' if kind is Symmetry.MIRROR else 'mirrors with a slide'} from {direction}"
        for direction, kind in lines
        if kind is not Symmetry.NONE
    ]
    if sheet.half_turn:
        found.append("looks the same after half a turn")
    if sheet.one_way:
        found.append("one way up only")
    return ", ".join(found) or "no mirror line and no half-turn"


def _lies(cut: Cut) -> str:
    return str(cut.way) if cut.top_edge.is_end else f"{cut.way}, TOP towards the {cut.top_edge} selvedge"


def _window_lines(job: Job, window: Window, cuts: Sequence[Cut]) -> Iterator[str]:
    panels = "a pair" if window.panels is Panels.PAIR else f"one {window.panels} panel"
    if window.panels is Panels.WHOLE:
        panels = "one panel for the whole window" if window.made is None else "one panel"
    what = "Window" if window.made is None else window.made.part.capitalize()
    yield f"{what}: {window.name}, {panels}, finished length {show_cut(window.finished_length, job.unit)}"
    if window.allowances is not None:
        yield f"  its own: {_sizes(window.allowances, job.unit)}"
    for cut in cuts:
        row = f", first row {show_cut(cut.row, job.unit)} below its top edge" if cut.row is not None else ""
        which = f"{cut.which}: " if cut.which else ""
        yield f"  {which}cut {show_cut(cut.length, job.unit)}, {_lies(cut)}{row}"


def _pair_lines(job: Job, one: ResolvedWindow, *, first: bool) -> Iterator[str]:
    """How the second panel lies, explained where it is the first pair of its kind."""
    if one.window.panels is not Panels.PAIR or not job.cloth.repeat:
        return
    why, look = pair_words(one.choice, job)
    hang = "a mirrored pair" if one.window.hang is Hang.MIRRORED else "hung the same way"
    yield f"  {hang}: {why}" if first else f"  {hang}"
    if look and first:
        yield f"  look: {look}"
