"""What the window has other processes do: calibrate, cut, write papers; and what came of it, in words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from jobs.model.choices import Unit

MAIN = "projector.commands.main"
SEEN, TILE = "seen.png", "repeat.png"
"""Names of the photograph with what was found in it, and of the mean repeat."""


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


def photo(path: Path, scale: tuple[str, ...], folder: Path) -> Errand:
    """The print measured from a photograph, its ``scale`` as the command is told it; pictures go to the folder."""
    pictures = ("--picture", str(folder / SEEN), "--tile", str(folder / TILE))
    return Errand(("measure", str(path), *scale, *pictures, "--json"), "Measuring", "The print is being measured.")


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
