"""From inches to centimetres and back: every length without a unit of its own written in the other unit."""

from __future__ import annotations

from jobs.job import Unit
from jobs.lengths import LengthError, parse_length
from jobs.writing import scalars
from jobs.writing.editing import Edit, edited
from jobs.writing.node_places import Path
from projector.desk.form.changes import scalar
from projector.desk.form.values import values_of

LENGTHS = frozenset(
    (
        *("width", "selvedge", "along", "across", "mirror_offset", "mirror_offset_across", "sold_by", "length"),
        *("first_row", "first_column", "from", "to", "heading", "hem", "side_hem", "seam", "squaring", "top_height"),
        *("finished_length", "rod", "returns", "overlap", "below_top", "above_foot", "spacing", "from_side"),
        *("stiffener", "tolerance", "thickness", "longest_piece", "size"),
    )
)
"""Keys whose values are lengths; those of the two numbers of a list are named by the list."""
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
        if _key(path) not in LENGTHS or not written.strip():
            continue
        try:
            length, other = (parse_length(written, one, signed=True) for one in (values.unit, _another(values.unit)))
        except LengthError:
            continue
        if length != other:
            told = unit is not Unit.INCH or length.denominator <= FINEST
            edits.append(Edit(path, scalar(scalars.length(length, unit) if told else f"{written} {values.unit.value}")))
    return edited(text, edits)


def _key(path: Path) -> str:
    return str(path[-1] if isinstance(path[-1], str) else path[-2] if len(path) > 1 else "")


def _another(unit: Unit) -> Unit:
    return Unit.INCH if unit is not Unit.INCH else Unit.CENTIMETRE
