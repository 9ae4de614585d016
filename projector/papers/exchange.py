"""For other programs: a plan as comma-separated values, the lines of a stop as DXF."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from fractions import Fraction

from jobs.model.choices import Run
from jobs.model.cuts import Placement
from jobs.model.plan import Plan
from projector.scene.marks import Hatch, Scene, Text

COLUMNS = (
    "id", "window", "hand", "panel", "number", "of", "length_in", "row_in", "way", "leading_selvedge", "piece",
    "start_in", "end_in", "top_in", "foot_in", "across_from_in", "across_to_in", "run", "top_selvedge", "leading_in",
    "return_in",
)  # fmt: skip


def plan_csv(plan: Plan) -> str:
    """The cuts in the order they are made, under a line of column names.

    A length is written as a decimal number where that is exact, otherwise as a fraction such as ``2362/25``; what a
    cut does not have is left empty.
    """
    held = io.StringIO()
    writer = csv.writer(held)
    writer.writerow(COLUMNS)
    writer.writerows(map(_fields, plan.placements))
    return held.getvalue()


def _fields(placed: Placement) -> Iterator[str]:
    cut = placed.cut
    sideways = not cut.top_edge.is_end
    yield from map(words, (cut.id, cut.window, cut.hand, cut.panel))
    yield from (str(cut.number), str(cut.of), number(cut.length))
    yield from (
        "" if cut.row is None else number(cut.row),
        cut.way,
        "" if sideways else cut.leading_edge,
        str(placed.piece),
    )
    yield from map(number, (placed.start, placed.end, placed.top, placed.foot, *cut.across))
    yield from (Run.SIDEWAYS, cut.top_edge) if sideways else (Run.UP, "")
    yield from (number(edge) if sideways else "" for edge in (placed.leading, placed.returning))


def words(name: str) -> str:
    """The name, behind an apostrophe where a spreadsheet would take it for a formula and reckon with it."""
    return f"'{name}" if name.startswith(("=", "+", "-", "@", "\t", "\r")) else name


def number(value: Fraction) -> str:
    """The value as text that ``Fraction`` reads back exactly: decimals where they end soon, a fraction elsewhere."""
    decimals = f"{float(value):.6f}".rstrip("0").rstrip(".")
    return decimals if Fraction(decimals) == value else str(value)


_COLOUR_INDEX = 7
"""White on black or black on white, as the reading program has it; the layers tell the lines apart."""


def dxf_text(scene: Scene) -> str:
    """The strokes and outlines as polylines and the letters as text, in table inches, x along the table, y away."""
    import ezdxf
    from ezdxf.enums import TextEntityAlignment
    from ezdxf.units import IN

    document = ezdxf.new("R2010")
    document.units = IN
    space = document.modelspace()
    for kind in dict.fromkeys(mark.kind for mark in scene.marks):
        document.layers.add(kind.value, color=_COLOUR_INDEX)
    for mark in scene.marks:
        look = {"layer": mark.kind.value}
        if isinstance(mark, Text):
            letters = space.add_text(mark.text, height=mark.height, rotation=mark.turn_deg, dxfattribs=look)
            letters.set_placement(mark.at, align=TextEntityAlignment.MIDDLE_CENTER)
        else:
            points = mark.outline if isinstance(mark, Hatch) else mark.points
            space.add_lwpolyline(points, close=isinstance(mark, Hatch), dxfattribs=look)
    held = io.StringIO()
    document.write(held)
    return held.getvalue()
