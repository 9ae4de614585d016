"""``lightchalk tape``: lit lengths against a tape."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from jobs.model.records import dataclass
from projector.commands.shared import screen
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import in_words, load_stored
from projector.commands.shared.options import FILE, Length, as_value, units_option

if TYPE_CHECKING:
    from collections.abc import Iterator

    from calibration.marks import TapeCheck
    from calibration.table import Table
    from calibration.tape import TapeResult
    from projector.files.table_file import Stored

CLASSES = {"I": "I", "II": "II", "III": "III", "metal": "metal tape"}


@dataclass(frozen=True)
class Tape:
    """What the tape shows, how true it is and how finely it is read, in inches."""

    units: str
    tape_class: str
    nearest: float


@click.command("tape", epilog="Example: lightchalk tape table.yaml --class II --nearest 1/16")
@click.argument("table", type=FILE)
@click.option("--readings", "readings_file", type=FILE, help="Judge the readings of this file instead of asking.")
@click.option("--display", metavar="SCREEN", help=screen.HELP)
@units_option("What your tape shows.")
@click.option(
    "--class",
    "tape_class",
    type=click.Choice(list(CLASSES)),
    default="II",
    show_default=True,
    help="Accuracy class printed on the tape.",
)
@click.option(
    "--nearest", type=Length(of_units=True), default="1/16 in", show_default=True, help="The step you read the tape to."
)
@click.option("--json", "as_json", is_flag=True, help="Print it for other programs (with --readings).")
@as_value("tape", Tape)
def command(table: Path, readings_file: Path | None, display: str | None, tape: Tape, as_json: bool) -> None:
    """Compare lit lengths with a tape.

    Six lengths are lit one after another: along, across and slantwise. Type what the tape says of each. Every reading
    is held against what the tape may be off, how finely it was read and how far off the light may be; then it is said
    whether to accept the calibration, to measure more, to add marks or to calibrate anew. The proof is kept in the
    table file with its date. A proof that fails is a finding, not an error.
    """
    if as_json and readings_file is None:
        raise click.UsageError("--json needs --readings: at the table the verdict is lit")
    stored = load_stored(table)
    if readings_file is not None:
        proof = _judged(readings_file, stored.table)
        _write(table, stored, proof)
    else:
        kept = _at_the_table(table, stored, display, tape)
        if kept is None:
            click.echo(f"Left without keeping a proof; {table} is as it was.")
            return
        proof = kept
    _say(table, stored.table, proof, tape.units, as_json)


def _judged(path: Path, table: Table) -> TapeCheck:
    from calibration.homography import OutOfReach
    from calibration.problems import ReadingsRefused
    from projector.files.measurements import read_readings
    from projector.session.calibrating.tape_check import check_of
    from projector.words.wording import sentence

    with in_words(path):
        read = read_readings(path)
    try:
        proof = check_of(table, read, date.today().isoformat())
    except ReadingsRefused as refused:
        raise InputAtFault(f"{path}: readings: {sentence(refused.problems[0])}") from None
    except OutOfReach:
        what = "an end of one lies where this light never falls"
        raise InputAtFault(f"{path}: readings: {what}; correct that reading or leave it out") from None
    assert proof is not None
    return proof


def _at_the_table(path: Path, stored: Stored, display: str | None, tape: Tape) -> TapeCheck | None:
    from calibration.homography import OutOfReach
    from calibration.marks import TapeClass
    from jobs.model.choices import Unit
    from projector.commands.shared.light import shared_rim
    from projector.session.calibrating.tape_check import begin_tape_check
    from projector.session.run import run_tape_check
    from projector.session.windows.displays import DisplayError

    try:
        number = screen.screen_for(display, (stored.table.width_px, stored.table.height_px))
        today, kind = date.today().isoformat(), TapeClass(CLASSES[tape.tape_class])
        state = begin_tape_check(stored.table, Unit(tape.units), kind, tape.nearest, today)
        rim = shared_rim("tape", path.name, display=number)
        return run_tape_check(state, lambda check: _write(path, stored, check), rim)
    except DisplayError as fault:
        raise InputAtFault(f"{path}: {fault}") from None
    except OutOfReach:
        raise InputAtFault(f"{path}: this light is too slanting to be proved with a tape; calibrate again") from None


def _write(path: Path, stored: Stored, proof: TapeCheck) -> None:
    from projector.files.table_file import write_stored

    write_stored(path, replace(stored, table=replace(stored.table, tape_check=proof)))


def _say(path: Path, table: Table, proof: TapeCheck, unit: str, as_json: bool) -> None:
    from calibration.tape import judge_tape
    from projector.commands.shared import json_text

    result = judge_tape(table, proof.readings, proof.tape, proof.nearest_in)
    if as_json:
        click.echo(json_text.dump(_document(result, proof)))
        return
    for line in _lines(result, proof, unit):
        click.echo(line)
    click.echo(f"Kept in {path}")


def _document(result: TapeResult, proof: TapeCheck) -> dict[str, Any]:
    from calibration.tape import action_after
    from projector.words.findings import describe_tape

    def stretch(name: str) -> dict[str, Any] | None:
        found = getattr(result, name)
        return {"share": found.share, "uncertainty": found.uncertainty, "matters": found.matters} if found else None

    return {
        "action": action_after(result).value,
        "accepted": proof.accepted,
        "verdict": result.verdict.value,
        "says": describe_tape(result),
        "date": proof.date,
        "tape": proof.tape.value,
        "nearest_in": proof.nearest_in,
        "along": stretch("along"),
        "across": stretch("across"),
        "readings": [
            {
                "from": list(one.reading.start_in),
                "to": list(one.reading.end_in),
                "runs": one.runs,
                "tape_in": one.reading.tape_in,
                "lit_in": one.lit_in,
                "off_in": one.off_in,
                "allowed_in": one.allowed_in,
                "verdict": one.verdict.value,
            }
            for one in result.readings
        ],
    }


def _lines(result: TapeResult, proof: TapeCheck, unit: str) -> Iterator[str]:
    from projector.session.calibrating.tape_check_text import reading_in_words, scale_in_words, tape_in_words
    from projector.words.findings import describe_tape
    from projector.words.measures import format_length

    read_to = format_length(proof.nearest_in, unit)
    yield f"{len(result.readings)} lengths, {tape_in_words(proof.tape)}, read to the nearest {read_to}"
    for number, one in enumerate(result.readings, 1):
        yield f"  {number}  {reading_in_words(one, unit)}"
    yield from scale_in_words(result)
    yield describe_tape(result, unit)
