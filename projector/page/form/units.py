"""From inches to centimetres and back: every length without a unit of its own written in the other unit."""

from __future__ import annotations

from jobs.io import scalars
from jobs.io.editing import Edit, edited
from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.lengths import LengthError, parse_length
from jobs.model.problems import Path
from jobs.model.schema import SIDES, Length, Two, key_at
from projector.page.form.changes import scalar
from projector.page.form.values import values_of

FINEST = 64
"""Parts of an inch on the finest tape."""


def in_unit(text: str, unit: Unit) -> str:
    """The text with its lengths in this unit, every one as long as before. Raises CannotEdit.

    A length that carries its own unit stays as it is written, and so does what is no length; one that no tape in inches
    can tell is written with the unit it was measured in.
    """
    values = values_of(text)
    edits = [Edit(("units",), unit.value, ("job",))]
    for path, written in values.texts.items():
        if not _is_length(path) or not written.strip():
            continue
        try:
            length, other = (parse_length(written, one, signed=True) for one in (values.unit, _another(values.unit)))
        except LengthError:
            continue
        if length != other:
            told = unit is not Unit.INCH or length.denominator <= FINEST
            edits.append(Edit(path, scalar(scalars.length(length, unit) if told else f"{written} {values.unit.value}")))
    return edited(text, edits)


def _is_length(path: Path) -> bool:
    key = key_at(Job, path[:-1] if path[-1] in SIDES and key_at(Job, path) is None else path)
    return key is not None and isinstance(key.kind, Length | Two)


def _another(unit: Unit) -> Unit:
    return Unit.INCH if unit is not Unit.INCH else Unit.CENTIMETRE
