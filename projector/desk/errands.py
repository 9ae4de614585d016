"""What the window has other processes do: calibrate, cut, write papers; and what came of it, in words."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from jobs.job import Unit

MAIN = "projector.commands.main"


@dataclass(frozen=True)
class Errand:
    """A command of the program with its words, what it is ``called`` and what is said while it ``runs``."""

    words: tuple[str, ...]
    called: str
    runs: str


@dataclass(frozen=True)
class Outcome:
    """How an errand ended: whether all went ``well``, a heading and the lines that the command said."""

    well: bool
    heading: str
    lines: tuple[str, ...]
    out: str = ""


def calibrate(table: Path, unit: Unit, display: int | None) -> Errand:
    """Calibrate the projector on this screen, or practise on the simulated table where there is none."""
    where = ("--simulated",) if display is None else ("--display", str(display))
    words = ("calibrate", str(table), "--units", unit.value, *where)
    return Errand(words, "Calibration", "The calibration is open in its own window.")


def cut(job: Path, table: Path | None, display: int | None) -> Errand:
    """Cut with the calibration of this table file, or practise on the simulated table where there is none."""
    if table is None:
        return Errand(("cut", str(job), "--simulated"), "Practice", "The simulated table is open in its own window.")
    on = ("--display", str(display)) if display is not None else ()
    return Errand(("cut", str(job), "--table", str(table), *on), "Cutting", "The light is on: cutting is going on.")


def status(job: Path) -> Errand:
    """Which cuts are done and which is next."""
    return Errand(("status", str(job)), "Record of cuts", "The record of cuts is being read.")


def sheet(job: Path, out: Path, unit: Unit) -> Errand:
    """The cut sheet and tags, on the paper that goes with the unit."""
    paper = "letter" if unit is Unit.INCH else "a4"
    return Errand(("sheet", str(job), "--out", str(out), "--paper", paper), "Cut sheet", "The cut sheet is being made.")


def picture(job: Path, out: Path, of: str) -> Errand:
    """A picture of the windows as hung, or of the cloth with its cuts."""
    return Errand(("picture", str(job), "--of", of, "--out", str(out)), "Picture", "The picture is being made.")


def photo(path: Path, points: list[tuple[float, float]], distance: str) -> Errand:
    """The print measured from a photograph, the scale by two points of it."""
    places = [f"{x:.2f},{y:.2f}" for x, y in points]
    words = ("measure", str(path), "--points", *places, "--distance", distance, "--json")
    return Errand(words, "Measuring", "The print is being measured.")


SCREENS = Errand(("displays",), "Screens", "Looking for a projector.")


def outcome(errand: Errand, code: int, out: str, err: str, hidden: tuple[Path, ...] = ()) -> Outcome:
    """What came of it, for a person; names of the ``hidden`` files, which the person never chose, are left out."""
    said = [line for line in (*out.splitlines(), *err.splitlines()) if line.strip()]
    for path in hidden:
        said = [line.replace(f"{path}: ", "").replace(str(path), "this job") for line in said]
    if code == 0:
        return Outcome(True, f"{errand.called}: done", tuple(said), out)
    headings = {
        1: f"{errand.called}: it could not be done",
        130: f"{errand.called}: it was stopped",
    }
    heading = headings.get(code, f"{errand.called}: the program itself went wrong")
    return Outcome(False, heading, tuple(said) or (f"It ended with code {code}.",), out)


def with_record(cutting: Outcome, record: Outcome) -> Outcome:
    """What came of cutting, and in place of the command that would show it what is cut by now."""
    told = [line.partition(" See it with: ")[0] for line in cutting.lines]
    return replace(cutting, lines=(*told, "", *record.lines))


def screens(outcome: Outcome) -> list[tuple[int, str]]:
    """The screens that ``displays`` found: number and description."""
    found = []
    for line in outcome.out.splitlines() if outcome.well else ():
        number, _, words = line.partition(": ")
        if number.isdigit():
            found.append((int(number), words))
    return found


@dataclass(frozen=True)
class Measured:
    """A print measured from a photograph: values for the fields of the form, and what a person should know."""

    values: tuple[tuple[tuple[str, ...], str], ...]
    lines: tuple[str, ...]


def measured(said: str, unit: Unit, scale_doubt: float = 0.0) -> Measured:
    """What ``measure --json`` found, in the unit of the job, rounded to a hundredth of an inch or half a millimetre.

    ``scale_doubt`` is the share by which the scale itself may be out, which the measuring cannot know.
    """
    found: dict[str, Any] = json.loads(said)
    along, across = (_in(found[key], unit) for key in ("along_in", "across_in"))
    drop = Fraction(found["drop"]).limit_denominator(12) % 1
    symmetry = found["symmetry"]
    half = "yes" if symmetry["half_turn"] else "no"
    values = (
        (("cloth", "repeat", "along"), along),
        (("cloth", "repeat", "across"), across),
        (("cloth", "drop"), str(drop)),
        (("cloth", "print", "top_to_bottom"), symmetry["top_to_bottom"]),
        (("cloth", "print", "side_to_side"), symmetry["side_to_side"]),
        (("cloth", "print", "half_turn"), half),
    )
    scale_in = scale_doubt * max(found["along_in"], found["across_in"])
    doubt_in = math.hypot(2 * max(found["along_uncertainty_in"], found["across_uncertainty_in"]), scale_in)
    doubt = _in(doubt_in, unit, least=True)
    lines = [
        f"Repeat along {along} {unit.value}, across {across} {unit.value}, give or take {doubt} {unit.value}.",
        f"Drop {drop}; mirrors from top to bottom: {symmetry['top_to_bottom']}; from side to side: "
        f"{symmetry['side_to_side']}; the same upside down: {half}.",
        f"{found['repeats']} repeats were seen; confidence {found['confidence']:.0%}.",
        *(f"Look for yourself {_LOOK.get(close, close)}: the answer is close." for close in found["close"]),
        *found["notices"],
    ]
    if found["slanted"]:
        lines.append("The picture was taken at a slant; one from straight above is surer.")
    lines.append("Before you buy, measure ten repeats with a tape and divide by ten.")
    return Measured(values, tuple(lines))


_LOOK = {
    "top_to_bottom": "whether it mirrors from top to bottom",
    "side_to_side": "whether it mirrors from side to side",
    "half_turn": "whether it is the same upside down",
}


def _in(length_in: float, unit: Unit, *, least: bool = False) -> str:
    factor, places = {Unit.INCH: (1.0, 2), Unit.CENTIMETRE: (2.54, 2), Unit.MILLIMETRE: (25.4, 1)}[unit]
    value = length_in * factor
    if unit is not Unit.INCH:
        step = 0.05 if unit is Unit.CENTIMETRE else 0.5
        value = round(value / step) * step
    smallest = 10.0**-places
    return f"{max(value, smallest) if least else value:.{places}f}".rstrip("0").rstrip(".")
