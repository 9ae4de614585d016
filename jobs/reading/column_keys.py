"""Where the columns of the print lie across: ``first_column`` and ``mirror_offset_across`` checked with the repeat."""

from __future__ import annotations

from jobs.job import Cloth, Symmetry, Unit
from jobs.lengths import show_length
from jobs.reading.fields import Fields


def check_columns(fields: Fields, cloth: Cloth, unit: Unit) -> None:
    """Note a column or a mirror line that is measured where there is none, or measured too far."""
    across = cloth.repeat.across if cloth.repeat else None
    if not fields.sound("repeat", "first_column", "print", "width"):
        return
    asked = [] if cloth.first_column is None else ["first_column"]
    if cloth.print.mirror_offset_across is not None:
        asked.append("print")
        if cloth.print.side_to_side is Symmetry.NONE:
            what = "mirror_offset_across: there is no side-to-side mirror line to be offset from"
            fields.refuse("print", what, "leave it out, or say side_to_side: mirror")
    if asked and across is None:
        what = "a place across the print needs the repeat across"
        fields.refuse(asked[0], what, "add repeat: {along: ..., across: ...} or leave it out")
    elif across is not None:
        for key, value in (("first_column", cloth.first_column), ("print", cloth.print.mirror_offset_across)):
            if value is not None and value >= across:
                name = "mirror_offset_across" if key == "print" else key
                what = f"{name} is not less than the repeat across, {show_length(across, unit)}"
                fields.refuse(key, what, "measure to the nearest one")
