"""``lightchalk cut``: the session at the table."""

from __future__ import annotations

import sys
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jobs.model.records import dataclass
from projector.commands.shared import screen
from projector.commands.shared.cloths import OneCloth, Where, light_beside, record_path, with_cloth, with_option
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import in_words, load_every_cloth, load_job, load_stored, refuse_unanswered
from projector.commands.shared.options import FILE, as_value
from projector.commands.shared.planned import fitting, load_going_on, load_practice_plan, on_cloth
from projector.commands.shared.recording import keep_plan, open_record
from projector.words.notices import notice_lines
from projector.words.told import note_lines

if TYPE_CHECKING:
    from jobs.journal.file import JournalFile
    from jobs.model.plan import Plan
    from jobs.planning.going_on import GoneOn
    from projector.files.settings import LightSettings
    from projector.files.table_file import Stored
    from projector.session.keys import Keys

MOST_SAID = 3
"""More notes would not be read in the light."""
TORN = "The record of cuts ended in a torn or spoilt line, as after a power cut; look whether the last cut is ticked."


@dataclass(frozen=True)
class How:
    """On which screen, with which keys, and whether it can be heard."""

    display: str | None
    keys_file: Path | None
    sound: bool


@click.command("cut", epilog="Example: lightchalk cut jobs/examples/reading_room.yaml --table table.yaml")
@click.argument("job", type=FILE)
@with_option
@click.option("--table", "table_file", type=FILE, help="The table file that calibrate wrote.")
@click.option("--display", metavar="SCREEN", help=screen.HELP)
@click.option("--simulated", is_flag=True, help="Practise in an ordinary window; nothing is recorded.")
@click.option("--as-it-lies", is_flag=True, help="With --simulated: cloth 1 % long, skewed and bowed, laid aslant.")
@click.option("--keys", "keys_file", type=FILE, help="A keys file: which key asks for what.")
@click.option("--sound", is_flag=True, help="Let ticks, what is taken back and refused presses be heard.")
@as_value("how", How)
def command(job: Where, table_file: Path | None, simulated: bool, as_it_lies: bool, how: How) -> None:
    """Light the cuts of a job on the table, one after another.

    First two marks are lit to see whether anything has moved since the calibration; where they miss, the light can be
    moved onto them. L fits the light to the print as it lies. Space or PageDown goes on, Enter says that a cut is done,
    H shows all keys. A cut line that may be farther off than the job's tolerance is lit broken and says how far.

    Each tick is written to a record beside the job file at once, so that leaving or a power cut loses nothing; the next
    session goes on from there. A job of several cloths is cut one cloth at a time, each with a record of its own:
    --cloth says which lies on the table, else it is asked.
    """
    if simulated == (table_file is not None):
        raise click.UsageError("give --table with the table file that calibrate wrote, or --simulated to practise")
    if as_it_lies and not simulated:
        raise click.UsageError("--as-it-lies is for --simulated: on your table the cloth lies as it does")
    keys = _keys(how.keys_file)
    job = _on_the_table(job)
    refuse_unanswered(job)
    if table_file is None:
        _practise(job, as_it_lies, keys, how.sound)
    else:
        _cut(job, table_file, keys, how)


def _on_the_table(job: Where) -> Where:
    """The cloth that lies on the table: asked for where the job has several and a person sits at the terminal."""
    cloths = load_every_cloth(job) if isinstance(job, Path) else ()
    if len(cloths) < 2 or not sys.stdin.isatty():
        return job
    names = [one.name for one in cloths if isinstance(one, OneCloth)]
    for number, name in enumerate(names, 1):
        click.echo(f"{number}. {name}")
    number = click.prompt("Which cloth lies on the table?", type=click.IntRange(1, len(names)))
    return cloths[number - 1]


def _keys(keys_file: Path | None) -> Keys:
    from projector.session.keys import DEFAULT_KEYS, keys_from

    if keys_file is None:
        return DEFAULT_KEYS
    with in_words(keys_file):
        return keys_from(keys_file)


def _practise(job: Where, as_it_really_lies: bool, keys: Keys, sound: bool) -> None:
    from projector.commands.shared.practice import as_it_lies, match_lines, run_on_demo_table
    from projector.demo.setup import demo_setup
    from projector.session.windows.displays import DisplayError

    with in_words(job):
        demo = demo_setup(load_job(job), date=date.today().isoformat())
    plan = load_practice_plan(job, demo.table)
    for notice in (*notice_lines(plan.job), *_room(plan)):
        click.echo(f"Note: {notice}")
    try:
        lies = as_it_lies(as_it_really_lies)
        session = run_on_demo_table(plan, demo, lies, keys, sound=sound)
    except DisplayError as fault:
        raise InputAtFault(str(fault)) from None
    for line in match_lines(plan, session, lies):
        click.echo(line)
    click.echo("That was practice on the simulated table: no cut was recorded.")


def _room(plan: Plan) -> tuple[str, ...]:
    """What is to be said of the room's light, if anything."""
    from projector.session.cutting.doubts import room_of_job

    notice = room_of_job(plan.job)
    return (notice,) if notice else ()


def _cut(job: Where, table_file: Path, keys: Keys, how: How) -> None:
    from projector.files.table_file import SIMULATED

    stored = load_stored(table_file)
    if stored.display == SIMULATED:
        raise InputAtFault(f"{table_file}: it was practised on the simulated table, and is true of no other; calibrate")
    sitting = _Sitting(job, stored, table_file, keys, how.sound)
    sitting.tell_of_light()
    number: int | None = None
    again = True
    while again:
        with open_record(job) as journal:
            begun = fitting(job, load_going_on(job, journal.events, stored.table))
            if number is None:
                sitting.tell_of(begun)
                number = _screen(table_file, stored, how.display)
            keep_plan(job, journal, begun)
            # The person may have the plan made anew with the repeat as measured, before the first cut.
            again = sitting.cut(journal, begun, number)
    click.echo(f"The record of cuts is kept in {record_path(job)}. See it with: lightchalk status {with_cloth(job)}")


def _screen(table_file: Path, stored: Stored, display: str | None) -> int:
    from projector.session.windows.displays import DisplayError

    try:
        return screen.screen_for(display, (stored.table.width_px, stored.table.height_px))
    except DisplayError as fault:
        raise InputAtFault(f"{table_file}: {fault}") from None


@dataclass(frozen=True)
class _Sitting:
    """What stays the same over the sessions of one command."""

    job: Where
    stored: Stored
    table_file: Path
    keys: Keys
    sound: bool

    def tell_of_light(self) -> None:
        """Say so where the remembered light of the job is damaged."""
        if damaged := self._light()[1]:
            click.echo(f"Note: {damaged}")

    def tell_of(self, begun: GoneOn) -> None:
        """Say what is to be known before anything is lit."""
        from projector.session.cutting.doubts import height_in_words, notices_of

        of = begun.plan.job
        height = height_in_words(self.stored.table, of.cloth, of.unit.value)
        calibrated = notices_of(self.stored, date.today())
        notes = (*note_lines(begun.notes, of.unit), *calibrated, *([height] if height else []), *_room(begun.plan))
        for notice in (*notice_lines(of), *notes):
            click.echo(f"Note: {notice}")

    def cut(self, journal: JournalFile, begun: GoneOn, display: int) -> bool:
        """One session at the table; whether it ended so that the plan can be made anew."""
        from jobs.journal.events import measured_repeat, since_replanned
        from jobs.journal.placed import fingerprint
        from projector.commands.shared.light import shared_rim
        from projector.scene.lit_stretch import reach_across
        from projector.session.cutting.begin import Before
        from projector.session.cutting.journal import confirmed_in, recording_in, registered_in
        from projector.session.cutting.light import keep_light, light_of
        from projector.session.cutting.state import setup_of
        from projector.session.run import run_cutting
        from projector.session.windows.displays import DisplayError

        plan, notes = begun.plan, note_lines(begun.notes, begun.plan.job.unit)
        lines = notes[:MOST_SAID]
        if len(notes) > MOST_SAID:
            lines = (*lines, f"{len(notes) - MOST_SAID} more notes: lightchalk status tells them.")
        table = on_cloth(self.job, self.stored.table, plan.job)
        if journal.torn:
            lines = (TORN, *lines)
            click.echo(TORN)
        events, mark = since_replanned(journal.events), fingerprint(plan)
        setup = setup_of(plan, table, self.keys, reach_across(plan.job, table.lit_area()))
        before = Before(
            done=begun.done,
            registered=registered_in(events, setup.lattices, mark),
            ways=confirmed_in(events, mark),
            light=light_of(self._light()[0]),
            made_anew=measured_repeat(journal.events) is not None,
            said=lines,
        )
        try:
            session = run_cutting(
                setup,
                recording_in(journal, plan, begun),
                before,
                stored=self.stored,
                keep_light=partial(keep_light, light_beside(self.job)),
                rim=shared_rim("cutting", plan.job.title, display=display, sound=self.sound),
            )
        except DisplayError as fault:
            raise InputAtFault(f"{self.table_file}: {fault}") from None
        if journal.put_back:
            click.echo("The record of cuts was taken away while you were at work; it was written anew, whole.")
        return session.replanned is not None or session.as_before

    def _light(self) -> tuple[LightSettings, str]:
        from projector.files.settings import light_or_usual
        from projector.session.cutting.light import LAYER_NAMES

        return light_or_usual(light_beside(self.job), LAYER_NAMES)
