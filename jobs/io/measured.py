"""What was measured of a print, put into the text of a job file; all else of the text stays.

The one place where a measured length is rounded and a measured drop is written: the command and the form both use it.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

import yaml

from jobs.io import scalars
from jobs.io.editing import Edit, edited, written
from jobs.io.node_places import Node, child, composed
from jobs.io.reader import parse_job
from jobs.model.choices import Symmetry, Unit
from jobs.model.groups import GROUPS
from jobs.model.job import Job
from jobs.model.numbers import simple_drop
from jobs.model.problems import Path
from jobs.model.records import dataclass
from jobs.model.schema import keys_before

PER_UNIT = {Unit.INCH: Fraction(1), Unit.CENTIMETRE: Fraction(100, 254), Unit.MILLIMETRE: Fraction(10, 254)}
"""Of the unit in an inch, upside down: inches of one unit."""
_FINEST = {Unit.INCH: Fraction(1, 1000), Unit.CENTIMETRE: Fraction(1, 100), Unit.MILLIMETRE: Fraction(1, 10)}
_OF_A_TAPE = (2, 4, 8, 16, 32)
"""Parts of an inch that are written as on a tape where a length falls on one, not as 12.375."""
_REPEAT: Path = ("cloth", "repeat")
_PRINT: Path = ("cloth", "print")
_MIRROR_OF = {"mirror_offset": "top_to_bottom", "mirror_offset_across": "side_to_side"}


@dataclass(frozen=True)
class Measured:
    """A print as measured, inches. Colours and a picture that are None are left as the file has them; a mirror line
    whose place is None has none in the file either."""

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


def measured_from(told: Mapping[str, Any]) -> Measured:
    """What ``measure --json`` tells of a print; of a second answer in it, with the symmetry of the first beside."""
    symmetry = told["symmetry"]
    return Measured(
        along_in=told["along_in"],
        across_in=told["across_in"],
        drop=told["drop"],
        top_to_bottom=Symmetry(symmetry["top_to_bottom"]),
        side_to_side=Symmetry(symmetry["side_to_side"]),
        half_turn=symmetry["half_turn"],
        mirror_offset_in=told.get("mirror_offset_in"),
        mirror_offset_across_in=told.get("mirror_offset_across_in"),
    )


def print_values(measured: Measured, unit: Unit) -> dict[Path, str | None]:
    """What is written at each key of the cloth, in a file of this unit; None where a key is taken out."""
    values: dict[Path, str | None] = {
        (*_REPEAT, "along"): _length(measured.along_in, unit),
        (*_REPEAT, "across"): _length(measured.across_in, unit),
        ("cloth", "drop"): drop_text(measured.drop),
        (*_PRINT, "top_to_bottom"): measured.top_to_bottom.value,
        (*_PRINT, "side_to_side"): measured.side_to_side.value,
        (*_PRINT, "half_turn"): scalars.yes_no(measured.half_turn),
    }
    offsets = (measured.mirror_offset_in, measured.mirror_offset_across_in)
    for (name, mirror), offset in zip(_MIRROR_OF.items(), offsets, strict=True):
        none = offset is None or values[(*_PRINT, mirror)] == Symmetry.NONE.value
        # An old place that the new print has no meaning for would be refused.
        values[(*_PRINT, name)] = None if none or offset is None else _length(offset, unit)
    if measured.ground is not None:
        motifs = ", ".join(f'"{one}"' for one in measured.motifs)
        values["cloth", "colour"] = f'"{measured.ground}"'
        values["cloth", "motif_colours"] = f"[{motifs}]" if motifs else None
    if measured.picture is not None:
        values["cloth", "picture"] = scalars.text(measured.picture)
    return values


def put_measured(text: str, measured: Measured, file: str = "job") -> str:
    """The text with the measured print in it, whether or not it is a whole job yet.

    Raises FileRefused where the text is no YAML, CannotEdit where its layout cannot be changed piecemeal.
    """
    return edited(text, _edits(text, measured, file), file)


def with_measured(text: str, measured: Measured, file: str) -> tuple[str, tuple[Change, ...]]:
    """The text with the measured print in it, and what was changed.

    Raises FileRefused where the text is no job before or after, CannotEdit where its layout cannot be changed.
    """
    parse_job(text, file)
    edits = _edits(text, measured, file)
    changes = tuple(Change(", ".join(map(str, e.path[1:])), written(text, e.path, file), e.value) for e in edits)
    new = edited(text, edits, file)
    parse_job(new, file)
    return new, changes


def _edits(text: str, measured: Measured, file: str) -> list[Edit]:
    unit = _unit(_said(text, ("units",), file))
    values = print_values(measured, unit)
    edits = [
        Edit(path, value, keys_before(Job, path))
        for path, value in values.items()
        if written(text, path, file) != value
    ]
    group = _said(text, (*_PRINT, "group"), file)
    if group is not None and not _fits(group, measured):
        # It goes only once the other keys of the print are there, so that the print is never left empty.
        edits.append(Edit((*_PRINT, "group"), None))
    for path, first in ((_REPEAT, "along"), (_PRINT, "top_to_bottom")):
        if _said(text, path, file):
            # One word stands where keys belong, as while a form is filled in: it makes way for them.
            edits.insert(0, Edit(path, f"{{{first}: {values[(*path, first)]}}}"))
    return edits


def _said(text: str, path: Path, file: str) -> str | None:
    """The single value at the path, without quotes; None where there is none or more than one."""
    node: Node | None = composed(text, file)
    for key in path:
        node = child(node, key) if node is not None else None
    return str(node.value) if isinstance(node, yaml.ScalarNode) else None


def _unit(said: str | None) -> Unit:
    return Unit(said) if said in [unit.value for unit in Unit] else Unit.INCH


def _fits(group: str, measured: Measured) -> bool:
    wanted = (measured.top_to_bottom, measured.side_to_side, measured.half_turn)
    return any((one.top_to_bottom, one.side_to_side, one.half_turn) == wanted for one in GROUPS.get(group, ()))


def drop_text(drop: float) -> str:
    """The drop as a simple fraction where it is one, else to three places."""
    simple = simple_drop(drop)
    return f"{drop % 1:.3f}" if simple is None else scalars.number(simple)


def _length(value_in: float, unit: Unit) -> str:
    """The length in the unit of the file, no finer than a photograph tells: a rounded one would add up over rows."""
    steps = round(value_in / float(PER_UNIT[unit] * _FINEST[unit]))
    exact = steps * _FINEST[unit]
    if unit is Unit.INCH and exact.denominator in _OF_A_TAPE:
        return scalars.length(exact, unit)
    return f"{float(exact):.4f}".rstrip("0").rstrip(".") or "0"
