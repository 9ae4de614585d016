"""The lines of a stop as DXF in table inches, a layer for each kind of line."""

from __future__ import annotations

import io

from projector.scene.marks import Hatch, Scene, Text

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
