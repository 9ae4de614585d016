"""What was measured of a print, put into the text of a job file; all else of the text stays."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.choices import Symmetry, Unit
from jobs.job import Job
from jobs.reading.groups import GROUPS
from jobs.reading.job_file import parse_job
from jobs.writing import scalars
from jobs.writing.editing import Edit, edited, written
from jobs.writing.node_places import Path

PER_UNIT = {Unit.INCH: Fraction(1), Unit.CENTIMETRE: Fraction(100, 254), Unit.MILLIMETRE: Fraction(10, 254)}
"""Of the unit in an inch, upside down: inches of one unit."""
_FINEST = {Unit.INCH: Fraction(1, 1000), Unit.CENTIMETRE: Fraction(1, 100), Unit.MILLIMETRE: Fraction(1, 10)}
_OF_A_TAPE = (2, 4, 8, 16, 32)
"""Parts of an inch that are written as on a tape where a length falls on one, not as 12.375."""
_SIMPLE = (Fraction(0), Fraction(1, 2), Fraction(1, 3), Fraction(2, 3), Fraction(1, 4), Fraction(3, 4))
_SIMPLE_WITHIN = 0.002
_SETTING = ("top_to_bottom", "side_to_side", "half_turn")


@dataclass(frozen=True)
class Measured:
    """A print as measured, inches: what None stands for is left as the file has it."""

    along_in: float
    across_in: float
    drop: float
    top_to_bottom: Symmetry
    side_to_side: Symmetry
    half_turn: bool
    mirror_offset_in: float | None = None
    mirror_offset_across_in: float | None = None
    ground: str | None = None
    motifs: tuple[str, ...] = ()
    picture: str | None = None


@dataclass(frozen=True)
class Change:
    """A key with what stood there (None: nothing) and what stands there now (None: taken out)."""

    key: str
    before: str | None
    after: str | None


def with_measured(text: str, measured: Measured, file: str) -> tuple[str, tuple[Change, ...]]:
    """The text with the measured print in it, and what was changed.

    Raises Problems where the text is no job before or after, CannotEdit where its layout cannot be changed piecemeal.
    """
    job = parse_job(text, file)
    edits = [edit for edit in _edits(text, job, measured) if written(text, edit.path, file) != edit.value]
    changes = tuple(Change(", ".join(map(str, e.path[1:])), written(text, e.path, file), e.value) for e in edits)
    new = edited(text, edits, file)
    parse_job(new, file)
    return new, changes


def _edits(text: str, job: Job, measured: Measured) -> list[Edit]:
    unit = job.unit
    edits = [
        Edit(("cloth", "repeat", "along"), _length(measured.along_in, unit), ("selvedge", "width")),
        Edit(("cloth", "repeat", "across"), _length(measured.across_in, unit), ("along",)),
        Edit(("cloth", "drop"), drop_text(measured.drop), ("repeat",)),
    ]
    kept_group = job.cloth.print.group is not None and _fits(job.cloth.print.group, measured)
    if job.cloth.print.group is not None and not kept_group:
        edits.append(Edit(("cloth", "print", "group"), None))
    stated = {
        "top_to_bottom": measured.top_to_bottom.value,
        "side_to_side": measured.side_to_side.value,
        "half_turn": scalars.yes_no(measured.half_turn),
    }
    for name, value in stated.items():
        edits.append(
            Edit(("cloth", "print", name), value, ("side_to_side", "top_to_bottom", "group", "drop", "repeat"))
        )
    edits += _offsets(measured, unit)
    # Old offsets that the new print has no meaning for would be refused.
    if measured.ground is not None:
        edits.append(Edit(("cloth", "colour"), f'"{measured.ground}"', ("shrinkage", "faces_alike", "print", "drop")))
        motifs = "[" + ", ".join(f'"{one}"' for one in measured.motifs) + "]" if measured.motifs else None
        edits.append(Edit(("cloth", "motif_colours"), motifs, ("colour",)))
    if measured.picture is not None:
        edits.append(Edit(("cloth", "picture"), scalars.text(measured.picture), ("motif_colours", "colour")))
    return edits if kept_group or job.cloth.print.group is None else sorted(edits, key=_group_last)


def _group_last(edit: Edit) -> bool:
    """A group goes only once the other keys of the print are there, so that the print is never left empty."""
    return edit.path[-1] == "group"


def _offsets(measured: Measured, unit: Unit) -> list[Edit]:
    found = (
        ("mirror_offset", measured.mirror_offset_in, measured.top_to_bottom),
        ("mirror_offset_across", measured.mirror_offset_across_in, measured.side_to_side),
    )
    edits = []
    for name, value, kind in found:
        path: Path = ("cloth", "print", name)
        if kind is Symmetry.NONE:
            edits.append(Edit(path, None))
        elif value is not None:
            edits.append(Edit(path, _length(value, unit), ("half_turn", "side_to_side", "top_to_bottom")))
    return edits


def _fits(group: str, measured: Measured) -> bool:
    wanted = (measured.top_to_bottom, measured.side_to_side, measured.half_turn)
    return any((one.top_to_bottom, one.side_to_side, one.half_turn) == wanted for one in GROUPS[group])


def drop_text(drop: float) -> str:
    """The drop as a simple fraction where it is one, else to three places."""
    for simple in _SIMPLE:
        if abs(drop - float(simple)) < _SIMPLE_WITHIN:
            return scalars.number(simple)
    return f"{drop:.3f}"


def _length(value_in: float, unit: Unit) -> str:
    """The length in the unit of the file, no finer than a photograph tells: a rounded one would add up over rows."""
    steps = round(value_in / float(PER_UNIT[unit] * _FINEST[unit]))
    exact = steps * _FINEST[unit]
    if unit is Unit.INCH and exact.denominator in _OF_A_TAPE:
        return scalars.length(exact, unit)
    return f"{float(exact):.4f}".rstrip("0").rstrip(".") or "0"
