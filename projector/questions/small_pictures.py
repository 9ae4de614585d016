"""Little pictures in plain letters beside questions that are easier to see than to say."""

from __future__ import annotations

DROP = (
    r"  0:  Y   Y   Y      1/2:  Y       Y",
    r"                               Y",
    r"      Y   Y   Y            Y       Y",
)
TOP_TO_BOTTOM = (
    r"  no:  /|-       yes:  /|-       slid:  /|-",
    r"       -----           -----            -------",
    r"       /|-             \|-                 \|-",
)
SIDE_TO_SIDE = (
    r"  no:  /|- : /|-     yes:  /|- : -|\     slid:  /|- :",
    "           :                   :                    : -|\\",
)
HALF_TURN = (
    r"  no:  /|-  turned  -|/      yes:  /S/  turned  /S/",
    r"       looks other                 looks the same",
)
WHERE_A_ROW_STANDS = (
    r"  top:  +-----+      foot:  +-----+      level:  +-----+",
    r"        | Y Y | <-          |     |              |     |  +-----+",
    r"        |     |             | Y Y | <-           | Y Y |--| Y Y |",
    r"        +-----+             +-----+              +-----+  +-----+",
)

DRAWINGS = {
    "drop": DROP,
    "top to bottom": TOP_TO_BOTTOM,
    "side to side": SIDE_TO_SIDE,
    "half turn": HALF_TURN,
    "row": WHERE_A_ROW_STANDS,
}
"""By the name that the schema gives them; keys whose drawing is not here are told in words alone."""
